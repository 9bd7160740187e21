import { InputError } from '../errors.js';
import { atomicWeight } from './atomic-weights.js';
import { chemicalFormula, type Weight } from './chemical-formula.js';

/** Mass of oxide that holds unit mass of its element. */
export interface OxideFactor {
  readonly element: string;
  readonly oxide: string;
  /** Oxide mass per element mass. */
  readonly factor: number;
  readonly standardUncertainty: number;
  /** Derivative of the factor by the atomic weight of the element, and by that of oxygen, which all oxides share. */
  readonly sensitivityToElement: number;
  readonly sensitivityToOxygen: number;
}

/**
 * Conversion factor from an element to its oxide, 1 + (m/n)·A(O)/A(E) for an oxide E_n O_m.
 *
 * Not for the choice of the oxide: Pr6O11, Pr2O3 and PrO2 differ by up to 5 %, and which of them is reported is part
 * of the record.
 *
 * @param oxide formula of one element with oxygen, such as `Pr6O11`
 * @param weightOf atomic weights other than the standard ones
 * @throws InputError no formula, or not one element with oxygen
 * @example
 * oxideFactor('Al2O3').factor // => 1.889464
 */
export function oxideFactor(
  oxide: string,
  weightOf: (element: string) => Weight = atomicWeight,
): OxideFactor {
  const atoms = chemicalFormula(oxide);
  const oxygenAtoms = atoms.get('O');
  const element = [...atoms.keys()].find((name) => name !== 'O');
  if (oxygenAtoms === undefined || element === undefined || atoms.size !== 2) {
    throw new InputError(
      `oxide "${oxide}": found ${[...atoms.keys()].join(', ')}; expected one element with oxygen`,
    );
  }
  const ratio = oxygenAtoms / atoms.get(element)!;
  const oxygen = weightOf('O');
  const own = weightOf(element);
  const sensitivityToOxygen = ratio / own.value;
  const sensitivityToElement = (-ratio * oxygen.value) / own.value ** 2;
  return {
    element,
    oxide,
    factor: 1 + (ratio * oxygen.value) / own.value,
    standardUncertainty: Math.hypot(
      sensitivityToElement * own.standardUncertainty,
      sensitivityToOxygen * oxygen.standardUncertainty,
    ),
    sensitivityToElement,
    sensitivityToOxygen,
  };
}
