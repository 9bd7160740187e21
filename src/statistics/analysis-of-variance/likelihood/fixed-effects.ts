import { choleskyFactor, invertFactored } from '../../arithmetic/cholesky.js';
import { solveLowerUpper } from '../../arithmetic/lower-upper.js';
import type { EffectEstimate } from '../reml-fit.js';
import { dot, factorSpans, type MixedDesign } from './mixed-design.js';
import { levelRatios, ratioFactors } from './mixed-likelihood.js';

/**
 * Generalised least-squares estimates of the fixed effects at given components, with the derivatives of their variances by
 * the components: ∂C/∂τ_k = C·XᵀV⁻¹Z_kZ_kᵀV⁻¹X·C for C = (XᵀV⁻¹X)⁻¹.
 */
export function fixedEffects(design: MixedDesign, theta: readonly number[]): EffectEstimate[] {
  if (design.p === 0) return [];
  const residual = theta[theta.length - 1]!;
  const g = levelRatios(design, theta);
  const factors = ratioFactors(design.zz, g);
  // b = ZᵀV⁻¹x and e = V⁻¹x of every column x; XᵀV⁻¹X = σ²·eᵀe + Σ τ_k·b_kᵀb_k, sums of squares.
  const b = design.x.map((column) =>
    solveLowerUpper(factors, transposedTimes(design, column)).map((value) => value / residual),
  );
  const e = design.x.map((column, c) => {
    const effects = b[c]!.map((value, level) => value * g[level]! * residual);
    return column.map((value, i) => {
      let total = value;
      for (const code of design.codes) total -= effects[code[i]!]!;
      return total / residual;
    });
  });
  const inner = factorSpans(design).map(([from, to]) =>
    b.map((bi) => b.map((bj) => dot(bi.subarray(from, to), bj.subarray(from, to)))),
  );
  inner.push(e.map((ei) => e.map((ej) => dot(ei, ej))));
  const information = b.map((_, i) =>
    b.map((__, j) => inner.reduce((total, m, k) => total + theta[k]! * m[i]![j]!, 0)),
  );
  const covariance = invertFactored(choleskyFactor(information));
  const score = e.map((ei) => dot(ei, design.y));
  return covariance.map((row, c) => ({
    estimate: design.start[c]! + dot(row, score),
    variance: row[c]!,
    varianceGradient: inner.map((m) => m.reduce((total, mi, i) => total + row[i]! * dot(mi, row), 0)),
  }));
}

/** Zᵀ·column. */
function transposedTimes(design: MixedDesign, column: Float64Array): Float64Array {
  const sums = new Float64Array(design.sz.length);
  for (const code of design.codes) {
    code.forEach((level, i) => {
      sums[level]! += column[i]!;
    });
  }
  return sums;
}
