import { InputError } from '../errors.js';
import type { CorrelatedResult } from '../uncertainty/correlated-results/correlated-result.js';
import { resultFromInputs } from '../uncertainty/correlated-results/result-from-inputs.js';
import type { InputQuantity } from '../uncertainty/input-quantity.js';
import { locateCorrelations } from '../uncertainty/model/correlation-matrix.js';
import { propagate } from '../uncertainty/propagate.js';
import { identifier } from './model-fragment.js';
import type { ResultModel, ResultObservation } from './result-model.js';
import { sharedKey } from './shared-quantity.js';
import { type SolutionSignal, signalLabel } from './solution-signal.js';

/**
 * The result of one digestion as a sum over independent sources, so that the covariance with every other result is at hand: a
 * drift factor is taken apart into the check solutions it was interpolated between, a calibration into two independent parts.
 *
 * @param model of `observation`, of one digestion, by either counting route
 * @throws InputError the model does not belong to the observation, or the law of propagation refuses it
 */
export function correlatedResult(observation: ResultObservation, model: ResultModel): CorrelatedResult {
  const { outputs } = propagate(model.model, model.inputs, model.correlations);
  const output = outputs[0]!;
  const spread = model.inputs.flatMap((input) =>
    spreadOf(input, output.sensitivities[input.name]!, observation),
  );
  const inputs = spread.map(({ input }) => input);
  return resultFromInputs({
    name: `${observation.analyte} in ${observation.digestion}`,
    unit: observation.basis.unit,
    estimate: output.estimate,
    inputs,
    sensitivities: spread.map(({ sensitivity }) => sensitivity),
    correlations: locateCorrelations(inputs, model.correlations),
    keys: spread.map(({ key }) => key),
  });
}

interface SpreadInput {
  readonly input: InputQuantity;
  readonly sensitivity: number;
  readonly key: string;
}

function spreadOf(input: InputQuantity, sensitivity: number, observation: ResultObservation): SpreadInput[] {
  if (input.standardUncertainty === 0) return [];
  if (input.name === `R_${identifier(observation.analyte)}`)
    return recoveryParts(input, sensitivity, observation);
  const read = observation.signals.find((s) => input.name === `ratio_${identifier(signalLabel(s))}`);
  const drifting = observation.signals.find((s) => input.name === `drift_${identifier(signalLabel(s))}`);
  if (drifting === undefined) {
    // The scatter of readings is one pooled estimate a line, however many solutions it is used for.
    const group =
      read === undefined ? {} : { jointSource: `readings of ${read.analyte} at ${read.lineNm} nm` };
    return [{ input: { ...input, ...group }, sensitivity, key: sharedKey(input, observation) }];
  }
  const line = `${drifting.analyte}@${drifting.calibration.run}/${drifting.lineNm}`;
  return checksOf(drifting).map(({ check, weight }) => ({
    input: {
      ...input,
      name: `${input.name} check ${check + 1}`,
      jointSource: `check solutions of ${drifting.analyte} at ${drifting.lineNm} nm`,
    },
    sensitivity: sensitivity * weight,
    key: `check ${check + 1} of ${line}`,
  }));
}

/** A recovery as the scatter that it shares with those of other analytes, and the rest for itself. */
function recoveryParts(
  input: InputQuantity,
  sensitivity: number,
  observation: ResultObservation,
): SpreadInput[] {
  const key = sharedKey(input, observation);
  const scatter = observation.basis.recovery?.scatter;
  if (scatter === undefined) return [{ input, sensitivity, key }];
  const { standardUncertainty: u } = input;
  const shared = scatter.shared.map(
    (source, k): SpreadInput => ({
      input: {
        ...input,
        name: `${input.name} scatter ${k + 1}`,
        degreesOfFreedom: scatter.degreesOfFreedom,
        jointSource: 'scatter of recoveries',
      },
      sensitivity: (sensitivity * source.value) / u,
      key: source.key,
    }),
  );
  const rest = u ** 2 - scatter.shared.reduce((sum, source) => sum + source.value ** 2, 0);
  const own = { ...input, degreesOfFreedom: Number.POSITIVE_INFINITY };
  return [...shared, { input: own, sensitivity: (sensitivity * Math.sqrt(Math.max(0, rest))) / u, key }];
}

/** Share of each check solution in the uncertainty of a drift factor; the squares add up to 1. */
function checksOf({ drift }: Pick<SolutionSignal, 'drift'>): { check: number; weight: number }[] {
  const slopes = new Map<number, number>();
  const add = (check: number, slope: number) => slopes.set(check, (slopes.get(check) ?? 0) + slope);
  add(drift.checks[0], 1 - drift.weight);
  add(drift.checks[1], drift.weight);
  add(0, -drift.factor);
  const length = Math.hypot(...slopes.values());
  if (length === 0) throw new InputError('drift factor: found an uncertainty that no check solution has');
  return [...slopes].map(([check, slope]) => ({ check, weight: slope / length }));
}
