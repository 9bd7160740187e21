import { formatSignificant } from '../../quantities/rounding.js';
import type {
  MeasurementEvaluation,
  OutputEvaluation,
} from '../../studies/measurement/evaluate-measurement.js';
import type { WhatWouldItTake } from '../../uncertainty/what-would-it-take.js';
import { budgetText, degreesOfFreedomText } from './budget-text.js';
import { improvementSentence } from './improvement-sentence.js';
import { targetSentence } from './target-sentence.js';

/** What is found for a measurement, as lines of text for a terminal. */
export function measurementText({ propagation, outputs, notes }: MeasurementEvaluation): string[] {
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
    ...notes.map((note) => `Note: ${note}`),
  ];
}

function outputText({ budget, secondOrder, reported, target, improvement }: OutputEvaluation): string[] {
  const { description, unit, standardUncertainty, effectiveDegreesOfFreedom } = budget;
  const shownUnit = unit === '1' ? '' : ` ${unit}`;
  const pairs = secondOrder.matters ? (secondOrder.terms?.pairs ?? []) : [];
  const kept = new Set(pairs.flatMap(({ first, second }) => [first, second]));
  const u =
    `u = ${formatSignificant(standardUncertainty, 3)}${shownUnit}, ` +
    `ν = ${degreesOfFreedomText(effectiveDegreesOfFreedom)} effective degrees of freedom`;
  return [
    `Budget of ${budget.output}, ${description}`,
    ...budgetText(budget, kept),
    `Law of propagation: ${u}`,
    ...(reported === null ? [] : [`  ${reported.result}`, `  ${reported.basis}`]),
    secondOrder.statement,
    ...budget.notes.map((note) => `Note: ${note}`),
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
