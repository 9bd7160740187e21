import { InputError } from '../../errors.js';

/** Tolerance limits of a specification: one or both, in the unit of the measurand. */
export interface ToleranceLimits {
  readonly lower?: number;
  readonly upper?: number;
}

/** @throws InputError neither limit, a limit that is not finite, the lower not below the upper */
export function requireLimits({ lower, upper }: ToleranceLimits): void {
  if (lower === undefined && upper === undefined) {
    throw new InputError('tolerance limits: found neither a lower nor an upper limit, expected one at least');
  }
  for (const limit of [lower, upper]) {
    if (limit !== undefined && !Number.isFinite(limit)) {
      throw new InputError(`tolerance limits: found ${limit}, expected a finite number`);
    }
  }
  if (lower !== undefined && upper !== undefined && !(lower < upper)) {
    throw new InputError(`tolerance limits: found ${lower} and ${upper}, expected the lower below the upper`);
  }
}
