import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readBudgetFile } from '../../../src/records/budget-file.js';
import { evaluateMeasurement, measurementOf } from '../../../src/studies/measurement/evaluate-measurement.js';
import { budgetFileSchema } from '../../../src/uncertainty/budget-file/budget-file-schema.js';
import { functionRules } from '../../../src/uncertainty/expression/functions.js';
import { fieldRow, schemaFields, schemaWords } from '../../support/schema-fields.js';

const folder = resolve(__dirname, '../../../data/budget-examples');
const guide = readFileSync(join(folder, 'README.md'), 'utf8');
const files = readdirSync(folder).filter((name) => name.endsWith('.json'));

const evaluated = async (name: string) => {
  const measurement = measurementOf(await readBudgetFile(join(folder, name)));
  const evaluation = await evaluateMeasurement(measurement, { simulation: { trials: 100_000 } });
  return evaluation.outputs.at(-1)!;
};

describe('the guide to budget files', () => {
  it.each(schemaFields(budgetFileSchema))('describes $name of $record', (field) => {
    expect(field.description).not.toBe('');
    expect(guide).toContain(fieldRow(field));
  });

  it('describes no member that there is not', () => {
    const rows = guide.split('\n').filter((line) => /^\| `\w+` \| (yes|no) \|/.test(line));
    const known = new Set(schemaFields(budgetFileSchema).map(fieldRow));
    expect(rows.filter((row) => !known.has(row))).toEqual([]);
  });

  it('names every word that a member may have, and every function of formulas', () => {
    for (const word of [...schemaWords(budgetFileSchema), ...files]) expect(guide).toContain(`\`${word}\``);
    for (const name of Object.keys(functionRules)) expect(guide).toMatch(new RegExp(`\\b${name}\\b`));
  });
});

describe('the budget examples', () => {
  it('say where their figures come from', async () => {
    for (const name of files) {
      const { remark = '', title } = await readBudgetFile(join(folder, name));
      expect(remark).toMatch(/^(Published example: |Invented figures: )/);
      expect(title.includes('invented')).toBe(remark.startsWith('Invented'));
      expect(name.includes('invented')).toBe(remark.startsWith('Invented'));
    }
  });

  it('give what JCGM 100:2008, H.1 prints (remembered)', async () => {
    const { budget, secondOrder, target } = await evaluated('gum-h1-end-gauge.json');
    expect(budget.standardUncertainty).toRoundTo('32');
    expect(budget.effectiveDegreesOfFreedom).toRoundTo('16.7');
    expect(secondOrder.terms!.standardUncertainty).toRoundTo('34');
    expect(secondOrder.matters).toBe(true);
    expect(target).toMatchObject({ target: 100, met: true });
  });

  it('give what QUAM:2012, example A2 prints (read), by both methods', async () => {
    const { budget, comparison, target } = await evaluated('quam-a2-sodium-hydroxide.json');
    expect(budget.estimate).toRoundTo('0.10214');
    expect(budget.standardUncertainty).toRoundTo('0.00010');
    expect(budget.expandedUncertainty).toRoundTo('0.0002');
    expect(comparison!.outcome).not.toBe('differ');
    expect(target!.met).toBe(false);
  });

  it('show that the methods differ in JCGM 101:2008, 9.3, and why', async () => {
    const { comparison } = await evaluated('jcgm101-9-3-mass.json');
    expect(comparison!.outcome).toBe('differ');
    expect(comparison!.reasons).toEqual([expect.stringContaining('the largest term is of rho_a with rho_W')]);
  });

  it('tell what would meet the target in the invented chain', async () => {
    const { budget, improvement } = await evaluated('fusion-silica-invented.json');
    const actions = improvement!.actions.map(({ meetsTarget }) => meetsTarget);
    expect(actions).toEqual([false, true, true]);
    expect(budget.lines.reduce((sum, { share }) => sum + share, 0)).toAgreeWithin(1, 1e-12);
  });
});
