import { describe, expect, it } from 'vitest';
import { resultValue } from '../../src/chain/result-model.js';
import type { SolutionSignal } from '../../src/chain/solution-signal.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { mean } from '../../src/statistics/descriptive/mean.js';
import { standardDeviation } from '../../src/statistics/descriptive/standard-deviation.js';
import { commonNoise } from '../../src/studies/common-noise.js';
import { evaluateStudy } from '../../src/studies/evaluate-study.js';
import type { MeasuredSolution } from '../../src/studies/measured-solutions.js';
import { studyCovariance } from '../../src/studies/result-covariance/study-covariance.js';
import { covarianceOf } from '../../src/uncertainty/correlated-results/correlated-result.js';
import { randomStream } from '../../src/uncertainty/random-stream.js';
import { withInternalStandardNoise } from '../support/internal-standard-noise.js';

function solution(position: number, analyte: string, ratios: readonly number[]): MeasuredSolution {
  return {
    ...{ run: 'R', position, timeHours: 0, solution: `S${position}`, analyte, lineNm: 300 },
    ...{ ratios, meanRatio: mean(ratios), readingStandardDeviation: standardDeviation(ratios) },
    internalStandard: 4e5,
  };
}

/** Two numbers that differ by rounding alone, in parts of the second. */
function expectEqual(found: number, wanted: number, within: number): void {
  expect(Math.abs(found / wanted - 1)).toBeLessThan(within);
}

describe('noise that lines read together share', () => {
  it('is the mean product of their deviations, relative to the ratios: two lines by hand', () => {
    // Deviations −0.02, 0, 0.02 of 2 and −0.03, 0.01, 0.02 of 4: products of the relative ones
    // (−0.01·−0.0075 + 0·0.0025 + 0.01·0.005)/2 = (7.5e-5 + 5e-5)/2 = 6.25e-5.
    const lines = [solution(1, 'Zr', [1.98, 2, 2.02]), solution(1, 'Si', [3.97, 4.01, 4.02])];
    const found = commonNoise(lines, ({ meanRatio }) => 0.01 * meanRatio)!;
    // Deviations of 0.02 from 2 bear the rounding of 2, 4e-16: 2e-14 of themselves.
    expectEqual(found.relative ** 2, 6.25e-5, 1e-13);
  });

  it('is none where lines deviate apart, were read once, or stand alone', () => {
    const opposite = [solution(1, 'Zr', [1.98, 2, 2.02]), solution(1, 'Si', [4.02, 4.01, 3.97])];
    expect(commonNoise(opposite, () => 0.02)).toBeNull();
    const apart = [solution(1, 'Zr', [1.98, 2, 2.02]), solution(2, 'Si', [3.97, 4.01, 4.02])];
    expect(commonNoise(apart, () => 0.02)).toBeNull();
    const once = [1, 2].map((at) => ({ ...solution(1, `E${at}`, [1, 2]), ratios: [1], meanRatio: 1 }));
    expect(commonNoise(once, () => 0.02)).toBeNull();
  });

  it.each([
    [0.004, 0.002],
    [0.004, 0.008],
  ])('is found again where it was put in: %f beside %f of each line', (common, own) => {
    // Six lines of very different ratio, 100 places of 3 readings, 40 times: the mean of the variances within 3 of its standard errors.
    const stream = randomStream(11, common, own);
    const levels = [2, 1, 0.3, 0.05, 0.01, 0];
    const floor = 2e-5;
    const deviation = (ratio: number) => Math.hypot(floor, own * ratio);
    const variances = Array.from({ length: 40 }, () => {
      const measured = Array.from({ length: 100 }, (_, position) => {
        const shared = [1, 2, 3].map(() => common * stream.normal());
        return levels.map((level, line) =>
          solution(
            position,
            `E${line}`,
            shared.map((e) => level * (1 + e) + deviation(level) * stream.normal()),
          ),
        );
      }).flat();
      const all = ({ meanRatio }: MeasuredSolution) => Math.hypot(deviation(meanRatio), common * meanRatio);
      return (commonNoise(measured, all)?.relative ?? 0) ** 2;
    });
    const standardError = standardDeviation(variances) / Math.sqrt(variances.length);
    expect(Math.abs(mean(variances) - common ** 2)).toBeLessThan(3 * standardError);
    expect(standardError).toBeLessThan(0.05 * common ** 2);
  });
});

describe('results of one digestion whose readings share the noise of the internal standard', () => {
  // The invented readings have none of it, so it is put in.
  const { records } = zirconPigmentStudy({ seed: 4 });
  const tau = 0.006;
  const study = evaluateStudy(withInternalStandardNoise(records, tau));
  const covariance = studyCovariance(study, 'components');
  const of = (digestion: string, analyte: string) =>
    study.results.find((r) => r.digestion === digestion && r.analyte === analyte)!;
  const [one] = study.results.filter((r) => r.sample === 'ZP-2' && r.analyte === 'Si' && r.value !== null);
  const other = study.results.find((r) => r.sample === 'ZP-2' && r.digestion !== one!.digestion)!;
  const common = (digestion: string, analyte: string) => {
    const result = covariance.resultOf(of(digestion, analyte));
    return [...result.parts].filter(([key]) => key.startsWith('internal standard@'));
  };

  it('covary by it: each by its relative size over the square root of the readings', () => {
    expect(study.index.commonNoise!.relative).toBeGreaterThan(0.9 * tau);
    expect(study.index.commonNoise!.relative).toBeLessThan(1.1 * tau);
    const placeOf = (analyte: string) =>
      of(one!.digestion, analyte).observation.signals[0]!.readTogether!.place;
    const together = records.plan.analytes.flatMap(({ analyte }) =>
      analyte !== 'Si' && placeOf(analyte) === placeOf('Si') ? ['Si', analyte] : [],
    );
    expect(together.length).toBeGreaterThan(1);
    const [first, second] = together.map((a) => covariance.resultOf(of(one!.digestion, a)));
    const [[, a], [, b]] = [
      common(one!.digestion, together[0]!)[0]!,
      common(one!.digestion, together[1]!)[0]!,
    ];
    // The result is linear in its ratio, so that a difference of two results is exact: 3 readings, moved by their share together.
    const { observation } = of(one!.digestion, together[0]!);
    const [signal, ...others] = observation.signals as [SolutionSignal];
    const moved = (share: number) =>
      resultValue({
        ...observation,
        signals: [{ ...signal, meanRatio: signal.meanRatio * (1 + share) }, ...others],
      });
    const step = 0.01;
    const byShare = (moved(step) - moved(-step)) / (2 * step);
    // Rounding of the results over a hundredth of them: 1e-16/0.01.
    expectEqual(a.value, (byShare * study.index.commonNoise!.relative) / Math.sqrt(3), 1e-12);
    expect(a.value * b.value).toBeGreaterThan(0);
    const without = {
      ...second!,
      parts: new Map([...second!.parts].filter(([key]) => !key.startsWith('internal standard@'))),
    };
    // The covariances are about twice their difference, so that this bears their rounding of some 1e-16 twice.
    expectEqual(covarianceOf(first!, second!) - covarianceOf(first!, without), a.value * b.value, 1e-13);
  });

  it('leave the uncertainty of each as it was, and share nothing with another digestion', () => {
    const key = (digestion: string) => common(digestion, 'Si').map(([name]) => name);
    expect(key(one!.digestion)).toHaveLength(1);
    expect(key(other.digestion)).not.toEqual(key(one!.digestion));
    const result = covariance.resultOf(of(one!.digestion, 'Si'));
    const { ratioStandardUncertainty, readTogether } = of(one!.digestion, 'Si').observation.signals[0]!;
    const own = [...result.parts].find(([name]) => name.startsWith('ratio_Si@'))![1];
    const part = common(one!.digestion, 'Si')[0]![1];
    const share = readTogether!.standardUncertainty / ratioStandardUncertainty;
    expect(share).toBeGreaterThan(0.3);
    expect(share).toBeLessThanOrEqual(1);
    // A root, a quotient and a sum of squares: some roundings of 1e-16.
    expectEqual(part.value / Math.hypot(part.value, own.value), Math.sign(part.value) * share, 1e-14);
  });
});
