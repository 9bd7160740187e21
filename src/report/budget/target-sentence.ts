import { formatSignificant } from '../../quantities/rounding.js';
import type { TargetStatement } from '../../studies/measurement/evaluate-measurement.js';
import type { Budget } from '../../uncertainty/budget.js';

/** The verdict on the target uncertainty in a sentence. */
export function targetSentence(
  { output, unit }: Budget,
  { target, expandedUncertainty, method, met }: TargetStatement,
): string {
  const shownUnit = unit === '1' ? '' : ` ${unit}`;
  return (
    `Target ${met ? 'met' : 'not met'}: U of ${output} is ${formatSignificant(expandedUncertainty, 3)}${shownUnit}, ` +
    `allowed are ${target}${shownUnit}.${method === 'simulation' ? ' U is taken from the simulation: the distance of its estimate from the farther end of its symmetric interval.' : ''}`
  );
}
