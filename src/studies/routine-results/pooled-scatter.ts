import { pooledReading } from '../measured-solutions.js';
import { type StudyIndex, solutionKey } from '../study-index.js';

/**
 * The index with one reading scatter a line for all samples of the run: three readings of one solution say next to nothing about
 * their spread, forty solutions of one matrix do. Blanks and check solutions keep their own.
 *
 * @see JCGM 100:2008, 4.2.4 (pooled estimate of variance)
 */
export function withPooledScatter(index: StudyIndex): StudyIndex {
  const sampleOf = new Map(
    index.records.digestions.flatMap((row) =>
      row.kind === 'blank'
        ? []
        : [row.digestion, ...(index.dilutionsOf.get(row.digestion) ?? []).map((d) => d.dilution)].map(
            (solution) => [solution, row.sample] as const,
          ),
    ),
  );
  const readingScatter = new Map(index.readingScatter);
  const lines = new Map<string, typeof index.measured>();
  for (const m of index.measured) {
    if (!sampleOf.has(m.solution)) continue;
    const key = `${m.analyte}|${m.lineNm}`;
    lines.set(key, [...(lines.get(key) ?? []), m]);
  }
  for (const group of lines.values()) {
    const pooled = pooledReading(group, true);
    if (pooled === null) continue;
    for (const m of group)
      readingScatter.set(solutionKey(sampleOf.get(m.solution)!, m.analyte, m.lineNm), pooled);
  }
  return { ...index, readingScatter };
}
