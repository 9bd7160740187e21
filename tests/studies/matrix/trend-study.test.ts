import { describe, expect, it } from 'vitest';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { resultsOf } from '../../../src/studies/matrix/matrix-context.js';
import { trendStudy } from '../../../src/studies/matrix/trend-study.js';

describe('trend along the sequence', () => {
  it('leaves out a run whose results have no mean above 0, as contaminated blanks can make them', () => {
    // With the eight contaminated calcium blanks back in, this seed has a run of negative calcium.
    const { records } = zirconPigmentStudy({ seed: 77 });
    const isKept = ({ sample }: { readonly sample: string }) =>
      sample.startsWith('ZP') || sample.includes('blank');
    const digestions = records.digestions.filter(isKept);
    const kept = new Set(digestions.map(({ digestion }) => digestion));
    const gone = new Set(records.digestions.filter((row) => !isKept(row)).map(({ digestion }) => digestion));
    const dilutions = records.dilutions.filter((row) => kept.has(row.digestion));
    const goneSolutions = new Set([
      ...gone,
      ...records.dilutions.filter((row) => gone.has(row.digestion)).map(({ dilution }) => dilution),
    ]);
    const readings = records.readings.filter((row) => !goneSolutions.has(row.solution));
    const study = evaluateStudy({
      ...records,
      digestions,
      dilutions,
      readings,
      references: [],
      exclusions: [],
    });
    const inRun = (run: string) =>
      ['ZP-1', 'ZP-2', 'ZP-3']
        .flatMap((sample) => resultsOf(study, 'Ca', 'sample', sample))
        .filter((r) => r.run === run)
        .map((r) => r.value);
    expect(Math.min(...inRun('R-06'))).toBeLessThan(0);
    const trend = trendStudy(study).find((t) => t.trend.finding.analyte === 'Ca')!;
    expect(trend.rows.some((row) => row.run === 'R-06')).toBe(false);
    expect(trend.rows.some((row) => row.run === 'R-05')).toBe(true);
  });
});
