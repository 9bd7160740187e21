import { roundToUncertainty } from '../../quantities/rounding.js';
import type { Budget, BudgetLine } from '../../uncertainty/budget.js';
import type { InputQuantity } from '../../uncertainty/input-quantity.js';
import { type BudgetStep, budgetSteps } from '../budget/budget-steps.js';
import { distributionName } from '../budget/budget-table.js';
import { nameToMathml } from '../equation/expression-to-mathml.js';
import { anchor } from './anchor.js';
import { escapeHtml } from './escape.js';
import { notesHtml } from './render-table.js';
import { digitsAsGiven, inlineNumber, typesetNumber, typesetText } from './typeset-number.js';
import { verdictMark } from './verdict-mark.js';

function plain(value: number, digits: number): string {
  return inlineNumber(typesetNumber(value, digits));
}

/** Degrees of freedom: whole ones as they are, others to a tenth. */
function freedom(value: number): string {
  const shown = Math.round(10 * value) / 10;
  return plain(shown, digitsAsGiven(shown));
}

function percent(share: number): string {
  const rounded = (100 * share).toFixed(1).replace('-', '\u2212');
  return rounded === '0.0' || rounded === '\u22120.0' ? '&lt;\u20090.05' : rounded;
}

function bar(share: number): string {
  const width = Math.min(100, Math.max(0, 100 * share)).toFixed(1);
  return `<span class="bar" aria-hidden="true"><span style="width:${width}%"></span></span>`;
}

function withUnit(value: string, unit: string): string {
  return unit === '' || unit === '1' ? value : `${value} <span class="unit">${escapeHtml(unit)}</span>`;
}

/** An input to the last place that its standard uncertainty of two digits has; a constant as it was given. */
function inputEstimate({ estimate, standardUncertainty }: InputQuantity): string {
  if (!(standardUncertainty > 0)) return plain(estimate, Math.min(8, digitsAsGiven(estimate)));
  return inlineNumber(typesetText(roundToUncertainty(estimate, standardUncertainty).valueText));
}

function lineHtml({ input, sensitivity, contribution, share }: BudgetLine): string {
  const equipment = input.equipment === undefined ? '' : `; equipment ${input.equipment}`;
  const source = escapeHtml(`${input.source}${equipment}`);
  return (
    `<tr><th scope="row"><math>${nameToMathml(input.name)}</math> ${escapeHtml(input.description)}` +
    ` <span class="source">${source}</span></th>` +
    `<td class="number">${withUnit(inputEstimate(input), input.unit)}</td>` +
    `<td class="number">${plain(input.standardUncertainty, 2)}</td>` +
    `<td class="number">${freedom(input.degreesOfFreedom)}</td>` +
    `<td>${input.evaluation}, ${escapeHtml(distributionName(input.distribution))}</td>` +
    `<td class="number">${plain(sensitivity, 3)}</td>` +
    `<td class="number">${plain(contribution, 2)}</td>` +
    `<td class="number share">${percent(share)}${bar(share)}</td></tr>`
  );
}

function stepHtml({ step, lines, contribution, share }: BudgetStep): string {
  const total =
    `<tr class="group"><th scope="rowgroup" colspan="6">${escapeHtml(step)}</th>` +
    `<td class="number">${plain(contribution, 2)}</td>` +
    `<td class="number share">${percent(share)}${bar(share)}</td></tr>`;
  return `<tbody>${total}${lines.map(lineHtml).join('\n')}</tbody>`;
}

function headHtml(unit: string): string {
  const heads: readonly (readonly [string, boolean])[] = [
    ['Quantity, source', false],
    ['Estimate', true],
    ['<i>u</i>', true],
    ['<i>ν</i>', true],
    ['Type, distribution', false],
    ['<i>c</i>', true],
    [`|<i>c</i>|·<i>u</i> <span class="unit">${escapeHtml(unit)}</span>`, true],
    ['Share <span class="unit">%</span>', true],
  ];
  const cells = heads.map(
    ([heading, numeric]) => `<th scope="col"${numeric ? ' class="number"' : ''}>${heading}</th>`,
  );
  return `<thead><tr>${cells.join('')}</tr></thead>`;
}

/** The estimate to the last place that its expanded uncertainty of two digits has. */
function estimateHtml({ estimate, expandedUncertainty }: Budget): string {
  if (!(expandedUncertainty > 0)) return plain(estimate, 6);
  return inlineNumber(typesetText(roundToUncertainty(estimate, expandedUncertainty).valueText));
}

function resultHtml(budget: Budget, target: number | null): string {
  const unit = budget.unit;
  const facts = [
    [escapeHtml(budget.description), withUnit(estimateHtml(budget), unit)],
    ['Standard uncertainty <i>u</i>', withUnit(plain(budget.standardUncertainty, 2), unit)],
    ['Effective degrees of freedom', freedom(budget.effectiveDegreesOfFreedom)],
    [
      `Coverage factor <i>k</i> for ${plain(100 * budget.coverageProbability, digitsAsGiven(100 * budget.coverageProbability))} %`,
      plain(budget.coverageFactor, 3),
    ],
    ['Expanded uncertainty <i>U</i>', withUnit(plain(budget.expandedUncertainty, 2), unit)],
  ];
  if (target !== null) {
    const verdict = verdictMark(budget.expandedUncertainty <= target ? 'met' : 'not met');
    facts.push([
      'Target for <i>U</i>',
      `at most ${withUnit(plain(target, Math.min(4, digitsAsGiven(target))), unit)}: ${verdict}`,
    ]);
  }
  return `<dl class="facts">${facts.map(([name, value]) => `<div><dt>${name}</dt><dd>${value}</dd></div>`).join('')}</dl>`;
}

/** What the columns of a budget mean; said once under each so that a page stands alone. */
const legend =
  'u standard uncertainty and ν degrees of freedom of the input, c sensitivity coefficient; a step’s |c|·u is the root sum of squares of its lines, shares hold covariances split evenly.';

/**
 * An uncertainty budget as HTML: the result, then the input quantities gathered by step with sub-totals.
 *
 * @param id identifier, used as anchor
 * @param caption caption of the table
 * @param budget the budget
 * @param target largest expanded uncertainty allowed, in the unit of the output; `null` where none is set
 * @see JCGM 100:2008 (GUM), 7.1.4 and 7.2
 */
export function renderBudgetHtml(id: string, caption: string, budget: Budget, target: number | null): string {
  const steps = budgetSteps(budget).map(stepHtml).join('\n');
  return (
    `<div class="table budget" id="${anchor(id)}">${resultHtml(budget, target)}` +
    `<table><caption>${escapeHtml(caption)}</caption>${headHtml(budget.unit)}\n${steps}</table>` +
    `${notesHtml([legend, ...budget.notes])}</div>`
  );
}
