/** Columns of one factor in treatment contrasts: one indicator a level, the first level left out. */
export function treatmentContrasts(
  levels: readonly (string | number)[],
  order?: readonly (string | number)[],
): number[][] {
  const names = order ?? [...new Set(levels)].sort((a, b) => (a < b ? -1 : 1));
  return names.slice(1).map((name) => levels.map((level) => (level === name ? 1 : 0)));
}

/** Constant, main effects and interaction of two factors, the first running faster within the interaction. */
export function factorialColumns(
  first: readonly (readonly number[])[],
  second: readonly (readonly number[])[],
): number[][] {
  const n = first[0]!.length;
  const products = second.flatMap((b) => first.map((a) => a.map((value, i) => value * b[i]!)));
  return [
    new Array<number>(n).fill(1),
    ...first.map((c) => [...c]),
    ...second.map((c) => [...c]),
    ...products,
  ];
}
