import { roundsTo } from '../../uncertainty/reference-case/evaluate-reference-case.js';

/** How a computed figure stands to the printed one, from the strictest kind to none. */
export const agreementKinds = [
  'agrees',
  'within simulation error',
  'within printed uncertainty',
  'explained exception',
  'differs',
] as const;

export type AgreementKind = (typeof agreementKinds)[number];

/** What a figure may claim beside rounding to the printed one. */
export interface AgreementAllowance {
  /** Standard error of a simulated figure against the printed one. */
  readonly standardError?: number | undefined;
  /** Uncertainty printed beside the figure, for an abridged value. */
  readonly printedUncertainty?: number | undefined;
  /** What exact calculation gives where the printed figure follows from rounded parts or former constants. */
  readonly exactValue?: number | undefined;
}

/** Exact values of exceptions are written with 12 digits or more. */
const exactTolerance = 1e-9;

/**
 * The strictest kind of agreement that holds. A known exception is compared with its own exact value: without that it differs,
 * however well the deviation from the printed figure is explained.
 *
 * @param computed figure computed on this machine
 * @param printed figure with all its digits
 * @returns `agrees` where `computed` is within half a unit of the last printed digit
 * @example
 * agreementOf(92.4665724705, '93', { exactValue: 92.46657247051765 }) // => 'explained exception'
 * @example
 * agreementOf(92.6, '93', { exactValue: 92.46657247051765 }) // => 'agrees'
 * @example
 * agreementOf(92.4, '93', { exactValue: 92.46657247051765 }) // => 'differs'
 */
export function agreementOf(
  computed: number,
  printed: string,
  { standardError, printedUncertainty, exactValue }: AgreementAllowance = {},
): AgreementKind {
  if (roundsTo(computed, printed)) return 'agrees';
  if (standardError !== undefined && roundsTo(computed, printed, 3 * standardError)) {
    return 'within simulation error';
  }
  if (printedUncertainty !== undefined && Math.abs(computed - Number(printed)) <= printedUncertainty) {
    return 'within printed uncertainty';
  }
  if (exactValue !== undefined && Math.abs(computed - exactValue) <= exactTolerance * Math.abs(exactValue)) {
    return 'explained exception';
  }
  return 'differs';
}
