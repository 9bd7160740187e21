import { beforeAll, describe, expect, it } from 'vitest';
import { sentenceOnReporting } from '../../src/report/budget/simulation-sentences.js';
import {
  evaluateMeasurement,
  measurementOf,
  type OutputEvaluation,
} from '../../src/studies/measurement/evaluate-measurement.js';
import type { BudgetFile } from '../../src/uncertainty/budget-file/budget-file.js';
import { reference } from '../support/reference.js';

describe('which result is to be reported', () => {
  let evaluation: OutputEvaluation;
  beforeAll(async () => {
    const { budget } = reference<{ budget: BudgetFile }>('uncertainty/gum-h1-end-gauge');
    const simulation = { trials: 20_000, seed: 1, workers: 1 };
    const { outputs } = await evaluateMeasurement(measurementOf(budget), { simulation, output: 'l' });
    evaluation = outputs.find((output) => output.budget.output === 'l')!;
  });

  const sentences = (outcome: 'agree' | 'differ' | 'not decided') =>
    sentenceOnReporting({ ...evaluation, comparison: { ...evaluation.comparison!, outcome } });

  it('follows from whether the two methods agree', () => {
    expect(sentences('agree')).toEqual([expect.stringContaining(evaluation.reported!.result)]);
    expect(sentences('differ')).toEqual([
      expect.stringMatching(/ nm with the 99 % interval .* from the simul/),
    ]);
    expect(sentences('differ')[0]).not.toContain(evaluation.reported!.result);
    expect(sentences('not decided')).toEqual([expect.stringMatching(/^To report for l: not decided yet/)]);
  });

  it('is not said where there are no two results', () => {
    expect(sentenceOnReporting({ ...evaluation, simulated: null, comparison: null })).toEqual([]);
  });
});
