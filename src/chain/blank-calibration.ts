import type { Correlation, InputQuantity } from '../uncertainty/input-quantity.js';
import type { Calibration } from './calibration.js';
import { identifier, type ModelFragment, recordedValue } from './model-fragment.js';
import { calibrationUnits } from './signal-inputs.js';
import { type SolutionSignal, signalLabel } from './solution-signal.js';

/** Derivatives of a quantity by intercept and slope of a calibration. */
export interface CalibrationEffect {
  readonly byIntercept: number;
  readonly bySlope: number;
}

/** How the amount found in a digestion, mg, moves with the calibration of one of its signals. */
export interface AmountByCalibration extends CalibrationEffect {
  readonly label: string;
  readonly calibration: Calibration;
}

/** What is known of the amount found in a digestion beside its value. */
export interface AmountSources {
  /** Absent: the calibrations behind the amount are not followed. */
  readonly calibrations?: readonly AmountByCalibration[];
  /** Standard uncertainty of the amount by the scatter of its readings alone, mg; absent: not known. */
  readonly readingMg?: number;
}

/** Coefficients of a blank: per mass of flux and per digestion. A rule has one of them or both. */
export const blankCoefficients = ['b_f', 'b_0'] as const;
export type BlankCoefficient = (typeof blankCoefficients)[number];

/** What stands for a coefficient in the names of inputs. */
const suffixes: Readonly<Record<BlankCoefficient, string>> = { b_f: 'f', b_0: '0' };

/** How the coefficients of a blank move with one calibration that some of its blanks were read with. */
export interface BlankByCalibration {
  readonly label: string;
  readonly calibration: Calibration;
  /** A coefficient that the rule does not have is absent. */
  readonly effects: Readonly<Partial<Record<BlankCoefficient, CalibrationEffect>>>;
}

function coefficientsOf(by: Readonly<Partial<Record<BlankCoefficient, unknown>>>): BlankCoefficient[] {
  return blankCoefficients.filter((b) => by[b] !== undefined);
}

/** Calibrations of a blank: those that a result is read with too, and those of other runs. */
export function splitCalibrations(
  calibrations: readonly BlankByCalibration[],
  signals: readonly SolutionSignal[],
): { readonly shared: readonly BlankByCalibration[]; readonly others: readonly BlankByCalibration[] } {
  const isShared = ({ label, calibration }: BlankByCalibration) =>
    signals.some(
      (s) =>
        signalLabel(s) === label && s.lineNm === calibration.lineNm && s.calibration.run === calibration.run,
    );
  return {
    shared: calibrations.filter(isShared),
    others: calibrations.filter((each) => !isShared(each)),
  };
}

/** Names of the inputs by which one calibration enters a coefficient of the blank. */
export function calibrationEffectNames(coefficient: BlankCoefficient, label: string) {
  const l = identifier(label);
  const which = suffixes[coefficient];
  return {
    intercept: `b0_${l}`,
    slope: `b1_${l}`,
    interceptReference: `b0_ref_${l}`,
    slopeReference: `b1_ref_${l}`,
    byIntercept: `g0_${which}_${l}`,
    bySlope: `g1_${which}_${l}`,
  };
}

/** Name of the input for what a signal's calibrations in other runs do to a coefficient of the blank. */
export function otherCalibrationsName(coefficient: BlankCoefficient, label: string): string {
  return `cal_other_${suffixes[coefficient]}_${identifier(label)}`;
}

/**
 * What the calibrations do to each coefficient of a blank, as quantities of value 0: an error of the calibration that the result
 * shares moves both, so that near the blank it cancels; those of the other runs in which blanks were read come as one quantity a
 * signal, which `correlatedResult` takes apart.
 *
 * @param analyte identifier of the analyte
 * @see JCGM 100:2008, 5.2 and F.1.2.3: one quantity that enters two terms
 */
export function blankCalibrationFragment(
  calibrations: readonly BlankByCalibration[],
  analyte: string,
  signals: readonly SolutionSignal[],
): ModelFragment & { readonly terms: Readonly<Partial<Record<BlankCoefficient, string>>> } {
  const { shared, others } = splitCalibrations(calibrations, signals);
  const byLabel = [...new Set(others.map(({ label }) => label))].map((label) =>
    others.filter((each) => each.label === label),
  );
  const coefficients = coefficientsOf(calibrations[0]?.effects ?? {});
  const terms: Partial<Record<BlankCoefficient, string>> = {};
  for (const b of coefficients) terms[b] = `cal_${suffixes[b]}_${analyte}`;
  return {
    terms,
    equations: coefficients.map((b) => ({
      name: terms[b]!,
      description: `what the calibrations do to the blank ${wordsOf(b)} that was read with them`,
      unit: unitOf(b),
      expression: [
        ...shared.map(({ label }) => sharedTerm(b, label)),
        ...byLabel.map(([first]) => otherCalibrationsName(b, first!.label)),
      ].join(' + '),
    })),
    inputs: [
      ...shared.flatMap((each) => sharedInputs(each, signals)),
      ...byLabel.flatMap((ofLabel) => otherInputs(ofLabel, signals[0]!.spectrometer)),
    ],
    correlations: coefficients.length < 2 ? [] : byLabel.flatMap(otherCorrelation),
  };
}

function wordsOf(coefficient: BlankCoefficient): string {
  return coefficient === 'b_f' ? 'per mass of flux' : 'per digestion';
}

function unitOf(coefficient: BlankCoefficient): string {
  return coefficient === 'b_f' ? 'mg/g' : 'mg';
}

function sharedTerm(coefficient: BlankCoefficient, label: string): string {
  const name = calibrationEffectNames(coefficient, label);
  const ofIntercept = `${name.byIntercept} * (${name.intercept} - ${name.interceptReference})`;
  return `${ofIntercept} + ${name.bySlope} * (${name.slope} - ${name.slopeReference})`;
}

/** What stands beside intercept and slope: their estimates, and how much the blank moves with them. */
function sharedInputs(
  { label, calibration, effects }: BlankByCalibration,
  signals: readonly SolutionSignal[],
): InputQuantity[] {
  const units = calibrationUnits(signals.find((s) => signalLabel(s) === label)!);
  const source = `calibration of ${label}, run ${calibration.run}`;
  const exact = (name: string, description: string, unit: string, value: number) =>
    recordedValue(name, description, unit, value, 'blank', source);
  return coefficientsOf(effects).flatMap((b) => {
    const name = calibrationEffectNames(b, label);
    const { byIntercept, bySlope } = effects[b]!;
    const { intercept, slope } = calibration;
    const derivative = (of: string) => `derivative of the blank ${wordsOf(b)} by the ${of} of ${label}`;
    return [
      exact(name.interceptReference, `estimate of the intercept of ${label}`, units.intercept, intercept),
      exact(name.slopeReference, `estimate of the slope of ${label}`, units.slope, slope),
      exact(name.byIntercept, derivative('intercept'), quotient(unitOf(b), units.intercept), byIntercept),
      exact(name.bySlope, derivative('slope'), quotient(unitOf(b), units.slope), bySlope),
    ];
  });
}

/** Unit of a derivative by a quantity whose unit is 1 or a plain quotient. */
function quotient(unit: string, divisor: string): string {
  if (divisor === '1') return unit;
  const [above, below] = unit.split('/');
  const [divisorAbove, divisorBelow] = divisor.split('/');
  return `${above} ${divisorBelow}/${below === undefined ? divisorAbove : `(${below} ${divisorAbove})`}`;
}

function otherInputs(ofLabel: readonly BlankByCalibration[], spectrometer: string): InputQuantity[] {
  const [{ label, effects }] = ofLabel as readonly [BlankByCalibration];
  const runs = ofLabel.map(({ calibration }) => calibration.run).join(', ');
  return coefficientsOf(effects).map((b) => ({
    ...recordedValue(
      otherCalibrationsName(b, label),
      `what the calibrations of ${label} in other runs do to the blank ${wordsOf(b)}`,
      unitOf(b),
      0,
      'blank',
      `calibrations of ${label} with the blanks of runs ${runs}`,
    ),
    standardUncertainty: Math.sqrt(covarianceBy(ofLabel, b, b)),
    degreesOfFreedom: Math.min(...ofLabel.map(({ calibration }) => calibration.degreesOfFreedom)),
    distribution: { kind: 't' },
    evaluation: 'A',
    equipment: spectrometer,
    // Unlike the calibration of the result's own run: one and the same in all its results, it is in no scatter over runs.
    withinPrecision: false,
    jointSource: `calibration ${label}`,
  }));
}

function otherCorrelation(ofLabel: readonly BlankByCalibration[]): Correlation[] {
  const { label } = ofLabel[0]!;
  const sigma = Math.sqrt(covarianceBy(ofLabel, 'b_f', 'b_f') * covarianceBy(ofLabel, 'b_0', 'b_0'));
  if (sigma === 0) return [];
  // Of one calibration alone it is near ±1, and rounding must not take it beyond.
  const coefficient = Math.max(-1, Math.min(1, covarianceBy(ofLabel, 'b_f', 'b_0') / sigma));
  return [
    {
      first: otherCalibrationsName('b_f', label),
      second: otherCalibrationsName('b_0', label),
      coefficient,
    },
  ];
}

/** Covariance of two coefficients of a blank by independent calibrations. */
function covarianceBy(
  calibrations: readonly BlankByCalibration[],
  first: BlankCoefficient,
  second: BlankCoefficient,
): number {
  return calibrations.reduce((sum, { calibration, effects }) => {
    const [a, b] = [effects[first]!, effects[second]!];
    const mixed = a.byIntercept * b.bySlope + a.bySlope * b.byIntercept;
    const ofIntercept = a.byIntercept * b.byIntercept * calibration.varianceIntercept;
    const ofSlope = a.bySlope * b.bySlope * calibration.varianceSlope;
    return sum + ofIntercept + mixed * calibration.covariance + ofSlope;
  }, 0);
}
