import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, it } from 'vitest';
import { markdown, notebookOf } from '../support/notebook-of.js';
import { outputsOf, printed, runInTests } from '../support/run-in-tests.js';

const guide = readFileSync(resolve(__dirname, '../../data/budget-examples/README.md'), 'utf8');
const [fromFile = '', ownModel = ''] = /```ts\n(.*?)```/s.exec(guide)![1]!.split('\n\n');

it('evaluates a budget file and a model of its own in a notebook, as the guide says', async () => {
  const { ok, failure, notebook } = await runInTests(
    notebookOf(
      markdown('# A measurement of any kind'),
      fromFile,
      ownModel,
      "import { makeBudget, propagate, simulate } from 'meltbook';",
      'const { outputs } = await simulate(model, inputs, [], { seed: 3, trials: 20_000, workers: 2 });',
      "console.log(outputs[0].symmetric.low < 0.9982 && makeBudget(propagate(model, inputs), 'rho').lines.length);",
    ),
    { timeoutSecondsPerCell: 120 },
  );
  expect(failure).toBeUndefined();
  expect(ok).toBe(true);
  const shown = JSON.stringify(outputsOf(notebook, 2));
  expect(shown).toContain('length at 20');
  expect(shown).toContain('Results by both methods');
  expect(JSON.stringify(outputsOf(notebook, 3))).toContain('density');
  expect(printed(notebook, 6)).toBe('2\n');
});
