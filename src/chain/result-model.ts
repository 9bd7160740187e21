import { InputError } from '../errors.js';
import type { Correlation, InputQuantity } from '../uncertainty/input-quantity.js';
import type { MeasurementModel } from '../uncertainty/measurement-model.js';
import { type Blank, blankMass } from './blank.js';
import type { AmountSources } from './blank-calibration.js';
import { blankFragment } from './blank-fragment.js';
import { recoveryFragment } from './corrections/recovery-fragment.js';
import {
  type CountingRoute,
  componentsFactor,
  countedOnce,
  meanOfDigestions,
  type ObservedPrecision,
  precisionFactor,
  type UnexplainedVariation,
} from './counting-route.js';
import { type Dilution, dilutionFragment } from './dilution.js';
import { type SolutionWeighing, solutionFragment, solutionMass } from './dissolution.js';
import { apparentContent, apparentPerContent, contentPerRatio, emissionFragment } from './emission.js';
import { correctInterference, type InterferenceCoefficient } from './interference.js';
import { interferenceFragment } from './interference-fragment.js';
import {
  combinedContent,
  combinedName,
  type LineCombination,
  lineCombinationFragment,
} from './line-combination.js';
import { analyteMass, massFraction, massFractionFragment, type SolidBasis } from './mass-fraction.js';
import { identifier, joinFragments, type StatedFactor } from './model-fragment.js';
import { type SolutionOrigin, sensitivityName } from './solution/internal-standard.js';
import { type SolutionSignal, signalLabel, stockInputName } from './solution-signal.js';
import { type PortionWeighing, portionFragment, portionMass } from './weighing.js';

/** Everything one result of one digestion rests on, from balance readings and intensities. */
export interface ResultObservation {
  readonly digestion: string;
  readonly analyte: string;
  /** Signals of the analyte and of every analyte that disturbs it, directly or through others. */
  readonly signals: readonly SolutionSignal[];
  /** By label of the signals. */
  readonly interference: readonly InterferenceCoefficient[];
  /** Absent: the result comes from the own line alone. */
  readonly lines?: LineCombination;
  /** Dilutions by the name their factor bears in the signals. */
  readonly dilutions: Readonly<Record<string, Dilution>>;
  readonly portion: PortionWeighing;
  readonly solution: SolutionWeighing;
  readonly fluxG: number;
  readonly blank: Blank | null;
  readonly fluxLot: StatedFactor | null;
  readonly basis: SolidBasis;
}

/** How the random parts of a budget are counted, with the scatter that the route rests on. */
export type RandomParts =
  | { readonly route: 'components'; readonly unexplained: UnexplainedVariation | null }
  | { readonly route: 'precision'; readonly observed: ObservedPrecision };

/** The measurement model of a result with its inputs: ready for the law of propagation or for simulation. */
export interface ResultModel {
  readonly route: CountingRoute;
  readonly model: MeasurementModel;
  readonly inputs: readonly InputQuantity[];
  readonly correlations: readonly Correlation[];
}

/** Mass fraction of the analyte in the solution of the digestion, mg/kg, corrected for interference. */
export function solutionContent(observation: ResultObservation): number {
  const origin = originOf(observation);
  return contentOf(
    observation,
    Object.fromEntries(observation.signals.map((s) => [signalLabel(s), apparentContent(s, origin)])),
  );
}

/** From the apparent contents by label; linear in them. */
function contentOf(observation: ResultObservation, apparent: Readonly<Record<string, number>>): number {
  const contents = correctInterference(apparent, within(observation));
  const own = contents[observation.analyte]!;
  const { lines } = observation;
  return lines === undefined ? own : combinedContent(own, contents[lines.secondLabel]!, lines);
}

/** The result, in the unit and oxide form of its basis: the numeric twin of `resultModel`. */
export function resultValue(observation: ResultObservation): number {
  const amount = analyteMass(
    solutionContent(observation),
    solutionMass(observation.solution),
    observation.basis,
  );
  const blank =
    observation.blank === null ? 0 : blankMass(observation.blank, observation.fluxG, observation.fluxLot);
  return massFraction(amount, blank, portionMass(observation.portion), observation.basis);
}

/** Amount of analyte in the solution, mg, blank not subtracted: what a procedure blank is made of. */
export function resultAmount(observation: ResultObservation): number {
  return analyteMass(solutionContent(observation), solutionMass(observation.solution), observation.basis);
}

/** What the amount of `resultAmount` rests on that other digestions share or repeat: calibrations, and the scatter of its readings. */
export function amountSources(observation: ResultObservation): Required<AmountSources> {
  const origin = originOf(observation);
  const { signals, solution, basis } = observation;
  const none = Object.fromEntries(signals.map((s) => [signalLabel(s), 0]));
  const amountOf = (label: string, apparent: number) =>
    analyteMass(contentOf(observation, { ...none, [label]: apparent }), solutionMass(solution), basis);
  const byReading = signals.map((signal) => {
    const perRatio = apparentPerContent(signal, origin) * contentPerRatio(signal, origin);
    return amountOf(signalLabel(signal), perRatio) * signal.ratioStandardUncertainty;
  });
  return {
    calibrations: signals.map((signal) => {
      const label = signalLabel(signal);
      const { calibration } = signal;
      // content = (ratio − b0)/b1, and all that follows is linear in it.
      return {
        label,
        calibration,
        byIntercept: -amountOf(label, apparentPerContent(signal, origin)) / calibration.slope,
        bySlope: -amountOf(label, apparentContent(signal, origin)) / calibration.slope,
      };
    }),
    readingMg: Math.hypot(...byReading),
  };
}

function originOf({ solution, dilutions, basis }: ResultObservation): SolutionOrigin {
  return { solution, dilutions, evaporation: basis.evaporation };
}

function within(observation: ResultObservation): InterferenceCoefficient[] {
  const measured = new Set(observation.signals.map(signalLabel));
  return observation.interference.filter((k) => measured.has(k.analyte) && measured.has(k.interferent));
}

/**
 * The equation of the chain for one result, written out step by step with every input.
 *
 * @param digestions number of digestions of one run whose mean is the result; `observation` is one of them
 * @throws InputError the analyte has no signal, an interferent has none, or the route is mixed
 */
export function resultModel(
  observation: ResultObservation,
  random: RandomParts,
  digestions = 1,
): ResultModel {
  const own = observation.signals.find((s) => signalLabel(s) === observation.analyte);
  if (own === undefined)
    throw new InputError(`digestion ${observation.digestion}: no signal of ${observation.analyte}`);
  const names = observation.signals.map(signalLabel);
  const missing = observation.interference.find(
    (k) => names.includes(k.analyte) && !names.includes(k.interferent),
  );
  if (missing !== undefined) {
    throw new InputError(
      `digestion ${observation.digestion}: ${missing.interferent} disturbs ${missing.analyte} but was not measured`,
    );
  }
  const factor = randomFactor(random);
  const physical = joinFragments([
    portionFragment(observation.portion),
    solutionFragment(observation.solution),
    ...Object.entries(observation.dilutions).map(([name, dilution]) =>
      dilutionFragment(name, dilution, sensitivityName(dilution.balance, observation.solution)),
    ),
    ...observation.signals.map((signal) => emissionFragment(signal, originOf(observation))),
    interferenceFragment(names, within(observation)),
    ...(observation.lines === undefined
      ? []
      : [lineCombinationFragment(observation.analyte, observation.lines)]),
    ...(observation.blank === null
      ? []
      : [
          blankFragment(
            observation.blank,
            observation.fluxG,
            observation.digestion,
            observation.fluxLot,
            stockInputName(own),
            identifier(observation.analyte),
            observation.signals,
          ),
        ]),
  ]);
  const final = massFractionFragment(
    identifier(observation.analyte),
    observation.lines === undefined
      ? `c_${identifier(observation.analyte)}`
      : combinedName(observation.analyte),
    observation.basis,
    observation.blank !== null,
    factor === null ? [] : [factor.name],
  );
  const { recovery } = observation.basis;
  const inputsOfBoth = [...physical.inputs, ...final.inputs];
  const joined = joinFragments([
    physical,
    ...(recovery === undefined ? [] : [recoveryFragment(recovery, observation, inputsOfBoth)]),
    final,
  ]);
  const single = meanOfDigestions(joined.inputs, digestions);
  const inputs = countedOnce(factor === null ? single : [...single, factor], random.route);
  const uncertain = new Set(
    inputs.filter((input) => input.standardUncertainty > 0).map((input) => input.name),
  );
  return {
    route: random.route,
    model: {
      title: `Mass fraction of ${observation.basis.oxide?.formula ?? observation.analyte}, digestion ${observation.digestion}`,
      equations: joined.equations,
      outputs: ['w'],
    },
    inputs,
    correlations: joined.correlations.filter((c) => uncertain.has(c.first) && uncertain.has(c.second)),
  };
}

function randomFactor(random: RandomParts): InputQuantity | null {
  if (random.route === 'precision') return precisionFactor(random.observed);
  return random.unexplained === null ? null : componentsFactor(random.unexplained);
}
