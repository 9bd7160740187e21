import { InputError, requirePositive } from '../errors.js';
import { type Balance, readingErrorEquation, readingErrors } from './balance.js';
import { type ModelFragment, recordedValue } from './model-fragment.js';

/** One further dilution by mass: net masses from one balance, whose sensitivity cancels in the ratio. */
export interface MassDilution {
  readonly dilution: string;
  readonly balance: Balance;
  readonly aliquotG: number;
  readonly finalG: number;
}

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

/**
 * Step "dilution": factor `name`. Each net mass is a difference of two readings of which the first is set to zero,
 * so the errors of two readings count.
 */
export function dilutionFragment(name: string, dilution: MassDilution): ModelFragment {
  const source = `dilutions, row ${dilution.dilution}`;
  const net = (part: string) => {
    const symbol = `${part}_${name}`;
    return `(m_${symbol} + e_${symbol} - e_${symbol}0)`;
  };
  const inputs = (part: string, words: string, massG: number) => {
    const symbol = `${part}_${name}`;
    const errors = [
      ...readingErrors(dilution.balance, symbol, words, massG),
      ...readingErrors(dilution.balance, `${symbol}0`, `zero before ${words}`, 0),
    ];
    return [
      recordedValue(`m_${symbol}`, `net mass: ${words}`, 'g', massG, 'dilution', source),
      ...errors.map((input) => ({ ...input, step: 'dilution' })),
    ];
  };
  return {
    equations: [
      ...['aliquot', 'final'].flatMap((part) => [
        readingErrorEquation(`${part}_${name}`, part === 'final' ? 'final solution' : part),
        readingErrorEquation(`${part}_${name}0`, `zero before ${part === 'final' ? 'final solution' : part}`),
      ]),
      { name, description: 'dilution factor', unit: '1', expression: `${net('final')} / ${net('aliquot')}` },
    ],
    inputs: [
      ...inputs('aliquot', 'aliquot', dilution.aliquotG),
      ...inputs('final', 'final solution', dilution.finalG),
    ],
    correlations: [],
  };
}
