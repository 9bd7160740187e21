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
import { cochranCritical } from '../../../src/statistics/screening/cochran.js';
import { grubbsCritical } from '../../../src/statistics/screening/grubbs.js';
import { mandelHCritical, mandelKCritical } from '../../../src/statistics/screening/mandel-consistency.js';
import { readReference } from '../../support/reference-sets.js';

interface Reference {
  leftOut: Record<string, string>;
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
  grubbs_critical: (n, alpha, sides) => grubbsCritical(n!, alpha!, sides as 1 | 2),
  cochran_critical: (groups, n, alpha) => cochranCritical(groups!, n!, alpha!),
  mandel_h_critical: (groups, alpha) => mandelHCritical(groups!, alpha!),
  mandel_k_critical: (groups, n, alpha) => mandelKCritical(groups!, n!, alpha!),
  qbeta: (p, a, b) => betaQuantile(p!, a!, b!),
};

/** Functions of the reference that the statistics layer does not give. */
const outside: Record<string, string> = {
  c4: 'constants of control charts are not asked for',
  d2: 'standard deviations from ranges are not asked for',
  ptukey_upper: 'the studentised range is not asked for, and the reference has no 40-digit value of it',
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

  it('leaves out no function of the reference but those named', () => {
    const known = [...Object.keys(ours), ...Object.keys(outside)];
    const given = [...Object.keys(reference.functions), ...Object.keys(reference.leftOut)];
    expect(given.sort()).toEqual(known.sort());
  });
});
