import { describe, expect, it } from 'vitest';
import { choleskyFactor } from '../../../src/uncertainty/model/cholesky.js';

describe('choleskyFactor', () => {
  it.each([
    [[[1]]],
    [
      [
        [1, 0.3, -0.2],
        [0.3, 1, 0.5],
        [-0.2, 0.5, 1],
      ],
    ],
    [
      [
        [1, 1, -1],
        [1, 1, -1],
        [-1, -1, 1],
      ],
    ],
    [
      [
        [0, 0],
        [0, 4],
      ],
    ],
  ])('multiplies back to the matrix (%#)', (matrix) => {
    const factor = choleskyFactor(matrix);
    matrix.forEach((row, i) => {
      row.forEach((value, j) => {
        const product = factor[i]!.reduce((sum, part, k) => sum + part * factor[j]![k]!, 0);
        expect(Math.abs(product - value)).toBeLessThan(1e-15);
        if (j > i) expect(factor[i]![j]).toBe(0);
      });
    });
  });
});
