import { InputError, requireFinite, requireNonNegative, requirePositive } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { noScatter } from '../no-scatter.js';
import { rowsOf, valuesBy } from '../result-row.js';
import { unitsForMean } from '../results-needed.js';
import { scaleOf } from '../scale.js';

/** Content found of a solution made from an independent second standard, in one run. */
export interface SecondSourceRow {
  readonly key: string;
  readonly run: string;
  readonly value: number;
}

export interface SecondSourceOptions extends FindingOptions {
  readonly standard: string;
  /** Prepared content of the second solution, with the standard uncertainties of it and of the calibration's own stock at this content. */
  readonly prepared: number;
  readonly preparedStandardUncertainty: number;
  readonly stockStandardUncertainty: number;
}

/** Agreement of an independent second standard with the calibration. */
export interface SecondSource {
  readonly finding: Finding;
  readonly runMeans: readonly number[];
  /** Found − prepared, in the unit of the values. */
  readonly difference: number;
  readonly standardUncertainty: number;
  /** |difference| ÷ its expanded uncertainty (k = 2): information only, it decides nothing. */
  readonly ratio: number;
}

/**
 * Whether a standard of another source and another preparation agrees with the calibration: the only check that sees an error
 * of the stock standard itself. The uncertainties of both standards are common to all runs and do not average out.
 *
 * @throws InputError no reading, a prepared content not above 0, a negative uncertainty
 * @see ISO/IEC 17025:2017, 6.5 and 7.7.1
 */
export function secondSourceStandard(
  rows: readonly SecondSourceRow[],
  options: SecondSourceOptions,
): SecondSource {
  if (rows.length === 0)
    throw new InputError('second-source standard: found no reading, expected at least 1');
  requireFinite(
    rows.map((row) => row.value),
    'second-source standard',
  );
  requirePositive(options.prepared, 'prepared content');
  requireNonNegative(options.preparedStandardUncertainty, 'standard uncertainty of the prepared content');
  requireNonNegative(options.stockStandardUncertainty, 'standard uncertainty of the stock');
  const runMeans = [...valuesBy(rows, (row) => row.run).values()].map((values) => mean(values));
  const n = runMeans.length;
  const difference = mean(runMeans) - options.prepared;
  const spread = n > 1 ? standardDeviation(runMeans) : 0;
  const fixed = Math.hypot(options.preparedStandardUncertainty, options.stockStandardUncertainty);
  const own = spread / Math.sqrt(n);
  const standardUncertainty = Math.hypot(own, fixed);
  const degreesOfFreedom = own > 0 ? (standardUncertainty / own) ** 4 * (n - 1) : Infinity;
  const scale = scaleOf(options.criterion, options.unit, options.prepared);
  const finding = makeFinding('second-source standard', options, {
    quantity: `${scale.relative ? 'relative ' : ''}difference of ${options.standard} from the calibration`,
    unit: scale.unit,
    estimate: difference * scale.factor,
    limits:
      n > 1
        ? scaleLimits(limitsOfEstimate(difference, standardUncertainty, degreesOfFreedom), scale.factor)
        : null,
    degreesOfFreedom: n > 1 ? degreesOfFreedom : null,
    n,
    clause: 'ISO/IEC 17025:2017, 6.5 and 7.7.1',
    method: 'mean over runs against the prepared content, limits by t, both standards’ uncertainties common',
    rows: [rowsOf('readings', rows), { table: 'standards', keys: [options.standard] }],
    notShownBecause:
      n > 1
        ? spread === 0
          ? noScatter('The means of the runs', 'they show no agreement')
          : null
        : 'The second standard was read in one run only; at least 2 runs are needed.',
    remedy: () =>
      unitsForMean(
        difference * scale.factor,
        spread * scale.factor,
        fixed * scale.factor,
        n,
        options.criterion,
        'runs',
      ),
  });
  const expanded = 2 * standardUncertainty;
  const ratio = difference === 0 ? 0 : Math.abs(difference) / expanded;
  return { finding, runMeans, difference, standardUncertainty, ratio };
}
