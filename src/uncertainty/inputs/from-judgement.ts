import { requireFinite, requirePositive } from '../../errors.js';
import type { InputQuantity, SourceKind } from '../input-quantity.js';
import { described, type InputDescription } from './input-description.js';

/** A standard uncertainty judged from experience or general knowledge. */
export interface JudgedValue extends InputDescription {
  readonly value: number;
  readonly standardUncertainty: number;
  /** How far the standard uncertainty itself may be wrong, as a fraction; taken as known unless stated. */
  readonly reliability?: number;
  /** `judgement` unless stated. */
  readonly sourceKind?: SourceKind;
}

/**
 * Input quantity from judgement: normal, or t with degrees of freedom from how far the standard uncertainty can be trusted.
 *
 * @throws InputError a value that is not finite, an uncertainty or a reliability not above 0
 * @see JCGM 100:2008, 4.3.1 and G.4.2
 * @example
 * const about = { name: 'R', description: 'recovery', unit: '1', source: 'experience', step: 'fusion', value: 1 };
 * fromJudgement({ ...about, standardUncertainty: 0.005, reliability: 0.25 }).degreesOfFreedom // => 8
 */
export function fromJudgement(judged: JudgedValue): InputQuantity {
  const { name, value, standardUncertainty, reliability } = judged;
  requireFinite([value], `value of "${name}"`);
  requirePositive(standardUncertainty, `standard uncertainty of "${name}"`);
  const degreesOfFreedom =
    reliability === undefined ? Infinity : degreesOfFreedomFromReliability(reliability);
  return {
    ...described(judged),
    estimate: value,
    standardUncertainty,
    degreesOfFreedom,
    distribution: degreesOfFreedom === Infinity ? { kind: 'normal' } : { kind: 't' },
    evaluation: 'B',
    sourceKind: judged.sourceKind ?? 'judgement',
  };
}

/**
 * Degrees of freedom of a standard uncertainty that may be wrong by a fraction: ½·(Δu/u)⁻².
 *
 * @param relative Δu/u, above 0: 0.25 stands for 25 %
 * @see JCGM 100:2008, G.4.2, formula (G.3)
 * @example
 * degreesOfFreedomFromReliability(0.1) // => 50
 */
export function degreesOfFreedomFromReliability(relative: number): number {
  requirePositive(relative, 'relative uncertainty of a standard uncertainty');
  return Number((0.5 / relative ** 2).toPrecision(12));
}
