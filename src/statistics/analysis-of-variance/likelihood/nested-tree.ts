import { classCount } from '../nested-classes.js';

/**
 * Sufficient statistics of a nested design: cells of the innermost factor, and the class each class belongs to one level up.
 * Means are taken about the grand mean, so that no digits go to a common offset.
 */
export interface NestedTree {
  readonly n: number;
  readonly grandMean: number;
  /** Number of values, and mean about the grand mean, of each innermost cell. */
  readonly sizes: readonly number[];
  readonly means: readonly number[];
  /** Sum of squares within the cells. */
  readonly within: number;
  /** parents[k][c]: class at depth k that class c of depth k + 1 belongs to; depth 0 is the whole. */
  readonly parents: readonly (readonly number[])[];
  /** Largest deviation of a value from the first: the scale of the data. */
  readonly scale: number;
}

/** Collects the sufficient statistics; `classes` as `nestedClasses` gives them. */
export function nestedTree(values: readonly number[], classes: readonly (readonly number[])[]): NestedTree {
  const cells = classes[classes.length - 2]!;
  const count = classCount(cells);
  // About the first value: differences of values of one offset are exact or nearly so.
  const origin = values[0]!;
  const sizes = new Array<number>(count).fill(0);
  const means = new Array<number>(count).fill(0);
  let total = 0;
  let scale = 0;
  for (let i = 0; i < values.length; i++) {
    const deviation = values[i]! - origin;
    sizes[cells[i]!]!++;
    means[cells[i]!]! += deviation;
    total += deviation;
    scale = Math.max(scale, Math.abs(deviation));
  }
  for (let c = 0; c < count; c++) means[c]! /= sizes[c]!;
  let within = 0;
  for (let i = 0; i < values.length; i++) within += (values[i]! - origin - means[cells[i]!]!) ** 2;
  const centre = total / values.length;
  for (let c = 0; c < count; c++) means[c]! -= centre;
  const parents: number[][] = [];
  for (let k = 1; k < classes.length - 1; k++) {
    const code = classes[k]!;
    const parent = new Array<number>(classCount(code)).fill(0);
    for (let i = 0; i < code.length; i++) parent[code[i]!] = classes[k - 1]![i]!;
    parents.push(parent);
  }
  return { n: values.length, grandMean: origin + centre, sizes, means, within, parents, scale };
}
