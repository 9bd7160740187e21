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
  const classes: number[][] = [new Array<number>(n).fill(0)];
  for (const factor of factors) {
    const above = classes[classes.length - 1]!;
    const seen = new Map<number, Map<string | number, number>>();
    let count = 0;
    classes.push(
      factor.levels.map((level, i) => {
        const within = seen.get(above[i]!) ?? new Map<string | number, number>();
        seen.set(above[i]!, within);
        const known = within.get(level);
        if (known !== undefined) return known;
        within.set(level, count);
        return count++;
      }),
    );
  }
  classes.push(Array.from({ length: n }, (_, i) => i));
  return classes;
}

/** Number of classes in a list of class numbers from 0. */
export function classCount(code: readonly number[]): number {
  return code.reduce((most, c) => Math.max(most, c), -1) + 1;
}
