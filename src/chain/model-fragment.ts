import type { Correlation, Distribution, InputQuantity } from '../uncertainty/input-quantity.js';
import type { ModelEquation } from '../uncertainty/measurement-model.js';

/** What one step of the chain adds to the measurement model of a result. */
export interface ModelFragment {
  readonly equations: readonly ModelEquation[];
  readonly inputs: readonly InputQuantity[];
  readonly correlations: readonly Correlation[];
}

/** An input that the laboratory states because no table holds it: a factor near 1 or an offset near 0. */
export interface StatedFactor {
  /** Analyte it is stated for; absent where it holds for all analytes alike, which then share its error. */
  readonly analyte?: string;
  readonly estimate: number;
  readonly standardUncertainty: number;
  readonly distribution: 'normal' | 'rectangular' | 'triangular';
  readonly source: string;
}

/** A constant that is not uncertain in the budget's terms, such as a recorded balance reading whose errors stand beside it. */
export function recordedValue(
  name: string,
  description: string,
  unit: string,
  estimate: number,
  step: string,
  source: string,
): InputQuantity {
  return {
    name,
    description,
    unit,
    estimate,
    standardUncertainty: 0,
    degreesOfFreedom: Number.POSITIVE_INFINITY,
    distribution: { kind: 'normal' },
    evaluation: 'B',
    sourceKind: 'records',
    source,
    step,
    withinPrecision: false,
  };
}

/** Within one digestion a name stands for one quantity: what is stated for one analyte bears its symbol. */
export function statedName(base: string, stated: StatedFactor): string {
  return stated.analyte === undefined ? base : `${base}_${identifier(stated.analyte)}`;
}

/** Identifier of a quantity in equations: anything but letters, digits and underscores becomes an underscore. */
export function identifier(text: string): string {
  return text.replace(/[^A-Za-z0-9_]/g, '_');
}

/** The input behind a stated factor. */
export function statedInput(
  name: string,
  description: string,
  unit: string,
  stated: StatedFactor,
  step: string,
): InputQuantity {
  return {
    ...recordedValue(name, description, unit, stated.estimate, step, stated.source),
    standardUncertainty: stated.standardUncertainty,
    distribution: distributionOf(stated),
    sourceKind: 'judgement',
  };
}

/** An input that comes anew with each digestion, so that the scatter of digestions of one sample holds it. */
export function newWithDigestion(input: InputQuantity): InputQuantity {
  return { ...input, withinPrecision: true, variesWith: 'digestion' };
}

function distributionOf(stated: StatedFactor): Distribution {
  if (stated.distribution === 'rectangular') {
    return { kind: 'rectangular', halfWidth: stated.standardUncertainty * Math.sqrt(3) };
  }
  if (stated.distribution === 'triangular') {
    return { kind: 'triangular', halfWidth: stated.standardUncertainty * Math.sqrt(6) };
  }
  return { kind: 'normal' };
}

/** Fragments one after the other; equations and inputs that several steps share (same name) stand once. */
export function joinFragments(fragments: readonly ModelFragment[]): ModelFragment {
  const inputs = new Map<string, InputQuantity>();
  for (const input of fragments.flatMap((f) => f.inputs)) {
    if (!inputs.has(input.name))
      inputs.set(input.name, input.standardUncertainty === 0 ? takenAsExact(input) : input);
  }
  const equations = new Map<string, ModelEquation>();
  for (const equation of fragments.flatMap((f) => f.equations)) {
    if (!equations.has(equation.name)) equations.set(equation.name, equation);
  }
  return {
    equations: [...equations.values()],
    inputs: [...inputs.values()],
    correlations: fragments.flatMap((fragment) => fragment.correlations),
  };
}

/** The input with standard uncertainty 0: a record puts it there, or another input holds its variation. */
export function takenAsExact(input: InputQuantity, why = ''): InputQuantity {
  return {
    ...input,
    standardUncertainty: 0,
    sourceKind: 'records',
    distribution: { kind: 'normal' },
    source: why === '' ? input.source : `${input.source}; ${why}`,
  };
}
