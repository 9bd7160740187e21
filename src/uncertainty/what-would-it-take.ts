import { InputError, requireNonNegative, requirePositive } from '../errors.js';
import { coverageFactor } from './coverage-factor.js';
import type { InputQuantity } from './input-quantity.js';
import { locateCorrelations } from './model/correlation-matrix.js';
import type { Propagation } from './propagate.js';
import { effectiveDegreesOfFreedom, independentSources } from './propagation/effective-degrees-of-freedom.js';
import { varianceAlong } from './propagation/variance-along.js';

/** Change of one input: its standard uncertainty times a factor, and new degrees of freedom where they change too. */
export interface InputChange {
  readonly input: string;
  readonly factor: number;
  readonly degreesOfFreedom?: number;
}

/** Something the laboratory could do, such as more digestions, another balance or another standard. */
export interface ImprovementAction {
  readonly name: string;
  readonly changes: readonly InputChange[];
}

/** Uncertainty after an action. */
export interface ActionOutcome {
  readonly name: string;
  readonly standardUncertainty: number;
  readonly expandedUncertainty: number;
  readonly meetsTarget: boolean;
}

/** What improving one input alone can do. */
export interface SingleImprovement {
  readonly input: string;
  /** Expanded uncertainty if this input had none. */
  readonly expandedUncertaintyWithout: number;
  /** Largest factor on its standard uncertainty that meets the target; 1 where nothing is needed, `null` where none does. */
  readonly factorNeeded: number | null;
  /** Fewest times as many independent repeats that do, where the input is a mean of repeats; `null` where none do. */
  readonly repeatsNeeded: number | null;
}

/** What it would take to meet a target uncertainty. */
export interface WhatWouldItTake {
  readonly output: string;
  readonly target: number;
  readonly expandedUncertainty: number;
  readonly meetsTarget: boolean;
  /** By each input alone, the most effective first. */
  readonly single: readonly SingleImprovement[];
  /** By each action alone, then by all together where there are several. */
  readonly actions: readonly ActionOutcome[];
}

/**
 * What it would take to bring the expanded uncertainty of an output down to a target: each input alone, and actions the
 * laboratory has in mind. Sensitivity coefficients are kept; degrees of freedom and coverage factor are found anew.
 *
 * @param target largest expanded uncertainty that serves the purpose, in the unit of the output
 * @param actions each with the inputs it changes: twice as many digestions is a factor √½ on their mean
 * @throws InputError no such output or input, a target not above 0, a factor below 0
 * @see Eurachem, Setting and using target uncertainty, 2015
 */
export function whatWouldItTake(
  propagation: Propagation,
  outputName: string,
  target: number,
  actions: readonly ImprovementAction[] = [],
  coverageProbability = 0.95,
): WhatWouldItTake {
  requirePositive(target, 'target expanded uncertainty');
  const expand = expander(propagation, outputName, coverageProbability);
  const now = expand([]).expandedUncertainty;
  const single = propagation.inputs
    .filter((input) => input.standardUncertainty > 0)
    .map(({ name }) => singleImprovement(name, target, (changes) => expand(changes).expandedUncertainty))
    .sort((a, b) => a.expandedUncertaintyWithout - b.expandedUncertaintyWithout);
  const together = { name: 'all together', changes: actions.flatMap(({ changes }) => changes) };
  const outcomes = [...actions, ...(actions.length > 1 ? [together] : [])].map(({ name, changes }) => {
    const outcome = expand(changes);
    return { name, ...outcome, meetsTarget: outcome.expandedUncertainty <= target };
  });
  return {
    output: outputName,
    target,
    expandedUncertainty: now,
    meetsTarget: now <= target,
    single,
    actions: outcomes,
  };
}

type Expand = (changes: readonly InputChange[]) => {
  readonly standardUncertainty: number;
  readonly expandedUncertainty: number;
};

function expander(propagation: Propagation, outputName: string, coverageProbability: number): Expand {
  const output = propagation.outputs.find(({ name }) => name === outputName);
  if (output === undefined) throw new InputError(`output "${outputName}" is not among those propagated`);
  const row = propagation.inputs.map(({ name }) => output.sensitivities[name]!);
  const pairs = locateCorrelations(propagation.inputs, propagation.correlations);
  return (changes) => {
    const inputs = changed(propagation.inputs, changes);
    const standardUncertainty = Math.sqrt(Math.max(0, varianceAlong(row, row, inputs, pairs)));
    const nu = effectiveDegreesOfFreedom(row, inputs, independentSources(inputs, pairs));
    return {
      standardUncertainty,
      expandedUncertainty: coverageFactor(nu, coverageProbability) * standardUncertainty,
    };
  };
}

function changed(
  inputs: readonly InputQuantity[],
  changes: readonly InputChange[],
): readonly InputQuantity[] {
  const list = [...inputs];
  for (const { input: name, factor, degreesOfFreedom } of changes) {
    const at = list.findIndex((input) => input.name === name);
    if (at < 0) throw new InputError(`action: no input quantity has the name "${name}"`);
    requireNonNegative(factor, `factor on "${name}"`);
    const input = list[at]!;
    list[at] = {
      ...input,
      standardUncertainty: input.standardUncertainty * factor,
      degreesOfFreedom: degreesOfFreedom ?? input.degreesOfFreedom,
    };
  }
  return list;
}

function singleImprovement(
  input: string,
  target: number,
  expanded: (changes: readonly InputChange[]) => number,
): SingleImprovement {
  const at = (factor: number): number => expanded([{ input, factor }]);
  const expandedUncertaintyWithout = at(0);
  if (at(1) <= target) return { input, expandedUncertaintyWithout, factorNeeded: 1, repeatsNeeded: 1 };
  const factorNeeded = largestFactor(at, target);
  const repeatsNeeded =
    factorNeeded === null || factorNeeded === 0 ? null : repeats(at, target, factorNeeded);
  return { input, expandedUncertaintyWithout, factorNeeded, repeatsNeeded };
}

/** Steps from factor 1 down to 0 in which the first that meets the target is looked for. */
const steps = 200;

/**
 * Largest factor that meets the target. U need not fall with the factor: a correlated input may offset another, and less of an
 * input that is well known leaves more weight to those that are not, with a larger coverage factor.
 */
function largestFactor(at: (factor: number) => number, target: number): number | null {
  const factorAt = (step: number) => 1 - step / steps;
  const found = Array.from({ length: steps + 1 }, (_, step) => at(factorAt(step)));
  for (let step = 1; step <= steps; step++) {
    if (found[step]! <= target) return edge(at, target, factorAt(step), factorAt(step - 1));
    if (found[step]! > found[step - 1]! || found[step]! > (found[step + 1] ?? Number.POSITIVE_INFINITY))
      continue;
    const lowest = lowestBetween(at, factorAt(Math.min(steps, step + 1)), factorAt(step - 1));
    if (at(lowest) <= target) return edge(at, target, lowest, factorAt(step - 1));
  }
  return null;
}

/** Where U crosses the target between a factor that meets it and one above that misses it. */
function edge(at: (factor: number) => number, target: number, meets: number, misses: number): number {
  let [met, missed] = [meets, misses];
  for (let step = 0; step < 60; step++) {
    const middle = (met + missed) / 2;
    if (at(middle) <= target) met = middle;
    else missed = middle;
  }
  return met;
}

/** Factor of the smallest U between two, by thirds. */
function lowestBetween(at: (factor: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let step = 0; step < 60; step++) {
    const third = (high - low) / 3;
    if (at(low + third) <= at(high - third)) high -= third;
    else low += third;
  }
  return (low + high) / 2;
}

/** Numbers of repeats looked at beyond the first that reaches the factor. */
const moreRepeats = 1000;

/** Fewest repeats whose factor 1/√n meets the target; null where each misses it on one side or the other. */
function repeats(at: (factor: number) => number, target: number, factor: number): number | null {
  // A whole number of repeats is not missed by the last bit of the bisection.
  const first = Math.ceil(1 / factor ** 2 - 1e-9);
  for (let n = first; n <= first + moreRepeats; n++) {
    if (at(1 / Math.sqrt(n)) <= target * (1 + 1e-9)) return n;
  }
  return null;
}
