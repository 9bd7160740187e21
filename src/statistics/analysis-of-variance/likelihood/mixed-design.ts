import { InputError, requireFinite, requireSameLength } from '../../../errors.js';
import { choleskyFactor, solveFactored } from '../../arithmetic/cholesky.js';

/** A random factor: its name and the level of each value. Levels of equal name are one level: nest by compound names. */
export interface RandomFactor {
  readonly name: string;
  readonly levels: readonly (string | number)[];
}

/**
 * A mixed model y = Xβ + Σ Z_k·u_k + e with its small cross products: p fixed columns, q levels of all factors.
 * S = I − X(XᵀX)⁻¹Xᵀ takes the fixed part away.
 */
export interface MixedDesign {
  readonly n: number;
  readonly p: number;
  /** Index of the first level of each factor in the joint list; last entry q. */
  readonly starts: readonly number[];
  /** Joint index of the level of each value, one list a factor. */
  readonly codes: readonly Int32Array[];
  readonly x: readonly Float64Array[];
  /** Orthonormal basis of the columns of X. */
  readonly basis: readonly Float64Array[];
  /** Cholesky factor of XᵀX. */
  readonly factor: readonly (readonly number[])[];
  /** Sy. */
  readonly y: Float64Array;
  /** Columns of SZ. */
  readonly sz: readonly Float64Array[];
  /** ZᵀZ, q × q. */
  readonly zz: readonly Float64Array[];
  /** ZᵀSZ, q × q. */
  readonly zsz: readonly Float64Array[];
  /** ZᵀSy. */
  readonly zsy: Float64Array;
  /** log |XᵀX|. */
  readonly logXX: number;
  /** Least-squares estimate (XᵀX)⁻¹Xᵀy. */
  readonly start: readonly number[];
}

/** @throws InputError lists of unequal length, columns that depend on each other, too few values or levels */
export function mixedDesign(
  values: readonly number[],
  fixed: readonly (readonly number[])[],
  factors: readonly RandomFactor[],
): MixedDesign {
  const n = values.length;
  requireFinite(values, 'values', fixed.length + factors.length + 1);
  fixed.forEach((column, k) => {
    requireSameLength(values, 'values', column, `fixed column ${k + 1}`);
    requireFinite(column, `fixed column ${k + 1}`);
  });
  const { codes, starts } = levelCodes(n, factors);
  const basis = orthonormalBasis(fixed);
  const z = Array.from({ length: starts[starts.length - 1]! }, () => new Float64Array(n));
  for (const code of codes) {
    code.forEach((level, i) => {
      z[level]![i] = 1;
    });
  }
  const sz = z.map((column) => without(column, basis));
  const x = fixed.map((column) => Float64Array.from(column));
  const factor = choleskyFactor(x.map((a) => x.map((b) => dot(a, b))));
  return {
    n,
    p: x.length,
    starts,
    codes,
    x,
    basis,
    factor,
    sz,
    zz: z.map((a) => Float64Array.from(z, (b) => dot(a, b))),
    zsz: sz.map((a) => Float64Array.from(sz, (b) => dot(a, b))),
    logXX: 2 * factor.reduce((total, row, i) => total + Math.log(row[i]!), 0),
    ...responseOf(values, { x, basis, factor, sz }),
  };
}

/** The same design with other values: only what depends on them is computed anew. */
export function withValues(design: MixedDesign, values: readonly number[]): MixedDesign {
  return { ...design, ...responseOf(values, design) };
}

function responseOf(
  values: readonly number[],
  design: Pick<MixedDesign, 'x' | 'basis' | 'factor' | 'sz'>,
): Pick<MixedDesign, 'y' | 'zsy' | 'start'> {
  const y = without(Float64Array.from(values), design.basis);
  return {
    y,
    zsy: Float64Array.from(design.sz, (column) => dot(column, y)),
    start: solveFactored(
      design.factor,
      design.x.map((column) => dot(column, values)),
    ),
  };
}

/** Level of each value in the joint list of levels of all factors. */
function levelCodes(n: number, factors: readonly RandomFactor[]): { codes: Int32Array[]; starts: number[] } {
  const starts = [0];
  const codes = factors.map((factor) => {
    if (factor.levels.length !== n) {
      throw new InputError(`${factor.name} has ${factor.levels.length} level(s) for ${n} values`);
    }
    const first = starts[starts.length - 1]!;
    const seen = new Map<string | number, number>();
    const code = Int32Array.from(factor.levels, (level) => {
      const known = seen.get(level) ?? first + seen.size;
      seen.set(level, known);
      return known;
    });
    if (seen.size < 2) throw new InputError(`${factor.name}: found ${seen.size} level, expected at least 2`);
    if (seen.size === n) {
      throw new InputError(
        `${factor.name}: found one value in every level; it cannot be told from the residual`,
      );
    }
    starts.push(first + seen.size);
    return code;
  });
  return { codes, starts };
}

function orthonormalBasis(columns: readonly (readonly number[])[]): Float64Array[] {
  const basis: Float64Array[] = [];
  columns.forEach((column, k) => {
    const left = without(Float64Array.from(column), basis);
    const size = Math.sqrt(dot(left, left));
    if (!(size > 1e-10 * Math.sqrt(dot(column, column)))) {
      throw new InputError(`fixed column ${k + 1}: found a linear combination of the columns before it`);
    }
    basis.push(left.map((v) => v / size));
  });
  return basis;
}

/** What is left of a column outside the span of an orthonormal basis; projected twice. */
function without(column: Float64Array, basis: readonly Float64Array[]): Float64Array {
  const left = Float64Array.from(column);
  for (let pass = 0; pass < 2; pass++) {
    for (const b of basis) {
      const part = dot(b, left);
      for (let i = 0; i < left.length; i++) left[i]! -= part * b[i]!;
    }
  }
  return left;
}

/** Scalar product. */
export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let total = 0;
  for (let i = 0; i < a.length; i++) total += a[i]! * b[i]!;
  return total;
}

/** Joint level indices of each factor, as [from, to). */
export function factorSpans(design: MixedDesign): [number, number][] {
  return design.starts.slice(1).map((end, k) => [design.starts[k]!, end]);
}
