import type { Distribution, InputQuantity } from '../uncertainty/input-quantity.js';
import type { ModelEquation } from '../uncertainty/measurement-model.js';

/** What a balance certificate and specification state; standard deviations and standard uncertainties unless the name says otherwise. */
export interface BalanceSpecification {
  readonly repeatabilityG: number;
  readonly scaleIntervalG: number;
  /** Largest deviation from linearity, ± in g (rectangular). */
  readonly linearityG: number;
  /** Relative standard uncertainty of the sensitivity (adjustment). */
  readonly sensitivityRelative: number;
  /** Largest eccentricity error, ± relative to the load (rectangular). */
  readonly eccentricityRelative: number;
  /** Relative change of sensitivity per kelvin. */
  readonly temperatureCoefficientPerK: number;
  /** Half-width of room temperature around that of the adjustment, in K (rectangular). */
  readonly temperatureHalfWidthK: number;
  /** Largest relative drift since adjustment, ± (rectangular). */
  readonly driftRelative: number;
}

/** A balance of the register. */
export interface Balance {
  readonly id: string;
  readonly specification: BalanceSpecification;
  readonly certificate: string;
}

/** Name of a sensitivity factor: `S_p` of the balance for portions, `S_v` of the one for vessels where it is another, `S_<id>` of others. */
export type SensitivityName = string;

const rectangular = (halfWidth: number): Distribution => ({ kind: 'rectangular', halfWidth });

/**
 * Errors of one balance reading as inputs with estimate 0: repeatability, rounding (scale interval/√12), linearity and
 * eccentricity. Repeatability and rounding vary from weighing to weighing, so observed precision holds them;
 * linearity and eccentricity recur with the same loads and places.
 *
 * @param symbol identifier of the reading, such as `crucible`
 * @param loadG balance reading in g, scales eccentricity
 * @see EURAMET Calibration Guide No. 18 (non-automatic weighing instruments), from memory
 */
export function readingErrors(
  balance: Balance,
  symbol: string,
  reading: string,
  loadG: number,
): InputQuantity[] {
  const spec = balance.specification;
  const u = readingErrorUncertainties(spec, loadG);
  const source = `balance ${balance.id}, certificate ${balance.certificate}`;
  const error = (
    key: string,
    name: string,
    standardUncertainty: number,
    distribution: Distribution,
    withinPrecision: boolean,
    sourceKind: 'certificate' | 'specification',
  ): InputQuantity => {
    // Written out field by field: the budgets of a day make these by the hundred thousand.
    const input = {
      name: `${key}_${symbol}`,
      description: `${name} of the reading "${reading}"`,
      unit: 'g',
      estimate: 0,
      standardUncertainty,
      degreesOfFreedom: Number.POSITIVE_INFINITY,
      distribution,
      evaluation: 'B' as const,
      sourceKind,
      source,
      step: 'weighing',
      equipment: balance.id,
      withinPrecision,
    };
    return withinPrecision ? { ...input, variesWith: 'digestion' } : input;
  };
  const eccentricity = rectangular(spec.eccentricityRelative * loadG);
  return [
    error('rep', 'repeatability', u.rep, { kind: 'normal' }, true, 'certificate'),
    error('round', 'rounding', u.round, rectangular(spec.scaleIntervalG / 2), true, 'specification'),
    error('lin', 'linearity', u.lin, rectangular(spec.linearityG), false, 'certificate'),
    error('ecc', 'eccentricity', u.ecc, eccentricity, false, 'certificate'),
  ];
}

/** Standard uncertainties, g, of the errors of one reading by the beginning of their names: see `readingErrors`. */
export function readingErrorUncertainties(
  specification: BalanceSpecification,
  loadG: number,
): { readonly rep: number; readonly round: number; readonly lin: number; readonly ecc: number } {
  return {
    rep: specification.repeatabilityG,
    round: specification.scaleIntervalG / Math.sqrt(12),
    lin: specification.linearityG / Math.sqrt(3),
    ecc: (specification.eccentricityRelative * loadG) / Math.sqrt(3),
  };
}

/** Error of one reading, `e_<symbol>`: the sum of the inputs that `readingErrors` lists. */
export function readingErrorEquation(symbol: string, reading: string): ModelEquation {
  return {
    name: `e_${symbol}`,
    description: `error of the reading "${reading}"`,
    unit: 'g',
    expression: `rep_${symbol} + round_${symbol} + lin_${symbol} + ecc_${symbol}`,
  };
}

/**
 * Sensitivity factor of a balance, estimate 1: adjustment, temperature since adjustment, drift. One input a balance:
 * it cancels between two masses weighed on the same one.
 *
 * @see EURAMET Calibration Guide No. 18, from memory
 */
export function sensitivityFactor(balance: Balance, name: SensitivityName): InputQuantity {
  return {
    name,
    description: `sensitivity of balance ${balance.id}: adjustment, temperature, drift`,
    unit: '1',
    estimate: 1,
    standardUncertainty: sensitivityUncertainty(balance.specification),
    degreesOfFreedom: Number.POSITIVE_INFINITY,
    distribution: { kind: 'normal' },
    evaluation: 'B',
    sourceKind: 'certificate',
    source: `balance ${balance.id}, certificate ${balance.certificate}`,
    step: 'weighing',
    equipment: balance.id,
    withinPrecision: false,
  };
}

/** Relative standard uncertainty of a balance's sensitivity: adjustment, temperature since adjustment, drift. */
export function sensitivityUncertainty(specification: BalanceSpecification): number {
  const { sensitivityRelative, temperatureCoefficientPerK, temperatureHalfWidthK, driftRelative } =
    specification;
  const temperature = (temperatureCoefficientPerK * temperatureHalfWidthK) / Math.sqrt(3);
  return Math.hypot(sensitivityRelative, temperature, driftRelative / Math.sqrt(3));
}

/**
 * Relative standard uncertainty, %, of a net mass from two readings on one balance: what decides whether a balance
 * serves for a portion.
 *
 * @param loadG larger of the two loads, g
 * @param netG net mass, g
 */
export function netMassRelativeUncertainty(
  specification: BalanceSpecification,
  loadG: number,
  netG: number,
): number {
  const s = specification;
  const temperature = (s.temperatureCoefficientPerK * s.temperatureHalfWidthK) / Math.sqrt(3);
  const sensitivity = Math.hypot(s.sensitivityRelative, temperature, s.driftRelative / Math.sqrt(3)) * netG;
  const reading = Math.hypot(s.repeatabilityG, s.scaleIntervalG / Math.sqrt(12), s.linearityG / Math.sqrt(3));
  const eccentricity = (s.eccentricityRelative * loadG) / Math.sqrt(3);
  return (100 * Math.hypot(Math.SQRT2 * reading, Math.SQRT2 * eccentricity, sensitivity)) / netG;
}
