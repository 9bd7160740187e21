import { InputError, requirePositive, requireProbability } from '../../errors.js';
import { studentTQuantile } from '../../statistics/distributions/student-t.js';
import { smallestNumber } from '../smallest-number.js';

export interface EquivalencePlan {
  /** Largest shift allowed, true shift and standard deviation of one result, in one unit. */
  readonly margin: number;
  readonly shift: number;
  readonly standardDeviation: number;
  readonly power: number;
}

const most = 10_000;

/**
 * Results on each side of a change that show equivalence of the means with the wanted power: smallest n with
 * (margin − |shift|)/(s·√(2/n)) ≥ t_{0.95} + t_q, where q is the power, or (1 + power)/2 where there is no shift because
 * both tests can then fail.
 *
 * @throws InputError a shift not inside the margin
 * @see Schuirmann 1987, J. Pharmacokin. Biopharm. 15, 657; Julious 2004, Stat. Med. 23, 1921 (sample sizes)
 * @example
 * resultsForEquivalence({ margin: 1, shift: 0.2, standardDeviation: 1, power: 0.9 }) // => 28
 */
export function resultsForEquivalence(plan: EquivalencePlan): number {
  requirePositive(plan.margin, 'margin');
  requirePositive(plan.standardDeviation, 'standard deviation');
  requireProbability(plan.power, 'power');
  const room = plan.margin - Math.abs(plan.shift);
  if (!(room > 0)) throw new InputError(`shift: found ${plan.shift}, expected one inside ±${plan.margin}`);
  const q = plan.shift === 0 ? (1 + plan.power) / 2 : plan.power;
  const n = smallestNumber(2, most, (count) => {
    const nu = 2 * count - 2;
    const wanted = studentTQuantile(0.95, nu) + studentTQuantile(q, nu);
    return room >= wanted * plan.standardDeviation * Math.sqrt(2 / count);
  });
  if (n !== null) return n;
  throw new InputError(`margin: found ${plan.margin}, expected one that ${most} results can show`);
}
