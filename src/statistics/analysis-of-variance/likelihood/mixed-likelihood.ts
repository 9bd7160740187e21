import { factorLowerUpper, type LowerUpper, solveLowerUpper } from '../../arithmetic/lower-upper.js';
import { type Likelihood, type LikelihoodPoint, log2Pi } from './likelihood.js';
import { dot, factorSpans, type MixedDesign } from './mixed-design.js';

/**
 * Restricted likelihood (or likelihood) of a mixed model with any nesting or crossing, from its small cross products.
 *
 * With P = V⁻¹ − V⁻¹X(XᵀV⁻¹X)⁻¹XᵀV⁻¹ everything needed is T = ZᵀPZ and u = ZᵀPy: tr(P·V_i·P·V_j) = ‖T_ij‖², and figures of
 * the residual follow from PVP = P. Time grows with the cube of the number of levels, not of values.
 *
 * @see Searle, Casella and McCulloch, Variance Components, 1992, 6.6 and 6.7
 */
export function mixedLikelihood(design: MixedDesign, restricted = true): Likelihood {
  return {
    components: design.starts.length,
    valueAt: (theta) => {
      const state = mixedState(design, theta);
      return mixedValue(design, theta, state, restricted);
    },
    at: (theta) => mixedPoint(design, theta, restricted),
  };
}

/** I + M·G for a matrix of cross products M and the diagonal G of ratios of components to the residual. */
export function ratioFactors(m: readonly Float64Array[], g: Float64Array): LowerUpper {
  return factorLowerUpper(m.map((row, i) => row.map((value, j) => value * g[j]! + (i === j ? 1 : 0))));
}

/** Ratio of each level's component to the residual. */
export function levelRatios(design: MixedDesign, theta: readonly number[]): Float64Array {
  const g = new Float64Array(design.sz.length);
  factorSpans(design).forEach(([from, to], k) => {
    g.fill(theta[k]! / theta[theta.length - 1]!, from, to);
  });
  return g;
}

interface MixedState {
  readonly g: Float64Array;
  /** Of I + ZᵀSZ·G. */
  readonly factors: LowerUpper;
  /** u = ZᵀPy. */
  readonly u: Float64Array;
  readonly yPy: number;
}

function mixedState(design: MixedDesign, theta: readonly number[]): MixedState {
  const residual = theta[theta.length - 1]!;
  const g = levelRatios(design, theta);
  const factors = ratioFactors(design.zsz, g);
  const u = solveLowerUpper(factors, design.zsy).map((value) => value / residual);
  // yᵀPy = σ²·‖Py‖² + Σ τ·u²: a sum of positive terms, unlike yᵀSy − …
  const left = Float64Array.from(design.y);
  let squares = 0;
  u.forEach((value, level) => {
    const effect = g[level]! * residual * value;
    squares += effect * value;
    if (effect !== 0) for (let i = 0; i < left.length; i++) left[i]! -= design.sz[level]![i]! * effect;
  });
  return { g, factors, u, yPy: dot(left, left) / residual + squares };
}

function mixedValue(
  design: MixedDesign,
  theta: readonly number[],
  state: MixedState,
  restricted: boolean,
): number {
  const freedom = restricted ? design.n - design.p : design.n;
  const determinant = restricted
    ? state.factors.logDeterminant + design.logXX
    : ratioFactors(design.zz, state.g).logDeterminant;
  return freedom * (log2Pi + Math.log(theta[theta.length - 1]!)) + determinant + state.yPy;
}

/** (I + M·G)⁻¹·M/σ², symmetric. */
function scaledResolvent(m: readonly Float64Array[], factors: LowerUpper, residual: number): Float64Array[] {
  // M is symmetric, so its rows are its columns.
  const columns = m.map((column) => solveLowerUpper(factors, column));
  return columns.map((column, i) => column.map((value, j) => (value + columns[j]![i]!) / (2 * residual)));
}

function mixedPoint(design: MixedDesign, theta: readonly number[], restricted: boolean): LikelihoodPoint {
  const residual = theta[theta.length - 1]!;
  const spans = factorSpans(design);
  const state = mixedState(design, theta);
  const t = scaledResolvent(design.zsz, state.factors, residual);
  // The likelihood proper has V⁻¹ where the restricted one has P in its determinants.
  const d = restricted ? t : scaledResolvent(design.zz, ratioFactors(design.zz, state.g), residual);
  const traces = spans.map(([from, to]) => over(from, to, (i) => d[i]![i]!));
  const lengths = spans.map(([from, to]) => over(from, to, (i) => state.u[i]! ** 2));
  const squares = betweenFactors(spans, (i, j) => d[i]![j]! ** 2);
  const forms = betweenFactors(spans, (i, j) => state.u[i]! * t[i]![j]! * state.u[j]!);
  const expected = withResidual(squares, traces, restricted ? design.n - design.p : design.n, theta);
  const quadratic = withResidual(forms, lengths, state.yPy, theta);
  return {
    value: mixedValue(design, theta, state, restricted),
    gradient: expected.single.map((trace, k) => trace - quadratic.single[k]!),
    expected: expected.matrix,
    observed: expected.matrix.map((row, i) => row.map((v, j) => 2 * quadratic.matrix[i]![j]! - v)),
  };
}

/**
 * Completes figures a_ij = f(P·V_i·P·V_j) and a_i = f(P·V_i) of the factors by those of the residual: from PVP = P,
 * σ²·f(P·V_i·P) = f(P·V_i) − Σ τ_k·a_ik, and likewise once more.
 */
function withResidual(
  between: readonly (readonly number[])[],
  single: readonly number[],
  whole: number,
  theta: readonly number[],
): { matrix: number[][]; single: number[] } {
  const residual = theta[single.length]!;
  const less = (value: number, parts: readonly number[]): number =>
    (value - parts.reduce((total, part, k) => total + theta[k]! * part, 0)) / residual;
  const mixed = single.map((value, i) => less(value, between[i]!));
  const trace = less(whole, single);
  const matrix = between.map((row, i) => [...row, mixed[i]!]);
  matrix.push([...mixed, less(trace, mixed)]);
  return { matrix, single: [...single, trace] };
}

function betweenFactors(
  spans: readonly [number, number][],
  term: (i: number, j: number) => number,
): number[][] {
  return spans.map(([from, to]) =>
    spans.map(([low, high]) => over(from, to, (i) => over(low, high, (j) => term(i, j)))),
  );
}

function over(from: number, to: number, term: (i: number) => number): number {
  let total = 0;
  for (let i = from; i < to; i++) total += term(i);
  return total;
}
