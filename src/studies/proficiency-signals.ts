import type { ProficiencyScore } from './proficiency.js';

/** One score, and what it signals. */
export interface RoundSignal extends ProficiencyScore {
  /** In words; empty where |z| is below 2 and |ζ| below 3. */
  readonly signal: string;
  /** An action signal, the second of two successive warning signals, or a ζ that the stated uncertainty does not explain. */
  readonly callsForAction: boolean;
}

/** |z| from which a score is a warning, and from which it is an action signal; ζ is judged by the latter. */
export const scoreLimits = { warning: 2, action: 3 } as const;

/**
 * What scores signal: |z| of 3 and more asks for action, 2 to 3 is a warning, and two warnings in successive rounds of an
 * analyte call for an investigation as one action signal does. |ζ| of 3 and more says that the difference is not explained by
 * the uncertainties stated.
 *
 * @param scores in the order of the rounds
 * @returns in the same order
 * @see ISO 13528:2022, 9.4, 9.6 (clauses, and the rule of two successive warnings, from memory)
 */
export function proficiencySignals(scores: readonly ProficiencyScore[]): RoundSignal[] {
  return scores.map((score, i) => {
    const earlier = scores.slice(0, i).filter((s) => s.analyte === score.analyte);
    const last = earlier.filter((s) => s.round !== score.round).at(-1)?.round;
    const warnedBefore = earlier.some((s) => s.round === last && isWarning(s));
    const size = Math.abs(score.z);
    const byUncertainty = Math.abs(score.zeta) >= scoreLimits.action;
    const byScore = size >= scoreLimits.action || (isWarning(score) && warnedBefore);
    const signals = [
      ...(size >= scoreLimits.action ? ['action'] : isWarning(score) ? ['warning'] : []),
      ...(isWarning(score) && warnedBefore ? ['two or more successive warnings'] : []),
      ...(byUncertainty ? ['not explained by the stated uncertainty'] : []),
    ];
    return { ...score, signal: signals.join(', '), callsForAction: byScore || byUncertainty };
  });
}

function isWarning({ z }: ProficiencyScore): boolean {
  return Math.abs(z) >= scoreLimits.warning;
}
