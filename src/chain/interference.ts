import { InputError } from '../errors.js';

/** Apparent mass fraction of `analyte` on its line per mass fraction of `interferent`, both in the solution measured. */
export interface InterferenceCoefficient {
  readonly analyte: string;
  readonly interferent: string;
  readonly value: number;
  readonly standardUncertainty: number;
  readonly source: string;
}

/**
 * True mass fractions of one solution from apparent ones: solves (I + K) · c = c_app.
 *
 * @param apparent apparent mass fraction by analyte, all in the same solution and unit
 * @param coefficients entries of K; those whose analyte or interferent is absent from `apparent` must not be passed
 * @throws InputError a coefficient of an analyte that has no apparent value; a system that has no single solution
 * @see interelement correction by linear equations: common practice in optical emission spectrometry, no source
 * @example
 * correctInterference({ Al: 4.16, Zr: 925 }, [{ analyte: 'Al', interferent: 'Zr', value: 5e-4, standardUncertainty: 0, source: '' }]).Al // => 3.6975
 */
export function correctInterference(
  apparent: Readonly<Record<string, number>>,
  coefficients: readonly InterferenceCoefficient[],
): Record<string, number> {
  const names = Object.keys(apparent);
  const matrix = names.map((_, i) => names.map((_, j) => (i === j ? 1 : 0)));
  for (const coefficient of coefficients) {
    const i = names.indexOf(coefficient.analyte);
    const j = names.indexOf(coefficient.interferent);
    if (i < 0 || j < 0) {
      throw new InputError(
        `interference of ${coefficient.interferent} on ${coefficient.analyte}: expected both measured in the same digestion`,
      );
    }
    matrix[i]![j]! += coefficient.value;
  }
  const solution = solve(
    matrix,
    names.map((name) => apparent[name]!),
  );
  return Object.fromEntries(names.map((name, i) => [name, solution[i]!]));
}

/** Gaussian elimination with partial pivoting: the systems are small and close to the unit matrix. */
function solve(matrix: number[][], right: number[]): number[] {
  const n = right.length;
  const a = matrix.map((row, i) => [...row, right[i]!]);
  for (let column = 0; column < n; column++) {
    let pivot = column;
    for (let row = column + 1; row < n; row++) {
      if (Math.abs(a[row]![column]!) > Math.abs(a[pivot]![column]!)) pivot = row;
    }
    if (Math.abs(a[pivot]![column]!) < 1e-9)
      throw new InputError('interference coefficients: no single solution');
    [a[column], a[pivot]] = [a[pivot]!, a[column]!];
    for (let row = column + 1; row < n; row++) {
      const factor = a[row]![column]! / a[column]![column]!;
      if (factor === 0) continue;
      for (let k = column; k <= n; k++) a[row]![k]! -= factor * a[column]![k]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let row = n - 1; row >= 0; row--) {
    let sum = a[row]![n]!;
    for (let k = row + 1; k < n; k++) sum -= a[row]![k]! * x[k]!;
    x[row] = sum / a[row]![row]!;
  }
  return x;
}
