/** Powers of metre, kilogram, second, ampere, kelvin, mole, candela. */
export type Dimension = readonly number[];

export const dimensionless: Dimension = Object.freeze([0, 0, 0, 0, 0, 0, 0]);

/** Symbols of the base units, in the order of a dimension. */
const baseSymbols = ['m', 'kg', 's', 'A', 'K', 'mol', 'cd'] as const;

export interface UnitSymbol {
  readonly scale: number;
  readonly dimension: Dimension;
}

/** Units that take prefixes: scale to the coherent SI unit, then dimension. */
const prefixable: Readonly<Record<string, readonly [number, Dimension]>> = {
  m: [1, [1, 0, 0, 0, 0, 0, 0]],
  g: [1e-3, [0, 1, 0, 0, 0, 0, 0]],
  s: [1, [0, 0, 1, 0, 0, 0, 0]],
  A: [1, [0, 0, 0, 1, 0, 0, 0]],
  K: [1, [0, 0, 0, 0, 1, 0, 0]],
  mol: [1, [0, 0, 0, 0, 0, 1, 0]],
  cd: [1, [0, 0, 0, 0, 0, 0, 1]],
  Hz: [1, [0, 0, -1, 0, 0, 0, 0]],
  N: [1, [1, 1, -2, 0, 0, 0, 0]],
  Pa: [1, [-1, 1, -2, 0, 0, 0, 0]],
  bar: [1e5, [-1, 1, -2, 0, 0, 0, 0]],
  J: [1, [2, 1, -2, 0, 0, 0, 0]],
  W: [1, [2, 1, -3, 0, 0, 0, 0]],
  C: [1, [0, 0, 1, 1, 0, 0, 0]],
  V: [1, [2, 1, -3, -1, 0, 0, 0]],
  F: [1, [-2, -1, 4, 2, 0, 0, 0]],
  Ω: [1, [2, 1, -3, -2, 0, 0, 0]],
  ohm: [1, [2, 1, -3, -2, 0, 0, 0]],
  L: [1e-3, [3, 0, 0, 0, 0, 0, 0]],
  l: [1e-3, [3, 0, 0, 0, 0, 0, 0]],
  rad: [1, dimensionless],
  Bq: [1, [0, 0, -1, 0, 0, 0, 0]],
};

const plain: Readonly<Record<string, readonly [number, Dimension]>> = {
  '%': [0.01, dimensionless],
  '°': [Math.PI / 180, dimensionless],
  '°C': [1, [0, 0, 0, 0, 1, 0, 0]],
  degC: [1, [0, 0, 0, 0, 1, 0, 0]],
  min: [60, [0, 0, 1, 0, 0, 0, 0]],
  h: [3600, [0, 0, 1, 0, 0, 0, 0]],
  d: [86400, [0, 0, 1, 0, 0, 0, 0]],
  t: [1000, [0, 1, 0, 0, 0, 0, 0]],
  count: [1, dimensionless],
  counts: [1, dimensionless],
  cps: [1, [0, 0, -1, 0, 0, 0, 0]],
};

const prefixes: Readonly<Record<string, number>> = {
  p: 1e-12,
  n: 1e-9,
  µ: 1e-6,
  μ: 1e-6,
  u: 1e-6,
  m: 1e-3,
  c: 1e-2,
  d: 1e-1,
  h: 1e2,
  k: 1e3,
  M: 1e6,
  G: 1e9,
};

function table(): ReadonlyMap<string, UnitSymbol> {
  const symbols = new Map<string, UnitSymbol>();
  for (const [name, [scale, dimension]] of Object.entries(prefixable)) {
    for (const [prefix, factor] of Object.entries(prefixes)) {
      // Through the printed form, so that a milligram is 1e-6 kg to the last bit.
      symbols.set(prefix + name, { scale: Number((factor * scale).toPrecision(15)), dimension });
    }
  }
  for (const [name, [scale, dimension]] of Object.entries({ ...prefixable, ...plain })) {
    symbols.set(name, { scale, dimension });
  }
  return symbols;
}

/** All unit symbols with and without prefixes; a plain symbol wins over a prefixed one. */
export const unitSymbols: ReadonlyMap<string, UnitSymbol> = table();

/** A dimension in base units, such as `kg m^-3`; `1` for pure numbers. */
export function dimensionText(dimension: Dimension): string {
  const parts = baseSymbols.flatMap((symbol, i) => {
    const power = Number(dimension[i]!.toFixed(6));
    return power === 0 ? [] : [power === 1 ? symbol : `${symbol}^${power}`];
  });
  return parts.length === 0 ? '1' : parts.join(' ');
}
