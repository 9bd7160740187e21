import { describe, expect, it } from 'vitest';
import { StudyFiles } from '../broken-study.js';

type Case = readonly [what: string, breakIt: (files: StudyFiles) => unknown, problem: string];

const cases: readonly Case[] = [
  [
    'a density in g/L',
    (f) => f.set('digestions.csv', 2, 'density g/mL', '1012'),
    'digestions.csv, row 2, column "density g/mL": found 1012; expected a density of a solution in g/mL, 0.7 to 2',
  ],
  [
    'a density of the internal-standard solution in g/L',
    (f) =>
      f.json('study.json', (plan) => {
        const solution = {
          massFractionMgPerKg: 500,
          relativeStandardUncertainty: 0,
          densityGPerML: 1000,
          source: 'book',
        };
        Object.assign(plan.internalStandard!, { solution });
      }),
    'study.json, key "internalStandard.solution.densityGPerML": found 1000; expected a density of a solution in g/mL, 0.7 to 2',
  ],
  [
    'a certified value in mg/kg under the unit g/100 g',
    (f) => f.set('references.csv', 2, 'unit', 'g/100 g'),
    'references.csv, row 2, column "value": found 1520; expected at most 100 g/100 g, the whole of the sample',
  ],
  [
    'a result of another method above the whole',
    (f) => f.set('comparison.csv', 2, 'value', '1480000'),
    'comparison.csv, row 2, column "value": found 1480000; expected at most 1000000 mg/kg, the whole of the sample',
  ],
  [
    'a solution that was read before it was fused',
    (f) => f.set('digestions.csv', 2, 'day', '2025-01-10'),
    'readings.csv, row 6, column "time": found "2025-01-09T09:08:00" (and in 1 more row(s)); expected 2025-01-10 or later, as digestion D-001 was fused that day',
  ],
  [
    'a dilution that was read before its digestion was fused',
    (f) => f.set('digestions.csv', 2, 'day', '2025-01-10'),
    'readings.csv, row 9, column "time": found "2025-01-09T09:10:00"; expected 2025-01-10 or later, as digestion D-001 was fused that day',
  ],
  [
    'a portion of ten times the nominal mass',
    (f) => f.set('digestions.csv', 2, 'crucible with portion g', '32.1002'),
    'digestions.csv, row 2, column "crucible with portion g": found 32.1002, a portion of 2 g; expected a portion about the nominal 0.2 g of the plan, within a factor of 5',
  ],
  [
    'a portion of a tenth of the nominal mass',
    (f) => f.set('digestions.csv', 2, 'crucible with portion g', '30.12'),
    'digestions.csv, row 2, column "crucible with portion g": found 30.12, a portion of 0.02 g; expected a portion about the nominal 0.2 g of the plan, within a factor of 5',
  ],
  [
    'a mass of flux in mg',
    (f) => f.set('digestions.csv', 3, 'flux g', '2000.3'),
    'digestions.csv, row 3, column "flux g": found 2000.3; expected a mass of flux about the nominal 2 g of the plan, within a factor of 5',
  ],
];

describe('checkPossibleValues', () => {
  it.each(cases)('names %s', async (_, breakIt, problem) => {
    const files = new StudyFiles();
    breakIt(files);
    expect(await files.problems()).toContain(problem);
  });

  it('lets a portion of four times the nominal mass and a reading on the day of the fusion pass', async () => {
    const files = new StudyFiles().set('digestions.csv', 2, 'crucible with portion g', '30.9');
    expect(await files.set('digestions.csv', 2, 'day', '2025-01-09').problems()).toEqual([]);
  });
});
