import { requireFinite } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { studentTQuantile } from '../../statistics/distributions/student-t.js';

/** One low spike or one method blank through the whole procedure, with the batch it was prepared in. */
export interface BatchResult {
  readonly key: string;
  readonly batch: string;
  readonly value: number;
}

/** Method detection limit by the procedure of 40 CFR 136, in the unit of the results. */
export interface MethodDetectionLimit {
  readonly fromSpikes: number | null;
  readonly fromBlanks: number | null;
  /** The larger of the two; null where the rules about numbers are not kept. */
  readonly value: number | null;
  /** What the rules miss, in words. */
  readonly missing: readonly string[];
}

/**
 * Method detection limit: t_{0.99}·s of low spikes, and mean + t_{0.99}·s of method blanks; the larger one holds. At least 7 of
 * each, prepared in at least 3 batches. It bounds false detections at 1 % and says nothing of missed ones.
 *
 * @param blanks every blank with a numerical result; a negative mean counts as 0
 * @throws InputError a value that is not finite
 * @see 40 CFR Part 136, Appendix B, revision 2 (2016)
 */
export function methodDetectionLimit(
  spikes: readonly BatchResult[],
  blanks: readonly BatchResult[],
): MethodDetectionLimit {
  const missing = [...rulesMissed(spikes, 'low spikes'), ...rulesMissed(blanks, 'method blanks')];
  const fromSpikes = spikes.length > 1 ? reach(spikes) : null;
  const fromBlanks =
    blanks.length > 1 ? Math.max(0, mean(blanks.map((row) => row.value))) + reach(blanks) : null;
  return {
    fromSpikes,
    fromBlanks,
    value:
      missing.length > 0 || fromSpikes === null || fromBlanks === null
        ? null
        : Math.max(fromSpikes, fromBlanks),
    missing,
  };
}

function reach(rows: readonly BatchResult[]): number {
  const values = rows.map((row) => row.value);
  requireFinite(values, 'results');
  return studentTQuantile(0.99, values.length - 1) * standardDeviation(values);
}

function rulesMissed(rows: readonly BatchResult[], name: string): string[] {
  const batches = new Set(rows.map((row) => row.batch)).size;
  return [
    ...(rows.length < 7 ? [`found ${rows.length} ${name}, expected at least 7`] : []),
    ...(batches < 3 ? [`found ${name} of ${batches} batch(es), expected at least 3`] : []),
  ];
}
