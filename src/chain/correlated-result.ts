import { InputError } from '../errors.js';
import type { CorrelatedResult } from '../uncertainty/correlated-results/correlated-result.js';
import { resultFromInputs } from '../uncertainty/correlated-results/result-from-inputs.js';
import type { Correlation, InputQuantity } from '../uncertainty/input-quantity.js';
import { locateCorrelations } from '../uncertainty/model/correlation-matrix.js';
import { propagate } from '../uncertainty/propagate.js';
import {
  blankCoefficients,
  type CalibrationEffect,
  otherCalibrationsName,
  splitCalibrations,
} from './blank-calibration.js';
import { identifier } from './model-fragment.js';
import type { ResultModel, ResultObservation } from './result-model.js';
import { coefficientKey, sharedKey } from './shared-quantity.js';
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
  const ofBlanks = otherCalibrations(observation, model, output.sensitivities);
  const spread = [
    ...model.inputs.flatMap((input) =>
      ofBlanks.replaced.has(input.name)
        ? []
        : spreadOf(input, output.sensitivities[input.name]!, observation),
    ),
    ...ofBlanks.spread,
  ];
  const correlations = model.correlations.filter(({ first }) => !ofBlanks.replaced.has(first));
  const inputs = spread.map(({ input }) => input);
  return resultFromInputs({
    name: `${observation.analyte} in ${observation.digestion}`,
    unit: observation.basis.unit,
    estimate: output.estimate,
    inputs,
    sensitivities: spread.map(({ sensitivity }) => sensitivity),
    correlations: locateCorrelations(inputs, [...correlations, ...ofBlanks.correlations]),
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
    const key = sharedKey(input, observation);
    return read === undefined
      ? [{ input, sensitivity, key }]
      : readingParts(input, sensitivity, key, read, observation.signals[0]!);
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

/**
 * The scatter of readings: one pooled estimate a line, however many solutions it is used for. The part that all lines read together
 * share stands by itself. Within one result, lines read together count as read apart, as they do in its model: a further line of the
 * analyte, or an interferent, which enters by its small coefficient.
 */
function readingParts(
  input: InputQuantity,
  sensitivity: number,
  key: string,
  read: SolutionSignal,
  own: SolutionSignal,
): SpreadInput[] {
  const { analyte, lineNm, readTogether } = read;
  const ofLine = { ...input, jointSource: `readings of ${analyte} at ${lineNm} nm` };
  if (readTogether === undefined) return [{ input: ofLine, sensitivity, key }];
  const { place, standardUncertainty, degreesOfFreedom } = readTogether;
  const share = standardUncertainty / input.standardUncertainty;
  const common = {
    ...{ ...input, name: `${input.name} read together`, degreesOfFreedom },
    jointSource: 'readings of the internal standard',
  };
  const isApart = read !== own && place === own.readTogether?.place;
  return [
    { input: ofLine, sensitivity: sensitivity * Math.sqrt(1 - share * share), key },
    {
      input: common,
      sensitivity: sensitivity * share,
      key: isApart ? `${key} read together` : `internal standard@${place}`,
    },
  ];
}

/** What the calibrations of other runs do to the blank, calibration by calibration: results of those runs rest on them too. */
function otherCalibrations(
  { blank, signals }: ResultObservation,
  { inputs }: ResultModel,
  sensitivities: Readonly<Record<string, number>>,
) {
  const byName = new Map(inputs.map((input) => [input.name, input]));
  const replaced = new Set<string>();
  const spread: SpreadInput[] = [];
  const correlations: Correlation[] = [];
  for (const { label, calibration, effects } of splitCalibrations(blank?.calibrations ?? [], signals)
    .others) {
    const sums = blankCoefficients.flatMap((b) => {
      const input = byName.get(otherCalibrationsName(b, label));
      return input === undefined || input.standardUncertainty === 0 ? [] : [{ input, effect: effects[b]! }];
    });
    if (sums.length === 0) continue;
    for (const { input } of sums) replaced.add(input.name);
    const { run, lineNm, varianceIntercept, varianceSlope, covariance, degreesOfFreedom } = calibration;
    const part = (symbol: 'b0' | 'b1', variance: number, derivative: keyof CalibrationEffect) => ({
      input: {
        ...sums[0]!.input,
        name: `${symbol}_${identifier(label)} of run ${run}`,
        standardUncertainty: Math.sqrt(variance),
        degreesOfFreedom,
      },
      sensitivity: sums.reduce(
        (total, { input, effect }) => total + sensitivities[input.name]! * effect[derivative],
        0,
      ),
      key: coefficientKey(`${symbol}_${identifier(label)}`, run, lineNm),
    });
    const intercept = part('b0', varianceIntercept, 'byIntercept');
    const slope = part('b1', varianceSlope, 'bySlope');
    spread.push(intercept, slope);
    const sigma = Math.sqrt(varianceIntercept * varianceSlope);
    if (sigma > 0) {
      const names = { first: intercept.input.name, second: slope.input.name };
      correlations.push({ ...names, coefficient: covariance / sigma });
    }
  }
  return { replaced, spread, correlations };
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
