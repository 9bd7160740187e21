import { beforeAll, describe, expect, it } from 'vitest';
import { budgetSteps } from '../../../src/report/budget/budget-steps.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import {
  type ChainUncertainty,
  chainUncertainty,
} from '../../../src/studies/chain-uncertainty/chain-uncertainty.js';
import type { HandedOnFunction } from '../../../src/studies/chain-uncertainty/handed-on-function.js';
import { type MatrixValidation, validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';

// An end of an interval is then known to half a unit of the second digit of u, so that chance alone makes no two methods differ.
const simulation = { seed: 7, trials: 200_000 };

describe('the uncertainty of the chain, from records to figures', () => {
  let validation: MatrixValidation;
  let chain: ChainUncertainty;
  beforeAll(async () => {
    validation = validateMatrix(zirconPigmentStudy({ seed: 20260302 }).records);
    chain = await chainUncertainty(validation, simulation);
  }, 120_000);

  const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

  it('speaks of every analyte and level whose precision was studied', () => {
    expect(chain.levels.map((l) => `${l.analyte} ${l.level}`)).toEqual(
      validation.precision.map((p) => `${p.analyte} ${p.level}`),
    );
    expect(chain.levels).toHaveLength(24);
  });

  it('splits the variance by steps whose shares add to 1, by both routes', () => {
    for (const { shares, precisionShares } of chain.levels) {
      expect(sum(shares.map((s) => s.share))).toAgreeWithin(1, 1e-12);
      expect(sum(precisionShares.map((s) => s.share))).toAgreeWithin(1, 1e-12);
      expect(new Set(shares.map((s) => s.step)).size).toBe(shares.length);
    }
  });

  it('counts random parts once: no step of unexplained variation beside the observed precision', () => {
    for (const { shares, precisionShares } of chain.levels) {
      expect(shares.map((s) => s.step)).not.toContain('observed precision');
      expect(precisionShares.map((s) => s.step)).not.toContain('unexplained variation');
      expect(precisionShares.find((s) => s.step === 'emission')!.share).toBe(0);
      expect(shares.at(-1)!.step).toBe('unexplained variation');
      expect(precisionShares.at(-1)!.step).toBe('observed precision');
    }
  });

  it('makes up the observed scatter from the predicted and the unexplained part', () => {
    for (const { scatter } of chain.levels) {
      const together = Math.hypot(scatter.predicted, scatter.unexplained);
      if (scatter.unexplained > 0) expect(together).toAgreeWithin(scatter.observed, 1e-12);
      else expect(scatter.predicted).toBeGreaterThanOrEqual(scatter.observed);
      expect(scatter.observedInterval.low).toBeLessThan(scatter.observed);
      expect(scatter.observedInterval.high).toBeGreaterThan(scatter.observed);
    }
  });

  it('tests the statistic that is printed: the standard deviation of the day means with days − 1 degrees of freedom', () => {
    // Si middle: digestions of one day differ more than days do, s_day is held at 0. F = (0.320/0.330)², p 0.49, not 0.012.
    let below = 0;
    for (const { analyte, level, scatter } of chain.levels) {
      const { components, digestionsPerResult, overDays } = validation.precision.find(
        (p) => p.analyte === analyte && p.level === level,
      )!.precision;
      expect(digestionsPerResult).toBe(2);
      const means = components.days.map((day) => day.mean);
      const centre = sum(means) / 10;
      const deviation = Math.sqrt(sum(means.map((m) => (m - centre) ** 2)) / 9) / centre;
      expect(scatter.observed).toAgreeWithin(deviation, 1e-12);
      expect(scatter.observedDegreesOfFreedom).toAgreeWithin(9, 1e-12);
      // χ² with 9 degrees of freedom: 2.5 % points 2.70039 and 19.0228 (tables).
      expect(scatter.observedInterval.low).toAgreeWithin(deviation * Math.sqrt(9 / 19.022768), 1e-6);
      expect(scatter.observedInterval.high).toAgreeWithin(deviation * Math.sqrt(9 / 2.7003895), 1e-6);
      if (scatter.observed < (overDays.value / components.mean) * (1 - 1e-9)) below++;
    }
    expect(below).toBe(8);
    const silicon = chain.levels.find((l) => l.analyte === 'Si' && l.level === 'middle')!.scatter;
    expect(100 * silicon.observed).toRoundTo('0.320');
    expect(silicon.pValue).toRoundTo('0.49');
    expect(silicon.unexplained).toBe(0);
  });

  it('lists the unexplained variation as a step of its own in the budget as in the shares', () => {
    for (const { routes, shares } of chain.levels) {
      const steps = budgetSteps(routes.components);
      for (const { step, share } of shares) {
        expect(steps.find((s) => s.step === step)!.share).toAgreeWithin(share, 1e-12);
      }
    }
  });

  it('has both routes agree where an unexplained part closes the gap, and within the interval of the observed scatter elsewhere', () => {
    for (const { routes, scatter } of chain.levels) {
      if (scatter.unexplained > 0) {
        expect(routes.components.standardUncertainty).toAgreeWithin(
          routes.precision.standardUncertainty,
          1e-9,
        );
      }
      expect(routes.position).toBe('within');
      expect(routes.precisionInterval.low).toBeLessThan(routes.precision.standardUncertainty);
      expect(routes.precisionInterval.high).toBeGreaterThan(routes.precision.standardUncertainty);
      expect(routes.componentsAlone.standardUncertainty).toBeLessThanOrEqual(
        routes.components.standardUncertainty,
      );
    }
  });

  it('finds components alone too small exactly where the interval of the unexplained part leaves out 0', () => {
    for (const { routes, scatter } of chain.levels) {
      const tooSmall = scatter.unexplainedInterval.low > 0;
      expect(routes.positionAlone === 'below').toBe(tooSmall);
    }
    expect(new Set(chain.levels.map((l) => l.routes.positionAlone))).toEqual(new Set(['below', 'within']));
  });

  it('agrees with the simulation once limited degrees of freedom are set aside', () => {
    for (const { methods } of chain.levels) {
      const { budget, simulated, comparison } = methods.known;
      expect(comparison.outcome).not.toBe('differ');
      // u of 200 000 trials is known to 1/√400 000 = 0.16 %: four of them.
      expect(simulated.standardUncertainty!).toAgreeWithin(budget.standardUncertainty, 0.0064);
      expect(budget.standardUncertainty).toAgreeWithin(methods.components.budget.standardUncertainty, 1e-12);
    }
  });

  it('gives a reason wherever the methods differ, and no standard uncertainty for two degrees of freedom or fewer', () => {
    for (const { methods } of chain.levels) {
      for (const { comparison, simulated, budget } of [methods.components, methods.precision]) {
        if (comparison.outcome === 'differ') expect(comparison.reasons[0]).toMatch(/degrees? of freedom/);
        const few = budget.lines.some((l) => l.contribution > 0 && l.input.degreesOfFreedom <= 2);
        expect(simulated.standardUncertainty === null).toBe(few);
      }
    }
    expect(chain.levels.some((l) => l.methods.components.comparison.outcome === 'differ')).toBe(true);
  });

  it('repeats to the bit with the same seed', async () => {
    const again = await chainUncertainty(
      { ...validation, budgets: validation.budgets.slice(0, 1) },
      simulation,
    );
    expect(again.levels[0]!.methods.components.simulated).toEqual(
      chain.levels[0]!.methods.components.simulated,
    );
  });

  it('hands on a function of the mass fraction that returns u of each level by its ratio', () => {
    const functions = chain.functions.filter((f): f is HandedOnFunction => 'points' in f);
    expect(functions.map((f) => f.analyte)).toEqual(['Zr', 'Si', 'Pr', 'Hf', 'Al', 'Fe', 'Ti', 'Ca']);
    for (const { constantPart, proportionalPart, points, outsideBudget, analyte } of functions) {
      for (const { massFraction, standardUncertainty, ratio } of points) {
        const fitted = Math.hypot(constantPart, proportionalPart * massFraction);
        expect(ratio * fitted).toAgreeWithin(standardUncertainty, 1e-12);
        expect(ratio).toBeGreaterThan(0.7);
        expect(ratio).toBeLessThan(1.4);
      }
      expect(outsideBudget === null).toBe(analyte !== 'Al');
    }
    const notes = (analyte: string) => functions.find((f) => f.analyte === analyte)!.notes.join();
    expect(notes('Zr')).toContain('the levels span less than a factor of 2');
    expect(notes('Fe')).not.toContain('span');
  });

  it('says what it would take for the analyte nearest to its target, passing over the biased one', () => {
    const { improvement } = chain;
    const demands = validation.budgets
      .filter((b) => b.outsideBudget === null)
      .map((b) => ({
        name: `${b.analyte} ${b.level}`,
        demand: b.components.expandedUncertainty / b.components.estimate / b.targetPercent!,
      }));
    const hardest = demands.reduce((a, b) => (b.demand > a.demand ? b : a));
    expect(`${improvement!.analyte} ${improvement!.level}`).toBe(hardest.name);
    expect(improvement!.aim).toBe('half');
    const today = validation.budgets.find((b) => `${b.analyte} ${b.level}` === hardest.name)!;
    const { actions, expandedUncertainty, target } = improvement!.found;
    expect(target).toBe(expandedUncertainty / 2);
    for (const action of actions) {
      expect(action.standardUncertainty).toBeLessThanOrEqual(today.components.standardUncertainty);
      expect(action.meetsTarget).toBe(action.expandedUncertainty <= target);
    }
    // The random part of the variance, by its lines: all of it is halved by the mean of two days; twice the digestions of
    // one day leave the scatter between days as it was observed.
    const { standardUncertainty, estimate, lines } = today.components;
    const lasting = sum(lines.filter((l) => !l.input.withinPrecision).map((l) => l.contribution ** 2));
    const u = (name: string) => actions.find((a) => a.name.startsWith(name))!.standardUncertainty;
    expect(u('the mean of two days')).toAgreeWithin(
      Math.sqrt(lasting + (standardUncertainty ** 2 - lasting) / 2),
      1e-9,
    );
    const { dayVariance, digestionVariance, mean } = validation.precision.find(
      (p) => p.analyte === improvement!.analyte && p.level === improvement!.level,
    )!.precision.components;
    const scatter = Math.sqrt(dayVariance + digestionVariance / 4) / mean;
    expect(u('4 digestions')).toAgreeWithin(Math.sqrt(lasting + (scatter * estimate) ** 2), 1e-9);
  });

  it('refuses a study without levels and simulations of too few trials', async () => {
    await expect(chainUncertainty({ ...validation, budgets: [] }, simulation)).rejects.toThrow(
      'expected a level with results on two days',
    );
    await expect(chainUncertainty(validation, { seed: 1, trials: 100 })).rejects.toThrow('trials');
  });
});
