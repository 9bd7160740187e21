/** A factor of a nested design: its name and the level of each value, read within the level of the factor above. */
export interface NestedFactor {
  readonly name: string;
  readonly levels: readonly (string | number)[];
}

/**
 * Class of each value at every depth, as whole numbers from 0: first the whole (all 0), then each factor within those above
 * it, last every value as its own class.
 */
export function nestedClasses(n: number, factors: readonly NestedFactor[]): number[][] {
  const whole = new Array<number>(n).fill(0);
  const classes: number[][] = [whole];
  let above = whole;
  // Plain loops: these few lines are half the work of fitting a small design.
  for (const factor of factors) {
    const seen: Map<string | number, number>[] = [];
    const code = new Array<number>(n).fill(0);
    let count = 0;
    for (let i = 0; i < n; i++) {
      const parent = above[i]!;
      let within = seen[parent];
      if (!within) {
        within = new Map();
        seen[parent] = within;
      }
      const known = within.get(factor.levels[i]!);
      if (known === undefined) within.set(factor.levels[i]!, count);
      code[i] = known ?? count++;
    }
    classes.push(code);
    above = code;
  }
  const single = new Array<number>(n).fill(0);
  for (let i = 0; i < n; i++) single[i] = i;
  classes.push(single);
  return classes;
}

/** Number of classes in a list of class numbers from 0. */
export function classCount(code: readonly number[]): number {
  let most = -1;
  for (let i = 0; i < code.length; i++) if (code[i]! > most) most = code[i]!;
  return most + 1;
}
