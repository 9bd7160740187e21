import { requireInteger } from '../../errors.js';
import { detectionRates } from './detection-rates.js';
import type { ErrorRate } from './error-rate.js';
import { biasRates, recoveryRates } from './mean-rates.js';
import { powerRates } from './power-rates.js';
import { precisionRates } from './precision-rates.js';

/**
 * How often intervals hold the planted truth, criteria at the truth are *met*, blanks are taken for a content and contents for a
 * blank, and planned criteria are shown: by the functions that judge a study, on invented results whose truth is known.
 *
 * @throws InputError fewer than 20 seeds
 */
export function errorRates(firstSeed: number, count: number): ErrorRate[] {
  requireInteger(firstSeed, 'first seed', 0);
  requireInteger(count, 'seeds', 20);
  const seeds = Array.from({ length: count }, (_, i) => firstSeed + i);
  return [
    ...precisionRates(seeds),
    ...biasRates(seeds),
    ...recoveryRates(seeds),
    ...detectionRates(seeds),
    ...powerRates(seeds, 0.9),
    ...powerRates(seeds, 0.7),
  ];
}
