import { InputError, requirePositive } from '../errors.js';
import type { InputQuantity } from '../uncertainty/input-quantity.js';
import type { ModelEquation } from '../uncertainty/measurement-model.js';
import { type Balance, readingErrorEquation, readingErrors, sensitivityFactor } from './balance.js';
import { type ModelFragment, recordedValue } from './model-fragment.js';
import { densityFragment } from './solution/density.js';
import {
  type MeasuredVolume,
  massOfVolume,
  volumeInputs,
  volumeMassExpression,
} from './solution/measured-volume.js';

/** One further dilution by mass: net masses from one balance, whose sensitivity cancels in the ratio. */
export interface MassDilution {
  readonly dilution: string;
  readonly balance: Balance;
  readonly aliquotG: number;
  readonly finalG: number;
}

/** One further dilution of which at least one amount is a volume; a mass is then a true one, so the balance counts. */
export interface VolumeDilution {
  readonly dilution: string;
  readonly balance: Balance;
  readonly aliquot: DilutionAmount;
  readonly final: DilutionAmount;
}

export type DilutionAmount = { readonly massG: number } | MeasuredVolume;

export type Dilution = MassDilution | VolumeDilution;

/**
 * Dilution factor: mass of the final solution per mass of aliquot.
 *
 * @throws InputError a mass not above 0, or an aliquot heavier than the final solution
 * @example
 * dilutionFactor(5, 100) // => 20
 */
export function dilutionFactor(aliquotG: number, finalG: number): number {
  requirePositive(aliquotG, 'mass of the aliquot in g');
  requirePositive(finalG, 'mass of the final solution in g');
  if (aliquotG > finalG)
    throw new InputError(`dilution: aliquot of ${aliquotG} g exceeds the final ${finalG} g`);
  return finalG / aliquotG;
}

/** Masses of aliquot and final solution, g: net readings where both are weighed, true masses where one is a volume. */
export function dilutionMasses(
  dilution: Dilution,
  buoyancy: number,
): { readonly aliquotG: number; readonly finalG: number } {
  if ('aliquotG' in dilution) return { aliquotG: dilution.aliquotG, finalG: dilution.finalG };
  const mass = (amount: DilutionAmount) =>
    'massG' in amount ? amount.massG * buoyancy : massOfVolume(amount);
  return { aliquotG: mass(dilution.aliquot), finalG: mass(dilution.final) };
}

/** Scale of a weighed mass of a dilution in the equations: nothing where it cancels in a ratio of masses. */
export function weighedScale(dilution: Dilution, sensitivity: string): string {
  return 'aliquotG' in dilution ? '' : ` * ${sensitivity} * B_s`;
}

/**
 * Step "dilution": factor `name` and the masses `m_al_<name>`, `m_fi_<name>`. Each net mass is a difference of two readings
 * of which the first is set to zero, so the errors of two readings count.
 */
export function dilutionFragment(name: string, dilution: Dilution, sensitivity: string): ModelFragment {
  const source = `dilutions, row ${dilution.dilution}`;
  const scale = weighedScale(dilution, sensitivity);
  const byMass = 'aliquotG' in dilution;
  const aliquot = byMass ? { massG: dilution.aliquotG } : dilution.aliquot;
  const final = byMass ? { massG: dilution.finalG } : dilution.final;
  const parts = [
    amountFragment('aliquot', `m_al_${name}`, name, aliquot, dilution.balance, scale, source),
    amountFragment('final', `m_fi_${name}`, name, final, dilution.balance, scale, source),
  ];
  return {
    equations: [
      ...parts.flatMap((p) => p.equations),
      {
        name,
        description: 'dilution factor',
        unit: '1',
        expression: `m_fi_${name} / m_al_${name}`,
      },
    ],
    inputs: [
      ...parts.flatMap((p) => p.inputs),
      ...(scale !== '' && ('massG' in aliquot || 'massG' in final)
        ? [{ ...sensitivityFactor(dilution.balance, sensitivity), step: 'dilution' }]
        : []),
    ],
    correlations: [],
  };
}

function amountFragment(
  part: 'aliquot' | 'final',
  massName: string,
  name: string,
  amount: DilutionAmount,
  balance: Balance,
  scale: string,
  source: string,
): ModelFragment {
  const symbol = `${part}_${name}`;
  const words = part === 'final' ? 'final solution' : part;
  const mass = (expression: string): ModelEquation => ({
    name: massName,
    description: `mass: ${words}`,
    unit: 'g',
    expression,
  });
  if (!('massG' in amount)) {
    const density = densityFragment(amount.densityName, amount.density, source);
    return {
      equations: [...density.equations, mass(volumeMassExpression(symbol, amount))],
      inputs: [...density.inputs, ...volumeInputs(symbol, words, amount, source)],
      correlations: [],
    };
  }
  const net = netReading(symbol, words, amount.massG, balance, 'dilution', source);
  return { ...net, equations: [...net.equations, mass(`${net.expression}${scale}`)] };
}

/** A net mass on a balance set to zero before: the errors of two readings. */
export function netReading(
  symbol: string,
  words: string,
  massG: number,
  balance: Balance,
  step: string,
  source: string,
): ModelFragment & { readonly expression: string } {
  const errors: InputQuantity[] = [
    ...readingErrors(balance, symbol, words, massG),
    ...readingErrors(balance, `${symbol}0`, `zero before ${words}`, 0),
  ];
  return {
    expression: `(m_${symbol} + e_${symbol} - e_${symbol}0)`,
    equations: [
      readingErrorEquation(symbol, words),
      readingErrorEquation(`${symbol}0`, `zero before ${words}`),
    ],
    inputs: [
      recordedValue(`m_${symbol}`, `net mass: ${words}`, 'g', massG, step, source),
      ...errors.map((input) => ({ ...input, step })),
    ],
    correlations: [],
  };
}
