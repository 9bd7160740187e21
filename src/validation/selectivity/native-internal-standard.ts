import { requireFinite } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { scaleOf } from '../scale.js';

export interface NativeInternalStandardOptions extends Omit<FindingOptions, 'unit'> {
  /** Digestion that was read without internal standard. */
  readonly digestion: string;
}

/**
 * Whether a sample (the level) holds the internal-standard element itself: readings of its digestion without internal
 * standard, each as a share of the dose (background taken off). Each sample is judged by itself: one sample that holds
 * the element is enough to falsify its own results.
 *
 * @param shares one number a reading, 0.001 is 0.1 % of the dose
 * @throws InputError no reading, a share that is not finite
 * @see ISO 11885:2007 (choice of internal standard; clause not cited)
 * @example
 * nativeInternalStandard([0.0001, 0.0003, 0.0002], { analyte: 'Sc', level: 'S-1', criterion: null, digestion: 'D-9' }).estimate // => 0.02
 */
export function nativeInternalStandard(
  shares: readonly number[],
  options: NativeInternalStandardOptions,
): Finding {
  requireFinite(shares, 'readings without internal standard');
  const n = shares.length;
  const estimate = mean(shares);
  const scale = scaleOf(options.criterion, 'share', 1);
  return makeFinding(
    'native internal standard',
    { ...options, unit: scale.unit },
    {
      quantity: 'native amount of the internal-standard element relative to the dose',
      unit: scale.unit,
      estimate: estimate * scale.factor,
      limits:
        n > 1
          ? scaleLimits(
              limitsOfEstimate(estimate, standardDeviation(shares) / Math.sqrt(n), n - 1),
              scale.factor,
            )
          : null,
      degreesOfFreedom: n > 1 ? n - 1 : null,
      n: 1,
      notes: [
        `One digestion (${options.digestion}), ${n} readings: the limits show the spread of reading only, not that of digestion.`,
      ],
      clause: 'ISO 11885:2007 (no clause)',
      method:
        'digestion read without internal standard, signal as a share of the dose; limits by t over readings',
      rows: [{ table: 'digestions', keys: [options.digestion] }],
      remedy: 'More readings without internal standard narrow the limits.',
    },
  );
}
