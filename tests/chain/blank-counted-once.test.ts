import { describe, expect, it } from 'vitest';
import { type BlankAmount, type BlankScaling, procedureBlank } from '../../src/chain/blank.js';
import type { Calibration } from '../../src/chain/calibration.js';
import {
  amountSources,
  type ResultObservation,
  resultAmount,
  resultModel,
  resultValue,
} from '../../src/chain/result-model.js';
import { mean } from '../../src/statistics/descriptive/mean.js';
import { propagate } from '../../src/uncertainty/propagate.js';
import { type RandomStream, randomStream } from '../../src/uncertainty/random-stream.js';
import { calibration, observation } from './hand-computed/chain-example.js';

/** Invented: the sample holds nothing, so that its content is that of a blank; each has a blank of its own about 0.013 mg. */
const truth = {
  blankMg: 0.013,
  ownMg: 0.003,
  intercept: 0.002,
  slope: 0.05,
  solutionG: 100.104,
  evaporation: 1.0005,
};
/** Standard deviations of a mean ratio, and of intercept and slope as each run's calibration finds them. */
const scatter = { reading: 1e-3, intercept: 1e-3, slope: 1e-4 };
const fluxes = [1.6, 1.7, 1.8, 1.9, 1.95, 2, 2, 2.05, 2.1, 2.2, 2.3, 2.4];

function calibrated(run: string, random: RandomStream): Calibration {
  return {
    ...calibration(
      'mg/kg',
      truth.intercept + scatter.intercept * random.normal(),
      truth.slope + scatter.slope * random.normal(),
    ),
    run,
    varianceIntercept: scatter.intercept ** 2,
    varianceSlope: scatter.slope ** 2,
    covariance: 0,
  };
}

/** A digestion without portion content: its own blank, read with noise in a run whose calibration is not the true one. */
function digested(
  line: Calibration,
  fluxG: number,
  perFlux: boolean,
  random: RandomStream,
): ResultObservation {
  const own = (truth.blankMg + truth.ownMg * random.normal()) * (perFlux ? fluxG / 2 : 1);
  const content = (own * 1000 * truth.evaporation) / truth.solutionG;
  const meanRatio = truth.intercept + truth.slope * content + scatter.reading * random.normal();
  const drift = { factor: 1, standardUncertainty: 0, weight: 0, checks: [0, 0] as const };
  return observation(
    { meanRatio, ratioStandardUncertainty: scatter.reading, calibration: line, drift },
    { fluxG },
  );
}

function resultOf(scaling: BlankScaling, runs: readonly string[], random: RandomStream): ResultObservation {
  const lines = new Map([...new Set(['own', ...runs])].map((run) => [run, calibrated(run, random)]));
  const perFlux = scaling === 'per flux mass';
  const blanks = runs.map((run, i): BlankAmount => {
    const found = digested(lines.get(run)!, fluxes[i]!, perFlux, random);
    return { digestion: `B-${i}`, amountMg: resultAmount(found), fluxG: fluxes[i]!, ...amountSources(found) };
  });
  return { ...digested(lines.get('own')!, 2, perFlux, random), blank: procedureBlank(blanks, scaling) };
}

const twelve = (runOf: (i: number) => string) => fluxes.map((_, i) => runOf(i));
const arrangements = {
  'all in the run of the result': twelve(() => 'own'),
  'all in one other run': twelve(() => 'other'),
  'in three other runs': twelve((i) => `other ${i % 3}`),
  'in four runs, one of them that of the result': twelve((i) => (i % 4 === 0 ? 'own' : `other ${i % 4}`)),
  'each in a run of its own': twelve((i) => `other ${i}`),
};
const cases = (Object.keys(arrangements) as (keyof typeof arrangements)[]).flatMap((where) =>
  (['per digestion', 'per flux mass', 'per flux mass and digestion'] as const).map(
    (scaling) => [where, scaling] as const,
  ),
);

describe('a result at the content of the blanks, on the components route', () => {
  it.each(cases)('is as uncertain as it scatters: twelve blanks %s, %s', (where, scaling) => {
    const random = randomStream(7, 'blank counted once', where, scaling);
    const draws = 4000;
    const squares: number[] = [];
    const variances: number[] = [];
    for (let draw = 0; draw < draws; draw++) {
      const found = resultOf(scaling, arrangements[where], random);
      squares.push(resultValue(found) ** 2);
      if (draw >= 200) continue;
      const { model, inputs, correlations } = resultModel(found, { route: 'components', unexplained: null });
      variances.push(propagate(model, inputs, correlations).outputs[0]!.standardUncertainty ** 2);
    }
    const ratio = mean(variances) / mean(squares);
    // Of 4000 squares √(2/4000) = 2.2 %, of 200 variances with at least 10 degrees of freedom √(2/10/200) = 3.2 %: 3.9 % together.
    expect(Math.abs(ratio - 1)).toBeLessThan(4 * 0.039);
  });
});
