import { mean } from '../../statistics/descriptive/mean.js';
import { detectionDelta } from '../../statistics/distributions/noncentral-t.js';
import { randomStream } from '../../uncertainty/random-stream.js';
import { detectionLimits } from '../../validation/detection/detection-limits.js';
import { procedureBlank } from '../../validation/detection/procedure-blank.js';
import { type ErrorRate, errorRate, wanted } from './error-rate.js';

const sigma = 2;
const digestions = 2;

/**
 * False detections at content 0, and missed ones at the content δ·σ₀ with the planted σ₀: with s_b estimated from the blanks of each
 * experiment both are 5 % exactly. At the limit estimated by each experiment itself the share of missed detections is not 5 %.
 */
export function detectionRates(seeds: readonly number[]): ErrorRate[] {
  return [12, 6].flatMap((blanks) => {
    const atZero = sigma * Math.sqrt(1 / digestions + 1 / blanks);
    const detectable = detectionDelta(blanks - 1, 0.05, 0.05) * atZero;
    const counts = { falsely: 0, missed: 0 };
    for (const seed of seeds) {
      const stream = randomStream(seed, 'error rates', 'detection', blanks);
      const rows = Array.from({ length: blanks }, (_, i) => ({
        key: `B-${i + 1}`,
        run: 'run',
        value: 40 + sigma * stream.normal(),
      }));
      const { spread, mean: blank } = procedureBlank(rows, {
        analyte: 'X',
        level: 'blank',
        unit: 'mg/kg',
        criterion: null,
        subtracted: 'over all runs',
      });
      const limits = detectionLimits(spread!, { digestionsPerResult: digestions, blanksPerResult: blanks });
      const result = (content: number) =>
        mean(Array.from({ length: digestions }, () => 40 + content + sigma * stream.normal())) - blank;
      if (result(0) > limits.decisionLimit!.inSolid) counts.falsely++;
      if (result(detectable) <= limits.decisionLimit!.inSolid) counts.missed++;
    }
    const n = seeds.length;
    return [
      errorRate(`false detection at content 0; ${blanks} blanks`, counts.falsely, n, wanted.fivePercent),
      errorRate(
        `missed detection at δ·σ with σ planted; ${blanks} blanks`,
        counts.missed,
        n,
        wanted.fivePercent,
      ),
    ];
  });
}
