import { describe, expect, it } from 'vitest';
import { zirconRoutineRun } from '../../src/scenario/routine/zircon-routine-run.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../src/studies/matrix/validate-matrix.js';
import { measuredSolutions } from '../../src/studies/measured-solutions.js';
import { modelledDeviation, pooledNoise } from '../../src/studies/reading-noise.js';
import { routineResults } from '../../src/studies/routine-results/routine-results.js';

const line = { intercept: 0.5, slope: 2 };
const model = { floor: 0.3, relative: 0.01 };

describe('noise of readings', () => {
  it('follows the signal model from its floor to its relative part', () => {
    // Content 0: 2 · 0.3. Content 40: 2 · √(0.3² + 0.4²) = 1.
    expect(modelledDeviation(model, line, 0.5)).toBe(0.6);
    expect(modelledDeviation(model, line, 80.5)).toAgreeWithin(1, 1e-15);
    // The signal is 10 times the ratio: content 40 at the ratio 8.05, where the ratio scatters a tenth as far.
    expect(modelledDeviation(model, line, 8.05, 10)).toAgreeWithin(0.1, 1e-14);
  });

  it('pools solutions far apart in content by what the model says of each', () => {
    const readings = (solution: string, ratios: readonly number[]) =>
      ratios.map((intensity, i) => ({
        run: 'R-1',
        position: solution === 'low' ? 1 : 2,
        time: '2026-03-02T13:00:00',
        solution,
        analyte: 'Ca',
        lineNm: 300,
        repeat: i + 1,
        intensity,
        internalStandardIntensity: null,
      }));
    const solutions = measuredSolutions([
      ...readings('low', [-0.1, 1.1]),
      ...readings('high', [79.5, 80.5, 81.5]),
    ]);
    // Low: s² = 0.72, model 0.6² = 0.36, 1 degree of freedom. High: s² = 1, model 1, 2 degrees of freedom.
    const found = pooledNoise(solutions, ({ meanRatio }) => modelledDeviation(model, line, meanRatio))!;
    expect(found.factor).toAgreeWithin(Math.sqrt((0.72 / 0.36 + 2 * 1) / 3), 1e-14);
    expect(found.degreesOfFreedom).toBe(3);
    expect(pooledNoise(measuredSolutions(readings('low', [1])), () => 1)).toBeNull();
  });
});

describe('noise of readings in a routine run', () => {
  const seed = 77;
  const validation = validateMatrix(zirconPigmentStudy({ seed }).records);
  const { records } = zirconRoutineRun(seed);
  const usual = routineResults(records, validation);
  const calcium = (of: typeof usual, sample: string) =>
    of.results.find((r) => r.sample === sample && r.analyte === 'Ca')!;
  const low = records.digestions.find((d) => d.sample === 'RS-30')!.digestion;

  it.each([[[40, 55, 70]], [[0, 12, 25]], [[0, 0, 0]]])(
    'does not grow for all samples because one holds next to nothing: %j counts/s',
    (intensities) => {
      const readings = records.readings.map((r) =>
        r.solution === low && r.analyte === 'Ca' ? { ...r, intensity: intensities[r.repeat - 1]! } : r,
      );
      const found = routineResults({ ...records, readings }, validation);
      const before = calcium(usual, 'RS-02').standardUncertainty!;
      expect(calcium(found, 'RS-02').standardUncertainty).toAgreeWithin(before, 0.02);
      // The floor of the signal is left to a reading of nothing.
      expect(calcium(found, 'RS-30').standardUncertainty).toBeGreaterThan(0.3 * before);
    },
  );

  it('is that of the validation where no solution was read twice: fewer readings give no smaller uncertainty', () => {
    const readings = records.readings.filter((r) => r.repeat === 1);
    const found = routineResults({ ...records, readings }, validation);
    for (const sample of ['RS-02', 'RS-05', 'RS-14'])
      expect(calcium(found, sample).standardUncertainty).toBeGreaterThan(
        1.1 * calcium(usual, sample).standardUncertainty!,
      );
  });
});
