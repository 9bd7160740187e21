import { formatSignificant } from '../../quantities/rounding.js';
import type { SingleImprovement } from '../../uncertainty/what-would-it-take.js';

/** What improving one input alone can do, in a sentence; `unit` with a blank before it, or empty. */
export function improvementSentence(improvement: SingleImprovement, unit: string): string {
  const { input, expandedUncertaintyWithout, factorNeeded, repeatsNeeded } = improvement;
  const without = `without the uncertainty of ${input} U would be ${formatSignificant(expandedUncertaintyWithout, 2)}${unit}`;
  if (factorNeeded === null) return `${without}: ${input} alone cannot meet the target`;
  if (factorNeeded === 1) return `${without}; nothing is needed`;
  const repeats =
    repeatsNeeded === null
      ? ''
      : `, as by ${repeatsNeeded} times as many independent repeats if it is a mean`;
  return `${without}; the target asks for its u times ${formatSignificant(factorNeeded, 2)}${repeats}`;
}
