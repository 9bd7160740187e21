import type { StudyIndex } from '../study-index.js';

/**
 * The index with one reading noise a line for all samples of the run: three readings of one solution say next to nothing about
 * their spread, forty solutions of one matrix do. Where no solution was read twice, the noise of the validation stands for it.
 * Blanks and check solutions keep their own where they have one.
 *
 * @see JCGM 100:2008, 4.2.4 (pooled estimate of variance)
 */
export function withPooledNoise(
  index: StudyIndex,
  validation: Pick<StudyIndex, 'lineNoise' | 'commonNoise'>,
): StudyIndex {
  const samples = new Set(
    index.records.digestions.flatMap(({ kind, sample }) => (kind === 'blank' ? [] : [sample])),
  );
  const apart = [...index.readingNoise].filter(([key]) => !samples.has(key.slice(0, key.indexOf('|'))));
  return {
    ...index,
    readingNoise: new Map(apart),
    lineNoise: new Map([...validation.lineNoise, ...index.lineNoise]),
    // Read once each, lines cannot be seen to deviate alike.
    commonNoise: index.lineNoise.size > 0 ? index.commonNoise : validation.commonNoise,
  };
}
