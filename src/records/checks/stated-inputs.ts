import { quoteFound } from '../issue-list.js';
import type { Refuse } from '../json/shape.js';
import type { StatedInput, StudyPlan } from '../study.js';

/** Unit in which a stated input is taken, and the range outside which it is a slip. */
interface InputRule {
  readonly units: readonly string[];
  readonly low: number;
  readonly high: number;
}

// A factor may also stand without a unit.
const factor: InputRule = { units: ['1', ''], low: 0.5, high: 2 };
const density = ['kg/m3', 'kg/m^3', 'kg/m³'];

/**
 * The chain takes the number of a stated input as it stands. Air has 1.2 kg/m³ at sea level and 0.7 in the highest towns; the
 * densest oxides and metals have less than 25 000.
 */
function ruleOf(name: StatedInput['name'], { blank }: StudyPlan): InputRule {
  switch (name) {
    case 'air density':
      return { units: density, low: 0.6, high: 1.5 };
    case 'portion density':
      return { units: density, low: 200, high: 25_000 };
    case 'native internal standard':
      return { units: ['1', ''], low: -0.5, high: 0.5 };
    case 'flux lot blank':
      return { units: [blank.scaling === 'per digestion' ? 'mg' : 'mg/g'], low: -10, high: 10 };
    case 'retained in fusion':
      return { ...factor, high: 1 };
    default:
      return factor;
  }
}

/** Stated inputs in the unit that the chain takes them in, within what is possible. */
export function checkStatedInputs(plan: StudyPlan, refuse: Refuse): void {
  plan.statedInputs.forEach(({ name, unit, estimate, standardUncertainty }, i) => {
    const { units, low, high } = ruleOf(name, plan);
    const path = `statedInputs[${i}]`;
    if (!units.includes(unit)) {
      const expected = `the unit of ${name}: ${units.map((each) => `"${each}"`).join(' or ')}`;
      refuse(`${path}.unit`, unit === '' ? '""' : quoteFound(unit), expected);
    }
    const range = `${low} to ${high}`.replaceAll('-', '−');
    if (estimate < low || estimate > high)
      refuse(`${path}.estimate`, String(estimate), `a value of ${name} from ${range}`);
    if (standardUncertainty > (high - low) / 2) {
      const expected = `at most ${(high - low) / 2}, half of the range ${range} of ${name}`;
      refuse(`${path}.standardUncertainty`, String(standardUncertainty), expected);
    }
  });
}
