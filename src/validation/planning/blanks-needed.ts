import { InputError, requirePositive, requireProbability } from '../../errors.js';
import { leastBlanks } from '../detection/procedure-blank.js';
import { whatBlanksCanShow } from '../precision/what-a-design-can-show.js';
import { smallestNumber } from '../smallest-number.js';

const most = 500;

/**
 * Fewest independent procedure blanks that show a limit of quantification with the wanted power.
 *
 * @param criterionRatio lowest content to be reported ÷ limit of quantification expected
 * @throws InputError a ratio that 500 blanks cannot show
 * @example
 * blanksNeeded(2, 0.9) // => 12
 */
export function blanksNeeded(criterionRatio: number, power: number): number {
  requirePositive(criterionRatio, 'criterion ÷ expected limit');
  requireProbability(power, 'power');
  const n = smallestNumber(
    leastBlanks,
    most,
    (count) => whatBlanksCanShow(count, power).criterionForPower <= criterionRatio,
  );
  if (n !== null) return n;
  throw new InputError(
    `criterion ÷ expected limit: found ${criterionRatio}, expected one that ${most} blanks can show`,
  );
}
