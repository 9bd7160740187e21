import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import { fitLine } from '../../../src/statistics/regression/line.js';
import { matrixEffect } from '../../../src/validation/selectivity/matrix-effect.js';
import { criterion } from '../support.js';

const options = { analyte: 'Al', level: 'ZP-2', criterion: criterion('within', 105, '%', 95), rows: [] };
const x = [0, 1, 2, 3, 4, 5];
const line = (intercept: number, slope: number, noise: number) =>
  fitLine(
    x,
    x.map((value, i) => intercept + slope * value + noise * [1, -1, 0.5, -0.5, 1, -1][i]!),
  );

describe('matrix effect by slopes', () => {
  it('propagates both slopes and is blind to an additive overlap', () => {
    const external = line(0, 1000, 5);
    const additions = line(4000, 1000, 5);
    const found = matrixEffect(additions, external, options);
    expect(found.ratio).toAgreeWithin(1, 1e-9);
    const relative = Math.sqrt(external.varianceSlope) / external.slope;
    expect(found.standardUncertainty).toAgreeWithin(Math.SQRT2 * relative, 1e-6);
    expect(found.degreesOfFreedom).toAgreeWithin(8, 1e-6);
    expect(found.finding.verdict).toBe('met');
  });

  it('finds a loss of sensitivity', () => {
    expect(matrixEffect(line(0, 850, 5), line(0, 1000, 5), options).finding.verdict).toBe('not met');
  });

  it('refuses a falling line', () => {
    expect(() => matrixEffect(line(0, -1, 0.1), line(0, 1, 0.1), options)).toThrow(InputError);
  });
});
