/**
 * Value, gradient and second derivatives of a figure by a few parameters N, in a run of a flat array that starts at an
 * offset: the value, then N first derivatives, then the upper triangle of the second derivatives row by row. Operations
 * write into arrays that exist: a likelihood is evaluated thousands of times.
 *
 * @see Griewank and Walther, Evaluating Derivatives, 2nd ed. 2008, ch. 13
 */
export type Jets = Float64Array;

/** Length of a jet of N parameters. */
export function jetLength(N: number): number {
  return 1 + N + (N * (N + 1)) / 2;
}

/** Place of the second derivative by parameters i and j (from 0) within a jet. */
export function secondAt(i: number, j: number, N: number): number {
  const a = Math.min(i, j);
  return 1 + N + a * N - (a * (a - 1)) / 2 + Math.abs(i - j);
}

/** out += factor·a. */
export function addScaled(out: Jets, o: number, a: Jets, i: number, factor: number, length: number): void {
  for (let k = 0; k < length; k++) out[o + k]! += factor * a[i + k]!;
}

/** out += factor·a·b. */
export function addProduct(
  out: Jets,
  o: number,
  a: Jets,
  i: number,
  b: Jets,
  j: number,
  factor: number,
  N: number,
): void {
  const a0 = factor * a[i]!;
  const b0 = factor * b[j]!;
  out[o]! += a0 * b[j]!;
  for (let k = 1; k <= N; k++) out[o + k]! += a0 * b[j + k]! + b0 * a[i + k]!;
  let at = N + 1;
  for (let k = 1; k <= N; k++) {
    const ak = factor * a[i + k]!;
    const bk = factor * b[j + k]!;
    for (let l = k; l <= N; l++, at++) {
      out[o + at]! += a0 * b[j + at]! + b0 * a[i + at]! + ak * b[j + l]! + bk * a[i + l]!;
    }
  }
}

/** out = 1/a; out may be a. */
export function setReciprocal(out: Jets, o: number, a: Jets, i: number, N: number): void {
  const r = 1 / a[i]!;
  const first = -r * r;
  const second = -2 * r * first;
  let at = N + 1;
  for (let k = 1; k <= N; k++) {
    const ak = second * a[i + k]!;
    for (let l = k; l <= N; l++, at++) out[o + at] = first * a[i + at]! + ak * a[i + l]!;
  }
  for (let k = 1; k <= N; k++) out[o + k] = first * a[i + k]!;
  out[o] = r;
}

/** out += factor·log a. */
export function addLogarithm(out: Jets, o: number, a: Jets, i: number, N: number, factor: number): void {
  const r = 1 / a[i]!;
  const first = factor * r;
  out[o]! += factor * Math.log(a[i]!);
  let at = N + 1;
  for (let k = 1; k <= N; k++) {
    const ak = -first * r * a[i + k]!;
    out[o + k]! += first * a[i + k]!;
    for (let l = k; l <= N; l++, at++) out[o + at]! += first * a[i + at]! + ak * a[i + l]!;
  }
}
