import { requirePositive } from '../../errors.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { type MeanOverDays, meanOverDays } from '../mean-over-days.js';
import { rowsOf } from '../result-row.js';
import { unitsForMean } from '../results-needed.js';
import { scaleOf } from '../scale.js';

/** One digestion, its result on two emission lines of the analyte. */
export interface SecondLineRow {
  readonly key: string;
  readonly day: string;
  readonly first: number;
  readonly second: number;
}

export interface SecondLineOptions extends FindingOptions {
  readonly firstLineNm: number;
  readonly secondLineNm: number;
}

/** Agreement of two lines, with everything its table and figure need. */
export interface SecondLine {
  readonly finding: Finding;
  /** (second − first)/first of each digestion; 0.01 is 1 %. */
  readonly differences: readonly { readonly key: string; readonly day: string; readonly value: number }[];
  readonly overDays: MeanOverDays;
}

/**
 * Agreement of a second emission line with the reported one, as the mean relative difference over days with its limits.
 * Lines seldom share an overlap, so a difference speaks of an additive interference on one of them.
 *
 * @throws InputError no digestion, a result on the first line not above 0
 * @see Eurachem, Fitness for Purpose 2014, 6.1 (selectivity; clause from memory); ISO 11885:2007
 */
export function secondLine(rows: readonly SecondLineRow[], options: SecondLineOptions): SecondLine {
  const differences = rows.map((row) => {
    requirePositive(row.first, `result of ${row.key} on the first line`);
    return { key: row.key, day: row.day, value: row.second / row.first - 1 };
  });
  const overDays = meanOverDays(differences);
  const scale = scaleOf(options.criterion, 'difference', 1);
  const u = overDays.standardUncertainty;
  const days = overDays.days.length;
  const finding = makeFinding('second line', options, {
    quantity: `mean relative difference of ${options.secondLineNm} nm from ${options.firstLineNm} nm`,
    unit: scale.unit,
    estimate: overDays.mean * scale.factor,
    limits:
      u === null
        ? null
        : scaleLimits(limitsOfEstimate(overDays.mean, u, overDays.degreesOfFreedom), scale.factor),
    degreesOfFreedom: u === null ? null : overDays.degreesOfFreedom,
    n: days,
    clause: 'Eurachem, Fitness for Purpose 2014, 6.1 (clause from memory)',
    method: 'differences of the same digestions, mean over days, limits by t',
    rows: [rowsOf('digestions', rows)],
    notShownBecause: u === null ? 'Both lines were read on one day only; at least 2 days are needed.' : null,
    remedy: () =>
      unitsForMean(
        overDays.mean * scale.factor,
        (u ?? 0) * Math.sqrt(days) * scale.factor,
        0,
        days,
        options.criterion,
        'days',
      ),
  });
  return { finding, differences, overDays };
}
