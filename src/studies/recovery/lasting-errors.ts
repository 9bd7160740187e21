import type { LastingError } from '../../chain/corrections/recovery-factor.js';
import { sharedKey } from '../../chain/shared-quantity.js';
import type { InputQuantity } from '../../uncertainty/input-quantity.js';
import type { MeanOverDays } from '../../validation/mean-over-days.js';
import { modelOf, type RecoveryExperiment } from './recovery-experiment.js';

/** Errors of a mean recovery that its scatter does not show. */
export interface LastingErrors {
  /** Standard uncertainty of the mean from certified values or amounts added. */
  readonly reference: number;
  readonly lasting: readonly LastingError[];
}

/** Errors that neither vary from digestion to digestion nor from run to run, relative to the mean; those of the references apart. */
export function lastingErrors(experiment: RecoveryExperiment, overDays: MeanOverDays): LastingErrors {
  const perDay = new Map(overDays.days.map((day) => [day.day, day.n]));
  const references = new Map<string, number>();
  const parts = new Map<string, number>();
  const add = (sums: Map<string, number>, key: string, value: number) =>
    sums.set(key, (sums.get(key) ?? 0) + value);
  for (const row of experiment.rows) {
    // Each day's mean counts once.
    const weight = 1 / (overDays.days.length * perDay.get(row.day)!);
    add(references, row.reference, weight * row.value * row.referenceRelative);
    for (const [key, part] of row.correlated.parts) {
      if (part.variesWith === null) add(parts, key, weight * part.value);
    }
  }
  const inputs = inputsByKey(experiment);
  return {
    reference: Math.hypot(...references.values()),
    lasting: [...parts].map(([key, value]) => ({
      key,
      // A source that is no single input, such as a coefficient of a fit, is recognised nowhere else.
      estimate: inputs.get(key)?.estimate ?? 0,
      standardUncertainty: inputs.get(key)?.standardUncertainty ?? 0,
      effect: value / overDays.mean,
    })),
  };
}

function inputsByKey({ observations }: RecoveryExperiment): Map<string, InputQuantity> {
  const inputs = new Map<string, InputQuantity>();
  for (const observation of observations) {
    for (const input of modelOf(observation).inputs) {
      const key = sharedKey(input, observation);
      if (!inputs.has(key)) inputs.set(key, input);
    }
  }
  return inputs;
}
