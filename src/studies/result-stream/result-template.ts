import type { Blank } from '../../chain/blank.js';
import {
  type BlankCoefficient,
  blankCoefficients,
  type CalibrationEffect,
  calibrationEffectNames,
} from '../../chain/blank-calibration.js';
import { dilutionFragment } from '../../chain/dilution.js';
import { solutionFragment } from '../../chain/dissolution.js';
import { lossInputs } from '../../chain/mass-on-basis.js';
import { identifier } from '../../chain/model-fragment.js';
import { type RandomParts, type ResultObservation, resultModel } from '../../chain/result-model.js';
import { sensitivityName } from '../../chain/solution/internal-standard.js';
import { portionFragment } from '../../chain/weighing.js';
import type { Program } from '../../uncertainty/expression/program.js';
import type { InputQuantity } from '../../uncertainty/input-quantity.js';
import { propagate } from '../../uncertainty/propagate.js';
import type { ResultForms } from './result-forms.js';

/** Where the values of one input of many results come from. */
export type InputSource =
  /** Weighings, density and losses of mass of the digestion: found by name. */
  | { readonly kind: 'digestion'; readonly name: string }
  /** Weighings of a dilution: `part` is the name without that of the dilution, such as `rep_aliquot_0`. */
  | { readonly kind: 'dilution'; readonly signal: number; readonly part: string }
  | { readonly kind: 'ratio' | 'drift' | 'intercept' | 'slope'; readonly signal: number }
  | { readonly kind: 'blank'; readonly quantity: 'b_f' | 'b_0' | 'd_b' }
  /** How a coefficient of the blank moves with the calibration of a signal. */
  | {
      readonly kind: 'blank by calibration';
      readonly coefficient: BlankCoefficient;
      readonly signal: number;
      readonly derivative: keyof CalibrationEffect;
    }
  | { readonly kind: 'flux' }
  /** The same for all results of the template. */
  | { readonly kind: 'constant'; readonly estimate: number; readonly standardUncertainty: number };

/**
 * The equations of a result, compiled once for all results of the same make: same analyte, signals, dilutions and stocks.
 */
export interface ResultTemplate {
  readonly program: Program;
  /** Templates of one shape differ in constants and names alone: their results are worked out together. */
  readonly shape: number;
  /** Slot of the mass fraction. */
  readonly result: number;
  /** Slot of the amount in the solution, mg. */
  readonly amount: number;
  /** In the order of the program's inputs. */
  readonly sources: readonly InputSource[];
  /** True for an input whose own variation another one holds, and for an estimate that a derivative goes with: uncertainty 0. */
  readonly isExact: readonly boolean[];
  /** Analytes whose signals enter, the own first. */
  readonly signals: readonly string[];
  /** Positions of what each signal enters by. */
  readonly signalInputs: readonly {
    readonly ratio: number;
    readonly intercept: number;
    readonly slope: number;
  }[];
  /** Positions of the two coefficients of a blank that is a line; null where it has one. */
  readonly blankPair: { readonly first: number; readonly second: number } | null;
}

/**
 * The template of one result.
 *
 * @param shapes numbers of the shapes that came before: grows by a new one
 * @param canPropagate false for a blank, which has no mass fraction
 * @param forms equations made ready before
 * @throws InputError the model is refused by the law of propagation at this result
 */
export function resultTemplate(
  observation: ResultObservation,
  random: RandomParts,
  canPropagate: boolean,
  shapes: Map<string, number>,
  forms: ResultForms,
): ResultTemplate {
  const { model, inputs, correlations } = resultModel(observation, random);
  const { program, outputEquations } = forms.ready(model, inputs, `${canPropagate}`, () => {
    // Units, divisors and inputs are checked here, once for all results alike.
    if (canPropagate) propagate(model, inputs, correlations);
  });
  const byName = new Map(inputs.map((input) => [input.name, input]));
  const { sources, references } = sourcesByName(observation);
  const amount = model.equations.findIndex(({ name }) => name === 'n_e');
  const position = (name: string) => program.inputs.indexOf(name);
  const template = {
    program,
    result: program.results[outputEquations[0]!]!,
    amount: program.results[amount]!,
    sources: program.inputs.map((name) => sources.get(name) ?? constant(byName.get(name)!)),
    isExact: program.inputs.map(
      (name) => references.has(name) || (random.route === 'precision' && isHeld(byName.get(name)!)),
    ),
    signals: observation.signals.map(({ analyte }) => analyte),
    signalInputs: observation.signals.map(({ analyte }) => ({
      ratio: position(`ratio_${identifier(analyte)}`),
      intercept: position(`b0_${identifier(analyte)}`),
      slope: position(`b1_${identifier(analyte)}`),
    })),
    blankPair: blankPairOf(observation, position),
  };
  const text = shapeOf(template);
  const shape = shapes.get(text) ?? shapes.size;
  shapes.set(text, shape);
  return { ...template, shape };
}

/** Operations and kinds of inputs as text. */
function shapeOf(template: Omit<ResultTemplate, 'shape'>): string {
  const { program, sources, isExact, signalInputs, blankPair, result, amount } = template;
  const operations = program.operations.map((o) => [o.name, o.functionName, o.first, o.second]);
  const kinds = sources.map((source) => (source.kind === 'constant' ? source.kind : source));
  const pairs = [signalInputs, blankPair];
  return JSON.stringify([operations, program.constants, kinds, isExact, pairs, result, amount]);
}

function blankPairOf({ analyte, blank }: ResultObservation, position: (name: string) => number) {
  if (blank?.scaling !== 'per flux mass and digestion') return null;
  const a = identifier(analyte);
  return { first: position(`b_f_${a}`), second: position(`b_0_${a}`) };
}

function isHeld({ withinPrecision, name }: InputQuantity): boolean {
  return withinPrecision && name !== 'f_prec';
}

function constant({ estimate, standardUncertainty }: InputQuantity): InputSource {
  return { kind: 'constant', estimate, standardUncertainty };
}

/** Sources of the inputs, and which of these stand for the estimate of another. */
function sourcesByName(observation: ResultObservation) {
  const sources = new Map<string, InputSource>();
  const references = new Set<string>();
  const densities = ['rho_a', 'rho_p', 'rho_ref'];
  for (const { name } of weighingInputs(observation)) {
    if (!densities.includes(name)) sources.set(name, { kind: 'digestion', name });
  }
  observation.signals.forEach(({ analyte, dilutionName }, signal) => {
    const a = identifier(analyte);
    sources.set(`ratio_${a}`, { kind: 'ratio', signal });
    sources.set(`drift_${a}`, { kind: 'drift', signal });
    sources.set(`b0_${a}`, { kind: 'intercept', signal });
    sources.set(`b1_${a}`, { kind: 'slope', signal });
    if (dilutionName === null) return;
    const dilution = observation.dilutions[dilutionName]!;
    const sensitivity = sensitivityName(dilution.balance, observation.solution);
    for (const { name } of dilutionFragment(dilutionName, dilution, sensitivity).inputs) {
      sources.set(name, { kind: 'dilution', signal, part: partOf(name, dilutionName) });
    }
  });
  for (const [name, source] of blankSources(identifier(observation.analyte), observation.blank)) {
    sources.set(name, source);
  }
  for (const { label, effects } of observation.blank?.calibrations ?? []) {
    const signal = observation.signals.findIndex(({ analyte }) => analyte === label);
    for (const coefficient of blankCoefficients) {
      if (effects[coefficient] === undefined) continue;
      const name = calibrationEffectNames(coefficient, label);
      references.add(name.interceptReference).add(name.slopeReference);
      sources.set(name.interceptReference, { kind: 'intercept', signal });
      sources.set(name.slopeReference, { kind: 'slope', signal });
      for (const derivative of ['byIntercept', 'bySlope'] as const)
        sources.set(name[derivative], { kind: 'blank by calibration', coefficient, signal, derivative });
    }
  }
  for (const { name } of lossInputs(observation.basis.losses)) sources.set(name, { kind: 'digestion', name });
  return { sources, references };
}

function partOf(name: string, dilution: string): string {
  const tail = name.endsWith(`${dilution}0`) ? '0' : '';
  return `${name.slice(0, name.length - dilution.length - tail.length)}${tail}`;
}

function blankSources(analyte: string, blank: Blank | null): readonly (readonly [string, InputSource])[] {
  if (blank === null) return [];
  return [
    [`b_f_${analyte}`, { kind: 'blank', quantity: 'b_f' }],
    [`b_0_${analyte}`, { kind: 'blank', quantity: 'b_0' }],
    [`d_b_${analyte}`, { kind: 'blank', quantity: 'd_b' }],
    ['m_flux', { kind: 'flux' }],
  ];
}

/** Inputs from the weighings of one digestion. */
export function weighingInputs(
  observation: Pick<ResultObservation, 'portion' | 'solution'>,
): readonly InputQuantity[] {
  return [...portionFragment(observation.portion).inputs, ...solutionFragment(observation.solution).inputs];
}
