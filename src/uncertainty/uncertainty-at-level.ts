import {
  InputError,
  requireFinite,
  requireNonNegative,
  requirePositive,
  requireSameLength,
} from '../errors.js';

/** Standard uncertainty as a function of the level of the measurand: u(x) = √(s₀² + (s₁·x)²). */
export interface UncertaintyFunction {
  /** s₀, in the unit of the level. */
  readonly constantPart: number;
  /** s₁, relative. */
  readonly proportionalPart: number;
  /** u found over u fitted, at each level. */
  readonly ratios: readonly number[];
  readonly notes: readonly string[];
}

/**
 * Standard uncertainty as a function of the level, from its values at two levels or more. Each level counts by its
 * relative deviation; a part that the data do not show is held at 0, with a note.
 *
 * @param levels values of the measurand, at least 0, not all equal
 * @param uncertainties standard uncertainties at these levels, above 0
 * @throws InputError fewer than two different levels, an uncertainty not above 0
 * @see QUAM:2012, Appendix E.5
 * @example
 * uncertaintyFunction([0, 10], [0.1, 0.5]).proportionalPart // => 0.0489897949
 */
export function uncertaintyFunction(
  levels: readonly number[],
  uncertainties: readonly number[],
): UncertaintyFunction {
  requireFinite(levels, 'levels', 2);
  requireSameLength(levels, 'levels', uncertainties, 'standard uncertainties');
  for (const level of levels) requireNonNegative(level, 'level');
  for (const u of uncertainties) requirePositive(u, 'standard uncertainty at a level');
  if (levels.every((level) => level === levels[0])) {
    throw new InputError(`levels: found ${levels[0]} only, expected two different levels at least`);
  }
  const squares = levels.map((level) => level * level);
  const variances = uncertainties.map((u) => u * u);
  const { constant, proportional, notes } = fitParts(squares, variances);
  const [constantPart, proportionalPart] = [Math.sqrt(constant), Math.sqrt(proportional)];
  const fitted = levels.map((level) => Math.hypot(constantPart, proportionalPart * level));
  if (fitted.some((u) => u === 0)) {
    throw new InputError(
      'levels: the level 0 has an uncertainty that the other levels contradict; add levels',
    );
  }
  return { constantPart, proportionalPart, ratios: uncertainties.map((u, i) => u / fitted[i]!), notes };
}

interface Parts {
  readonly constant: number;
  readonly proportional: number;
  readonly notes: readonly string[];
}

/** Least squares of relative deviations of variances, (a + b·x²)/v − 1, with a and b at least 0. */
function fitParts(squares: readonly number[], variances: readonly number[]): Parts {
  let [saa, sab, sbb, sa, sb] = [0, 0, 0, 0, 0];
  squares.forEach((square, i) => {
    const [p, q] = [1 / variances[i]!, square / variances[i]!];
    saa += p * p;
    sab += p * q;
    sbb += q * q;
    sa += p;
    sb += q;
  });
  const determinant = saa * sbb - sab * sab;
  const constant = (sa * sbb - sb * sab) / determinant;
  const proportional = (saa * sb - sab * sa) / determinant;
  if (proportional < 0) {
    const notes = ['the uncertainty does not rise with the level: the proportional part is held at 0'];
    return { constant: sa / saa, proportional: 0, notes };
  }
  if (constant < 0) {
    const notes = [
      'the uncertainty is proportional to the level over this range: the constant part is held at 0',
    ];
    return { constant: 0, proportional: sb / sbb, notes };
  }
  return { constant, proportional, notes: [] };
}

/**
 * Standard uncertainty at a level.
 *
 * @param level at least 0
 * @example
 * uncertaintyAtLevel({ constantPart: 3, proportionalPart: 0.4, ratios: [], notes: [] }, 10) // => 5
 */
export function uncertaintyAtLevel(parts: UncertaintyFunction, level: number): number {
  requireNonNegative(level, 'level');
  return Math.hypot(parts.constantPart, parts.proportionalPart * level);
}
