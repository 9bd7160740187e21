import { routeFactor, unexplainedStep } from '../../chain/counting-route.js';
import type { Budget } from '../../uncertainty/budget.js';
import { groupBudget } from '../../uncertainty/group-budget.js';

/** What one step of the chain brings to a result. */
export interface ChainShare {
  readonly step: string;
  /** Share of the variance; shares of all steps add to 1. Covariances are split evenly, so that one may be negative. */
  readonly share: number;
  /** u·√share in the unit of the result; 0 for a negative share. */
  readonly contribution: number;
}

/** Name under which the observed scatter stands where it replaces the random steps. */
export const observedStep = 'observed precision';

/** Steps in the order of the work; others follow before the last two. */
const order = [
  'weighing',
  'fusion',
  'dissolution',
  'dilution',
  'internal standard',
  'emission',
  'calibration',
  'standards',
  'interference',
  'blank',
  'recovery',
  'sample',
  'oxide form',
];

/**
 * Variance of a result split along the chain, in the order of the work. What the components do not predict, and the
 * observed scatter that may stand for all random steps, are steps of their own.
 *
 * @see JCGM 100:2008 (GUM), 5.1 and 5.2
 */
export function chainShares(budget: Budget): ChainShare[] {
  const named = {
    ...budget,
    lines: budget.lines.map((line) => ({
      ...line,
      input: { ...line.input, step: stepOf(line.input.name, line.input.step) },
    })),
  };
  return groupBudget(named, 'step')
    .map(({ name, share, contribution }) => ({ step: name, share, contribution }))
    .sort((a, b) => placeOf(a.step) - placeOf(b.step));
}

function stepOf(input: string, step: string): string {
  return input === routeFactor.precision ? observedStep : step;
}

function placeOf(step: string): number {
  if (step === unexplainedStep) return order.length + 1;
  if (step === observedStep) return order.length + 2;
  const place = order.indexOf(step);
  return place < 0 ? order.length : place;
}
