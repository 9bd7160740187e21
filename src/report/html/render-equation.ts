import { parseExpression } from '../../uncertainty/expression/parse.js';
import { expressionToMathml, nameToMathml } from '../equation/expression-to-mathml.js';
import { escapeHtml } from './escape.js';

/**
 * An equation with its unit, as HTML: set in MathML, with its text as it is calculated beneath.
 *
 * @param name name of the quantity on the left
 * @param expression formula on the right, in the syntax of measurement models
 * @param unit unit of the quantity, empty where it has none
 * @throws ExpressionError text that is no formula
 * @example
 * renderEquationHtml('w', 'n / m_p', 'mg/kg').includes('<mfrac>') // => true
 */
export function renderEquationHtml(name: string, expression: string, unit: string): string {
  const tail = unit === '' || unit === '1' ? '' : `<span class="unit">${escapeHtml(unit)}</span>`;
  const right = expressionToMathml(parseExpression(expression));
  const text = escapeHtml(`${name} = ${expression}`);
  return (
    `<div class="equation"><math display="block" aria-label="${text}"><mrow>${nameToMathml(name)}<mo>=</mo>${right}</mrow></math>` +
    `${tail}<code>${text}</code></div>`
  );
}
