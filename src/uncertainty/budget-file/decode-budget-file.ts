import { InputError, type RecordIssue, RecordsError } from '../../errors.js';
import { parseUnit } from '../../quantities/unit.js';
import { buildProgram } from '../expression/build-program.js';
import { parseExpression } from '../expression/parse.js';
import type { BudgetFile } from './budget-file.js';
import { budgetFileSchema } from './budget-file-schema.js';
import { evaluateBudgetFile } from './evaluate-budget-file.js';
import { inputOf } from './inputs-of-budget-file.js';
import { faultToIssue, schemaFaults } from './json-schema.js';

/**
 * A budget file from parsed JSON. Faults of form are all found at once; where there are none, all formulas, units and
 * inputs are tried one by one, and then the whole is evaluated.
 *
 * @param json what `JSON.parse` returned
 * @param file name of the file, for messages
 * @throws RecordsError with every problem found
 */
export function decodeBudgetFile(json: unknown, file: string): BudgetFile {
  const faults = schemaFaults(json, budgetFileSchema);
  if (faults.length > 0) throw new RecordsError(faults.map((fault) => faultToIssue(fault, file)));
  const decoded = json as BudgetFile;
  const issues = partIssues(decoded, file);
  if (issues.length === 0) issues.push(...attempt(file, null, () => evaluateBudgetFile(decoded)));
  if (issues.length > 0) throw new RecordsError(issues);
  return decoded;
}

function partIssues(decoded: BudgetFile, file: string): RecordIssue[] {
  const equations = decoded.equations.flatMap(({ expression, unit }, i) => [
    ...attempt(file, `equations[${i}].expression`, () => parseExpression(expression)),
    ...attempt(file, `equations[${i}].unit`, () => parseUnit(unit)),
  ]);
  const inputs = decoded.inputs.flatMap((input, i) => [
    ...attempt(file, `inputs[${i}]`, () => inputOf(input)),
    ...attempt(file, `inputs[${i}].unit`, () => parseUnit(input.unit)),
  ]);
  return [...equations, ...inputs, ...undefinedNames(decoded, file), ...correlationIssues(decoded, file)];
}

/** Names in equations that neither an input quantity nor an equation bears. */
function undefinedNames({ equations, inputs }: BudgetFile, file: string): RecordIssue[] {
  const known = [...inputs, ...equations].map(({ name }) => name);
  // A name given twice may stand in the place of the missing one: that is told first.
  if (new Set(known).size < known.length) return [];
  return equations.flatMap(({ name, expression }, i) =>
    namesIn(name, expression)
      .filter((used) => !known.includes(used))
      .map((used) => ({
        code: 'undefined name',
        file,
        row: null,
        column: `equations[${i}].expression`,
        found: `"${used}", which is not defined`,
        expected: `names of input quantities or equations: ${known.join(', ')}`,
      })),
  );
}

/** Names a formula uses; none of one that cannot be read, which is a problem of its own. */
function namesIn(name: string, expression: string): readonly string[] {
  try {
    return buildProgram([{ name, tree: parseExpression(expression) }]).inputs;
  } catch (error) {
    if (error instanceof InputError) return [];
    throw error;
  }
}

function correlationIssues({ correlations = [] }: BudgetFile, file: string): RecordIssue[] {
  return correlations.flatMap(({ coefficient }, i) =>
    coefficient >= -1 && coefficient <= 1
      ? []
      : [
          {
            code: 'correlation',
            file,
            row: null,
            column: `correlations[${i}].coefficient`,
            found: String(coefficient),
            expected: 'a number from -1 to 1',
          },
        ],
  );
}

function attempt(file: string, column: string | null, act: () => unknown): RecordIssue[] {
  try {
    act();
    return [];
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return [{ code: 'meaning', file, row: null, column, ...foundAndExpected(error.message) }];
  }
}

/** What a message says was found and expected, with the place it names: `unit "x", position 1: found "x"; expected …`. */
function foundAndExpected(message: string): { found: string; expected: string } {
  const parts = /^(?:(.+?): )?found (.+?)[;,] expected (.+?)( at position \d+)?(\n.*)?$/s.exec(message);
  if (parts === null) return { found: message, expected: 'a budget that can be evaluated' };
  const [, place, found = '', expected = '', position = '', excerpt = ''] = parts;
  const where = place === undefined ? position : `${position} (${place})`;
  return { found: found + where, expected: expected + excerpt };
}
