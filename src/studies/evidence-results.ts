import { type Answer, both, lacking, yes } from './evidence-answer.js';
import type { EvidenceInput } from './evidence-input.js';
import { proficiencyScores } from './proficiency.js';
import { proficiencySignals, type RoundSignal } from './proficiency-signals.js';

/** Clause 7.6: budgets, and what findings say that they do not hold. */
export function uncertaintyAnswer({ records, findings, budgets }: EvidenceInput): Answer {
  const without = records.plan.analytes
    .map(({ analyte }) => analyte)
    .filter((analyte) => !budgets.some((b) => b.analyte === analyte));
  const outsideBudgets = new Map(
    budgets.flatMap((b) => (b.outsideBudget === null ? [] : [[b.analyte, b.outsideBudget]])),
  );
  const conditional = findings
    .filter((f) => f.characteristic === 'target uncertainty' && (f.conditions ?? []).length > 0)
    .map((f) => f.analyte);
  return both(
    yes(budgets.length > 0, `${budgets.length} uncertainty budgets`, 'no uncertainty budget'),
    lacking([
      ...(budgets.length > 0 && without.length > 0 ? [`${without.join(', ')}: no uncertainty budget`] : []),
      ...[...outsideBudgets].map(
        ([analyte, why]) =>
          `${analyte}: ${why} Its budgets do not hold this, nor do they describe its results`,
      ),
      ...(conditional.length === 0
        ? []
        : [
            `${[...new Set(conditional)].join(', ')}: the target uncertainty is met on a condition only, as its budgets do not hold all that was found`,
          ]),
    ]),
  );
}

/** Clause 7.7: control results and proficiency rounds, what they signal, and analytes that neither has. */
export function validityAnswer({ records }: EvidenceInput): Answer {
  const { history, rounds, plan } = records;
  const watched = [...history, ...rounds].map((row) => row.analyte);
  const unwatched = plan.analytes.map((a) => a.analyte).filter((analyte) => !watched.includes(analyte));
  const isEmpty = history.length === 0 && rounds.length === 0;
  return both(
    yes(history.length > 0, `${history.length} control results`, 'no control results'),
    yes(
      rounds.length > 0,
      `${new Set(rounds.map((r) => r.round)).size} proficiency rounds`,
      'no proficiency test',
    ),
    lacking([
      ...roundGaps(proficiencySignals(proficiencyScores(rounds))),
      ...(isEmpty || unwatched.length === 0
        ? []
        : [`${unwatched.join(', ')}: neither control results nor proficiency rounds`]),
    ]),
  );
}

/** Analytes whose scores call for action, each with its scores. */
function roundGaps(signals: readonly RoundSignal[]): string[] {
  const calling = signals.filter((s) => s.callsForAction);
  return [...new Set(calling.map((s) => s.analyte))].map((analyte) => {
    const own = calling.filter((s) => s.analyte === analyte);
    const scores = own.map((s) => `${s.round} z = ${shown(s.z)}, ζ = ${shown(s.zeta)}`).join('; ');
    return `${analyte}: ${scores}: ${[...new Set(own.map((s) => s.signal))].join('; ')}; the investigation that this calls for is not on record`;
  });
}

function shown(score: number): string {
  return score.toFixed(1).replace('-', '\u2212');
}
