import { describe, expect, it } from 'vitest';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { resultsOf } from '../../../src/studies/matrix/matrix-context.js';
import { trendStudy } from '../../../src/studies/matrix/trend-study.js';

describe('trend along the sequence', () => {
  it('leaves out a run whose results have no mean above 0, as contaminated blanks can make them', () => {
    // With the eight contaminated calcium blanks back in, this seed has a run of negative calcium.
    const { records } = zirconPigmentStudy({ seed: 77 });
    const levels = ['ZP-1', 'ZP-2', 'ZP-3'];
    const isKept = ({ sample }: { readonly sample: string }) =>
      levels.includes(sample) || /blank/.test(sample);
    const digestions = records.digestions.filter(isKept);
    const gone = new Set(records.digestions.filter((row) => !isKept(row)).map((row) => row.digestion));
    const [dilutions, lost] = [false, true].map((isGone) =>
      records.dilutions.filter((row) => gone.has(row.digestion) === isGone),
    );
    for (const { dilution } of lost!) gone.add(dilution);
    const readings = records.readings.filter((row) => !gone.has(row.solution));
    // Every content is reported here, so that the levels stay in.
    const analytes = records.plan.analytes.map((scope) => ({ ...scope, lowestReported: 1e-9 }));
    const changed = { digestions, dilutions: dilutions!, readings, references: [], exclusions: [] };
    const study = evaluateStudy({ ...records, ...changed, plan: { ...records.plan, analytes } });
    const inRun = (run: string) =>
      levels
        .flatMap((sample) => resultsOf(study, 'Ca', 'sample', sample))
        .filter((r) => r.run === run)
        .map((r) => r.value);
    expect(Math.min(...inRun('R-06'))).toBeLessThan(0);
    const trend = trendStudy(study).find((t) => t.trend.finding.analyte === 'Ca')!;
    expect(trend.rows.some((row) => row.run === 'R-06')).toBe(false);
    expect(trend.rows.some((row) => row.run === 'R-05')).toBe(true);
  });

  it('leaves out a sample of less than is reported: its scatter would hide the place', () => {
    const { records } = zirconPigmentStudy({ seed: 77 });
    const study = evaluateStudy(records);
    const low = new Set(
      records.readings
        .filter((row) => row.solution.startsWith('E-') && row.analyte === 'Ti')
        .map((row) => `${row.run}|${row.position}`),
    );
    const names = new Map(records.digestions.map((row) => [row.digestion, row.sample]));
    const ofSample = (sample: string) =>
      records.readings
        .filter((row) => names.get(row.solution) === sample)
        .map((row) => `${row.run}|${row.position}`);
    const trend = trendStudy(study).find((t) => t.trend.finding.analyte === 'Ti')!;
    const places = new Set(trend.rows.map(({ key }) => key));
    expect(ofSample('ZP-0').filter((place) => places.has(place))).toEqual([]);
    expect(ofSample('QRM-3').every((place) => places.has(place) && low.has(place))).toBe(true);
  });
});
