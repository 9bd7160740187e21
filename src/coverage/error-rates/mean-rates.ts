import { randomStream } from '../../uncertainty/random-stream.js';
import type { Criterion } from '../../validation/finding.js';
import { spikeRecovery } from '../../validation/trueness/spike-recovery.js';
import { trueness } from '../../validation/trueness/trueness.js';
import { type ErrorRate, errorRate, wanted } from './error-rate.js';
import { inventedDays } from './invented-days.js';
import { holds } from './precision-rates.js';

const bias = 1.5;
const certifiedU = 0.4;

/** Interval of a planted bias against a certified value that is drawn anew, and a criterion exactly at that bias. */
export function biasRates(seeds: readonly number[]): ErrorRate[] {
  const level = { content: 100 + bias, dayStandardDeviation: 0.6, digestionStandardDeviation: 0.8 };
  const criterion: Criterion = within(bias, 'g/100 g');
  const counts = { covered: 0, met: 0 };
  for (const seed of seeds) {
    const error = certifiedU * randomStream(seed, 'error rates', 'certified value').normal();
    const found = trueness(inventedDays(level, 10, 2, seed, 'bias'), {
      analyte: 'X',
      level: 'material',
      unit: 'g/100 g',
      criterion,
      certified: { material: 'material', value: 100 + error, standardUncertainty: certifiedU },
    });
    if (holds(found.finding.limits!, bias)) counts.covered++;
    if (found.finding.verdict === 'met') counts.met++;
  }
  const n = seeds.length;
  return [
    errorRate(
      '95 % interval of the bias holds it (approximate); 10 days × 2',
      counts.covered,
      n,
      wanted.approximate,
    ),
    errorRate('allowed bias at the truth is met; 10 days × 2', counts.met, n, wanted.atMostFivePercent),
  ];
}

/** The same for the recovery of additions, whose amounts share one standard with an error that is drawn anew. */
export function recoveryRates(seeds: readonly number[]): ErrorRate[] {
  const recovery = 0.97;
  const relativeU = 0.004;
  const counts = { covered: 0, met: 0 };
  for (const seed of seeds) {
    const stream = randomStream(seed, 'error rates', 'recovery');
    const added = 1 + relativeU * stream.normal();
    const rows = Array.from({ length: 6 }, (_, i) => ({
      key: `S-${i + 1}`,
      partners: [`D-${i + 1}`],
      day: `day ${i + 1}`,
      foundMg: 0.5 + recovery * added * (1 + 0.012 * stream.normal()),
      unspikedMgPerKg: 2500,
      portionG: 0.2,
      addedMg: 1,
      addedStandardUncertaintyMg: relativeU,
    }));
    const found = spikeRecovery(rows, {
      analyte: 'X',
      level: 'sample',
      stage: 'before fusion',
      criterion: { ...within(103, '%'), lower: 97 },
    });
    if (holds(found.finding.limits!, 100 * recovery)) counts.covered++;
    if (found.finding.verdict === 'met') counts.met++;
  }
  const n = seeds.length;
  return [
    errorRate(
      '95 % interval of the recovery holds it (approximate); 6 additions',
      counts.covered,
      n,
      wanted.approximate,
    ),
    errorRate('allowed recovery at the truth is met; 6 additions', counts.met, n, wanted.atMostFivePercent),
  ];
}

function within(limit: number, unit: string): Criterion {
  return { kind: 'within', limit, unit, reason: 'the truth', owner: 'study of error rates' };
}
