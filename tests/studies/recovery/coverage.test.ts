import { describe, expect, it } from 'vitest';
import { type ResultObservation, resultModel, resultValue } from '../../../src/chain/result-model.js';
import { studyRecoveries } from '../../../src/studies/recovery/study-recoveries.js';
import type { StudyIndex } from '../../../src/studies/study-index.js';
import { coverageFactor } from '../../../src/uncertainty/coverage-factor.js';
import { propagate } from '../../../src/uncertainty/propagate.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';
import { calibration, observation } from '../../chain/hand-computed/chain-example.js';
import { smallStudy } from '../../records/small-study.js';

/** Invented: the method recovers 95 %; each digestion scatters by 0.8 %, the certificate is off by 0.6 % at random. */
const truth = { sample: 200, recovery: 0.95, scatter: 0.008, certificate: 0.006, stock: 0.02 };
const certified = 150;

const exactLine = {
  ...calibration('mg/kg', 0.002, 0.05),
  varianceIntercept: 0,
  varianceSlope: 0,
  covariance: 0,
};
const { densityMeasurement: _none, ...withoutDensity } = observation({}).solution;

/** A digestion of a material of `content` mg/kg whose signal is off by the factor `error`. */
function digestionOf(name: string, content: number, error: number): ResultObservation {
  const at = (meanRatio: number) =>
    observation(
      {
        solution: name,
        meanRatio,
        ratioStandardUncertainty: 0,
        drift: { factor: 1.02, standardUncertainty: 0, weight: 0.5, checks: [0, 1] },
        calibration: exactLine,
        stock: { name: 'Al-1000', relativeStandardUncertainty: truth.stock, source: 'certificate' },
      },
      { digestion: name, solution: withoutDensity },
    );
  // The signal is linear in the content: two points give its scale.
  const [low, high] = [resultValue(at(0.01)), resultValue(at(0.02))];
  return at(0.01 + (0.01 * (content * error - low)) / (high - low));
}

const index = {
  records: {
    plan: {
      ...smallStudy.plan,
      basis: 'dry',
      analytes: smallStudy.plan.analytes.map((a) => ({ ...a, unit: 'mg/kg' })),
      recovery: [{ analyte: 'Al', from: 'reference materials', materials: ['RM-1'], correct: 'always' }],
    },
    references: [
      {
        ...{ material: 'RM-1', analyte: 'Al', value: certified, unit: 'mg/kg' },
        ...{ expandedUncertainty: 2 * truth.certificate * certified, coverageFactor: 2, certificate: 'C-77' },
        ...{ minimumPortionG: 0.1, basis: 'dry', expiry: '2099-01-01' },
      },
    ],
    spikes: [],
  },
} as unknown as StudyIndex;

/** One laboratory: its errors drawn anew, its experiment on six days, its result corrected. */
function laboratory(seed: number) {
  const draw = (label: string) => randomStream(seed, 'recovery coverage', label).normal();
  const stock = 1 / (1 + truth.stock * draw('stock'));
  const content = certified * (1 + truth.certificate * draw('certificate'));
  const error = (name: string) => stock * truth.recovery * (1 + truth.scatter * draw(name));
  const results = [1, 2, 3, 4, 5, 6].map((day) => {
    const made = digestionOf(`C-${day}`, content, error(`C-${day}`));
    return {
      ...{ digestion: `C-${day}`, sample: 'RM-1', kind: 'reference', day: `2026-03-0${day}` },
      ...{ analyte: 'Al', value: resultValue(made), observation: made },
    };
  });
  const recovery = studyRecoveries(index, results).get('Al')!.factor;
  const found = digestionOf('D-1', truth.sample, error('D-1'));
  const deviation = (factor: typeof recovery) => {
    const corrected = { ...found, basis: { ...found.basis, recovery: factor } };
    const { model, inputs } = resultModel(corrected, {
      route: 'components',
      unexplained: { relative: truth.scatter, degreesOfFreedom: 30, source: 'invented' },
    });
    const { estimate, standardUncertainty, effectiveDegreesOfFreedom } = propagate(model, inputs, [])
      .outputs[0]!;
    return {
      z: (estimate - truth.sample) / standardUncertainty,
      k: coverageFactor(effectiveDegreesOfFreedom, 0.95),
    };
  };
  return {
    shared: deviation(recovery),
    // The same with the stock's error taken as another one in the experiment than in the result.
    apart: deviation({ ...recovery, lasting: [], furtherLasting: truth.stock }),
  };
}

describe('results corrected for a recovery found with the same stock', () => {
  const laboratories = Array.from({ length: 400 }, (_, i) => laboratory(i + 1));
  const meanSquare = (which: 'shared' | 'apart') =>
    laboratories.reduce((sum, l) => sum + l[which].z ** 2, 0) / laboratories.length;

  it('cover the true content as often as they say', () => {
    const covered = laboratories.filter(({ shared: { z, k } }) => Math.abs(z) <= k).length;
    // 99.9 % of binomial(400, 0.95): 380 ± 14.
    expect(covered).toBeGreaterThanOrEqual(366);
    expect(covered).toBeLessThanOrEqual(394);
    // χ² of 400: 99.9 % within 0.78 and 1.25, ends a little up for what t distributions add.
    expect(meanSquare('shared')).toBeGreaterThan(0.78);
    expect(meanSquare('shared')).toBeLessThan(1.3);
  });

  it('would state several times their error if the covariance with the experiment were left out', () => {
    // (0.8 % and 0.7 %)² against 2·(2 %)² more.
    expect(meanSquare('apart')).toBeLessThan(0.2);
  });
});
