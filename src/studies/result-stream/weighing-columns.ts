import {
  type BalanceSpecification,
  readingErrorUncertainties,
  sensitivityUncertainty,
} from '../../chain/balance.js';
import type { Lane } from '../../uncertainty/propagation/propagate-lanes.js';

/** Estimate and standard uncertainty of an input at each of some results. */
export interface LanePair {
  readonly estimates: Lane;
  readonly standardUncertainties: Lane;
}

/** Weighings of some digestions by the names that the steps of the chain give them. */
export class WeighingColumns {
  readonly #columns = new Map<string, LanePair>();

  get(name: string): LanePair | undefined {
    return this.#columns.get(name);
  }

  put(name: string, estimates: Lane, standardUncertainties: Lane): void {
    this.#columns.set(name, { estimates, standardUncertainties });
  }

  /** Balance readings and their errors: the inputs of `readingErrors`, in numbers. */
  putReadings(symbol: string, balances: readonly BalanceSpecification[], loadsG: Float64Array): void {
    const count = loadsG.length;
    const rep = new Float64Array(count);
    const round = new Float64Array(count);
    const lin = new Float64Array(count);
    const ecc = new Float64Array(count);
    for (let i = 0; i < count; i++) {
      const u = readingErrorUncertainties(balances[i]!, loadsG[i]!);
      rep[i] = u.rep;
      round[i] = u.round;
      lin[i] = u.lin;
      ecc[i] = u.ecc;
    }
    this.put(`m_${symbol}`, equalised(loadsG), 0);
    this.put(`rep_${symbol}`, 0, equalised(rep));
    this.put(`round_${symbol}`, 0, equalised(round));
    this.put(`lin_${symbol}`, 0, equalised(lin));
    this.put(`ecc_${symbol}`, 0, equalised(ecc));
  }

  putSensitivity(name: string, balances: readonly BalanceSpecification[]): void {
    this.put(name, 1, equalised(numbersOf(balances, sensitivityUncertainty)));
  }
}

/** One number of each row. */
export function numbersOf<R>(rows: readonly R[], numberOf: (row: R) => number): Float64Array {
  const numbers = new Float64Array(rows.length);
  for (let i = 0; i < numbers.length; i++) numbers[i] = numberOf(rows[i]!);
  return numbers;
}

/** One number where all are the same. */
export function equalised(values: Float64Array): Lane {
  const first = values[0]!;
  for (let i = 1; i < values.length; i++) if (values[i] !== first) return values;
  return first;
}
