import { describe, it } from 'vitest';
import { detectionDelta, noncentralTQuantile } from '../../../src/statistics/distributions/noncentral-t.js';
import { normalQuantile } from '../../../src/statistics/distributions/normal.js';
import { studentTQuantile } from '../../../src/statistics/distributions/student-t.js';
import { expectPublished } from '../published.js';

describe('printed quantiles', () => {
  it('δ(ν; 0.05, 0.05): ISO 11843-2:2000, table 1 (remembered); two rows were remembered wrongly', () => {
    expectPublished('iso11843-noncentrality', (_, nu) => detectionDelta(Number(nu), 0.05, 0.05));
  });

  it('four degrees of freedom: Currie 1995 (remembered)', () => {
    expectPublished<{ nu: number }>('currie-four-degrees-of-freedom', ({ nu }, figure) => {
      const t = studentTQuantile(0.95, nu);
      const found: Record<string, number> = {
        t,
        delta: detectionDelta(nu, 0.05, 0.05),
        'twice t': 2 * t,
        '2t·4ν/(4ν + 1)': (2 * t * 4 * nu) / (4 * nu + 1),
        'normal limit': detectionDelta(Number.POSITIVE_INFINITY, 0.05, 0.05),
      };
      return found[figure]!;
    });
  });

  it('one-sided 99 % t: 40 CFR 136 Appendix B (remembered)', () => {
    expectPublished('epa-student-t99', (_, n) => studentTQuantile(0.99, Number(n) - 1));
  });

  it('tolerance factors: ISO 16269-6 and Natrella, table A-7 (remembered)', () => {
    expectPublished<{ content: number; confidence: number }>(
      'iso16269-tolerance-factors',
      ({ content, confidence }, figure) => {
        const n = Number(figure);
        return noncentralTQuantile(confidence, n - 1, normalQuantile(content) * Math.sqrt(n)) / Math.sqrt(n);
      },
    );
  });
});
