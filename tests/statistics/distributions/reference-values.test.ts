import { describe, expect, it } from 'vitest';
import { betaQuantile } from '../../../src/statistics/distributions/beta.js';
import { chiSquaredQuantile, chiSquaredSurvival } from '../../../src/statistics/distributions/chi-squared.js';
import { fQuantile, fSurvival } from '../../../src/statistics/distributions/f.js';
import {
  detectionDelta,
  noncentralTCdf,
  noncentralTQuantile,
} from '../../../src/statistics/distributions/noncentral-t.js';
import { normalCdf, normalQuantile } from '../../../src/statistics/distributions/normal.js';
import { studentTCdf, studentTQuantile } from '../../../src/statistics/distributions/student-t.js';
import { readReference } from '../../support/reference-sets.js';

interface Reference {
  functions: Record<string, { arguments: string[]; rows: [...number[], string][] }>;
}

const reference = readReference<Reference>('statistics/distributions');

const ours: Record<string, (...values: number[]) => number> = {
  qnorm: (p) => normalQuantile(p!),
  pnorm: (x) => normalCdf(x!),
  qt: (p, nu) => studentTQuantile(p!, nu!),
  pt: (t, nu) => studentTCdf(t!, nu!),
  qchisq: (p, nu) => chiSquaredQuantile(p!, nu!),
  pchisq_upper: (x, nu) => chiSquaredSurvival(x!, nu!),
  qf: (p, nu1, nu2) => fQuantile(p!, nu1!, nu2!),
  pf_upper: (x, nu1, nu2) => fSurvival(x!, nu1!, nu2!),
  pnct: (t, nu, delta) => noncentralTCdf(t!, nu!, delta!),
  detection_delta: (alpha, beta, nu) => detectionDelta(nu!, alpha!, beta!),
  tolerance_k_one_sided: (n, coverage, confidence) =>
    noncentralTQuantile(confidence!, n! - 1, normalQuantile(coverage!) * Math.sqrt(n!)) / Math.sqrt(n!),
  qbeta: (p, a, b) => betaQuantile(p!, a!, b!),
};

describe('distributions against 40-digit arithmetic', () => {
  it.each(Object.keys(ours))('%s agrees to 1e-12 relative in both tails', (name) => {
    const { rows } = reference.functions[name]!;
    expect(rows.length).toBeGreaterThan(4);
    for (const row of rows) {
      const value = ours[name]!(...(row.slice(0, -1) as number[]));
      expect(value, `${name}(${row.slice(0, -1).join(', ')})`).toAgreeWithin(Number(row.at(-1)), 1e-12);
    }
  });
});
