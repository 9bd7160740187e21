import { formatSignificant } from '../../quantities/rounding.js';
import type {
  MeasurementEvaluation,
  OutputEvaluation,
} from '../../studies/measurement/evaluate-measurement.js';
import type { WhatWouldItTake } from '../../uncertainty/what-would-it-take.js';
import { budgetText, degreesOfFreedomText } from './budget-text.js';
import { improvementSentence } from './improvement-sentence.js';
import { withoutSilentLines } from './silent-lines.js';
import { sentenceOnReporting, simulatedSentences, simulationSentence } from './simulation-sentences.js';
import { targetSentence } from './target-sentence.js';

/** What is found for a measurement, as lines of text for a terminal. */
export function measurementText({
  propagation,
  outputs,
  simulation,
  notes,
}: MeasurementEvaluation): string[] {
  const { title, equations } = propagation.model;
  const width = Math.max(...equations.map(({ name }) => name.length));
  return [
    title,
    '',
    ...equations.map(
      ({ name, expression, description, unit }) =>
        `  ${name.padEnd(width)} = ${expression}   (${description}${unit === '1' ? '' : `, ${unit}`})`,
    ),
    ...outputs.flatMap((output) => ['', ...outputText(output)]),
    ...(simulation === null ? [] : ['', simulationSentence(simulation)]),
    ...[...(simulation?.notes ?? []), ...notes].map((note) => `Note: ${note}`),
    // Last, where a reader looks for it: two results stand above.
    ...outputs.flatMap(sentenceOnReporting),
  ];
}

function outputText(evaluation: OutputEvaluation): string[] {
  const { secondOrder, simulated, comparison, reported, target, improvement } = evaluation;
  const budget = withoutSilentLines(evaluation.budget, secondOrder);
  const { description, unit, standardUncertainty, effectiveDegreesOfFreedom } = budget;
  const shownUnit = unit === '1' ? '' : ` ${unit}`;
  const u =
    `u = ${formatSignificant(standardUncertainty, 3)}${shownUnit}, ` +
    `ν = ${degreesOfFreedomText(effectiveDegreesOfFreedom)} effective degrees of freedom`;
  return [
    `Budget of ${budget.output}, ${description}`,
    ...budgetText(budget),
    `Law of propagation: ${u}`,
    ...(reported === null ? [] : [`  ${reported.result}`, `  ${reported.basis}`]),
    secondOrder.statement,
    ...budget.notes.map((note) => `Note: ${note}`),
    ...simulatedSentences(evaluation),
    ...(simulated?.notes ?? []).map((note) => `Note: ${note}`),
    ...(comparison === null ? [] : [comparison.statement]),
    ...(comparison?.reasons ?? []).map((reason) => `Likely reason: ${reason}`),
    ...(target === null ? [] : [targetSentence(budget, target)]),
    ...(improvement === null ? [] : improvementText(improvement, shownUnit)),
  ];
}

/** The three most effective single improvements, and what the laboratory has in mind. */
function improvementText({ single, actions, meetsTarget }: WhatWouldItTake, unit: string): string[] {
  if (meetsTarget && actions.length === 0) return [];
  return [
    'What it would take:',
    ...single.slice(0, 3).map((improvement) => `  ${improvementSentence(improvement, unit)}`),
    ...actions.map(
      ({ name, expandedUncertainty, meetsTarget: meets }) =>
        `  ${name}: U = ${formatSignificant(expandedUncertainty, 2)}${unit}, ${meets ? 'within' : 'not within'} the target`,
    ),
  ];
}
