import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/errors.js';
import {
  backward,
  choleskyFactor,
  forward,
  invertFactored,
  product,
  solveFactored,
  tryCholesky,
} from '../../../src/statistics/arithmetic/cholesky.js';
import { factorLowerUpper, solveLowerUpper } from '../../../src/statistics/arithmetic/lower-upper.js';
import { Rational, solveExactly } from '../../support/rational.js';

const entry = fc.integer({ min: -8, max: 8 });
const square = fc
  .integer({ min: 1, max: 6 })
  .chain((n) =>
    fc.tuple(
      fc.array(fc.array(entry, { minLength: n, maxLength: n }), { minLength: n, maxLength: n }),
      fc.array(entry, { minLength: n, maxLength: n }),
    ),
  );

function exactSolution(matrix: readonly (readonly number[])[], right: readonly number[]): number[] | null {
  try {
    const [solution] = solveExactly(
      matrix.map((row) => row.map(Rational.from)),
      [right.map(Rational.from)],
    );
    return solution!.map((v) => v.toNumber());
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

describe('linear systems', () => {
  it('lower-upper: agrees with exact elimination, and refuses singular matrices', () => {
    fc.assert(
      fc.property(square, ([matrix, right]) => {
        const exact = exactSolution(matrix, right);
        fc.pre(exact !== null);
        const found = solveLowerUpper(factorLowerUpper(matrix.map((row) => Float64Array.from(row))), right);
        exact!.forEach((value, i) => {
          expect(Math.abs(found[i]! - value)).toBeLessThanOrEqual(1e-9 * (1 + Math.abs(value)));
        });
      }),
    );
    expect(() => factorLowerUpper([Float64Array.of(1, 2), Float64Array.of(2, 4)])).toThrow(InputError);
    expect(factorLowerUpper([Float64Array.of(0, 2), Float64Array.of(3, 0)]).logDeterminant).toAgreeWithin(
      Math.log(6),
      1e-15,
    );
  });

  it('Cholesky: solves and inverts positive definite systems, and refuses others', () => {
    fc.assert(
      fc.property(square, ([matrix, right]) => {
        const n = matrix.length;
        const definite = matrix.map((_, i) =>
          matrix.map((__, j) => product(matrix[i]!, matrix[j]!) + (i === j ? n : 0)),
        );
        const factor = choleskyFactor(definite);
        const exact = exactSolution(definite, right)!;
        const inverse = invertFactored(factor);
        solveFactored(factor, right).forEach((value, i) => {
          expect(Math.abs(value - exact[i]!)).toBeLessThanOrEqual(1e-11 * (1 + Math.abs(exact[i]!)));
          expect(Math.abs(product(inverse[i]!, right) - value)).toBeLessThanOrEqual(
            1e-10 * (1 + Math.abs(value)),
          );
        });
        const halfway = forward(factor, right);
        expect(product(halfway, halfway)).toAgreeWithin(product(right, backward(factor, halfway)), 1e-9);
      }),
    );
    const indefinite = [
      [1, 2],
      [2, 1],
    ];
    expect(tryCholesky(indefinite)).toBeNull();
    expect(() => choleskyFactor(indefinite)).toThrow('not positive definite');
  });
});
