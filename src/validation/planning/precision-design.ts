import { InputError, requireInteger, requirePositive } from '../../errors.js';
import { whatADesignCanShow } from '../precision/what-a-design-can-show.js';

export interface PrecisionWish {
  /** Criterion ÷ expected standard deviation, for intermediate precision. */
  readonly criterionRatio: number;
  /** σ²_day ÷ σ²_digestion that is expected. */
  readonly varianceRatio: number;
  readonly digestionsPerResult?: number;
  readonly power: number;
  /** Most days and digestions a day that the laboratory can give to one level; 30 and 4 where not given. */
  readonly mostDays?: number;
  readonly mostDigestionsPerDay?: number;
  readonly trials?: number;
  readonly seed: number;
}

/** A design that shows intermediate precision with the wanted power. */
export interface PrecisionProposal {
  readonly days: number;
  readonly digestionsPerDay: number;
  readonly digestions: number;
  /** Criterion ÷ σ_I from which the design has the wanted power. */
  readonly criterionForPower: number;
}

/**
 * Smallest days × digestions that show intermediate precision with the wanted power: fewest digestions in all, and of equal ones
 * the one with fewer days. Fewer than 5 days are never proposed.
 *
 * @throws InputError a criterion that no design within the bounds can show
 */
export function precisionDesign(wish: PrecisionWish): PrecisionProposal {
  requirePositive(wish.criterionRatio, 'criterion ÷ expected standard deviation');
  const mostDays = wish.mostDays ?? 30;
  const mostPerDay = wish.mostDigestionsPerDay ?? 4;
  requireInteger(mostDays, 'most days', 5);
  requireInteger(mostPerDay, 'most digestions a day', 2);
  const found: PrecisionProposal[] = [];
  for (let perDay = Math.max(2, wish.digestionsPerResult ?? 1); perDay <= mostPerDay; perDay++) {
    const proposal = fewestDays(wish, perDay, mostDays);
    if (proposal !== null) found.push(proposal);
  }
  const [best] = found.sort((a, b) => a.digestions - b.digestions || a.days - b.days);
  if (best === undefined) {
    throw new InputError(
      `criterion ÷ expected standard deviation: found ${wish.criterionRatio}, expected one that ${mostDays} days × ${mostPerDay} digestions can show`,
    );
  }
  return best;
}

/** Bisection over the days: the criterion a design can show falls as days are added. */
function fewestDays(
  wish: PrecisionWish,
  digestionsPerDay: number,
  mostDays: number,
): PrecisionProposal | null {
  const needed = (days: number) => whatADesignCanShow({ ...wish, days, digestionsPerDay }).criterionForPower;
  let low = 4;
  let high = mostDays;
  if (needed(high) > wish.criterionRatio) return null;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (needed(middle) <= wish.criterionRatio) high = middle;
    else low = middle;
  }
  return {
    days: high,
    digestionsPerDay,
    digestions: high * digestionsPerDay,
    criterionForPower: needed(high),
  };
}
