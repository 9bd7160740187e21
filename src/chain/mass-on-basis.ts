import { InputError } from '../errors.js';
import type { InputQuantity } from '../uncertainty/input-quantity.js';
import { recordedValue } from './model-fragment.js';

/** States of a solid in the order in which it loses mass: portions are weighed in one, results refer to one. */
export const solidStates = ['as received', 'dry', 'ignited'] as const;
export type SolidState = (typeof solidStates)[number];

/** From a state to the next, in the same order. */
export const lossSteps = ['as received to dry', 'dry to ignited'] as const;
export type LossStep = (typeof lossSteps)[number];

/** A step between the state in which portions are weighed and the one reported. */
export interface LossBetween {
  readonly step: LossStep;
  /** True where the portion is weighed after the loss and the result refers to the state before it. */
  readonly restored: boolean;
}

/** Loss of mass of one step, as a fraction of the mass before it (a gain is negative), with its standard uncertainty. */
export interface LossOfMass extends LossBetween {
  readonly fraction: number;
  readonly standardUncertainty: number;
  readonly source: string;
}

/** What a loss may be, as a fraction: less than all of the mass, and a gain of less than as much again. */
export const lossBounds = { above: -1, below: 1 } as const;

/** Names of the losses in equations. */
const lossNames: Readonly<Record<LossStep, string>> = {
  'as received to dry': 'loss',
  'dry to ignited': 'LOI',
};

const descriptions: Readonly<Record<LossStep, string>> = {
  'as received to dry': 'loss of mass on drying',
  'dry to ignited': 'loss of mass on ignition of the dry sample',
};

/** Name of a loss in equations, which all analytes of a sample share. */
export function lossName({ step }: Pick<LossBetween, 'step'>): string {
  return lossNames[step];
}

/**
 * Steps between the state in which portions are weighed and the one that results refer to, in the order of the conversion.
 *
 * @returns none where both are the same
 * @example
 * lossesBetween('ignited', 'dry') // => [{ step: 'dry to ignited', restored: true }]
 */
export function lossesBetween(weighed: SolidState, reported: SolidState): LossBetween[] {
  const [from, to] = [solidStates.indexOf(weighed), solidStates.indexOf(reported)];
  if (from <= to) return lossSteps.slice(from, to).map((step) => ({ step, restored: false }));
  return lossSteps
    .slice(to, from)
    .reverse()
    .map((step) => ({ step, restored: true }));
}

/**
 * Mass of a portion in the state reported, g: m·(1 − loss) for each loss between the state weighed and it, m/(1 − loss) for each
 * that is restored.
 *
 * @throws InputError a loss that is not above −1 and below 1, with its source
 * @see definition of moisture and of loss on ignition as mass lost over mass before: common practice, no source
 */
export function massOnBasis(portionG: number, losses: readonly LossOfMass[]): number {
  return losses.reduce((massG, loss) => {
    const { fraction, restored, source } = loss;
    if (!(fraction > lossBounds.above && fraction < lossBounds.below)) {
      throw new InputError(
        `${descriptions[loss.step]} as a fraction (${source}): found ${fraction}, expected above ${lossBounds.above} and below ${lossBounds.below}`,
      );
    }
    return restored ? massG / (1 - fraction) : massG * (1 - fraction);
  }, portionG);
}

/** The same as factors behind the mass of the portion in an equation. */
export function lossFactors(losses: readonly LossOfMass[]): string {
  return losses.map((loss) => ` ${loss.restored ? '/' : '*'} (1 - ${lossName(loss)})`).join('');
}

/** Step "sample": the losses, which all analytes of a sample share. */
export function lossInputs(losses: readonly LossOfMass[]): InputQuantity[] {
  return losses.map((loss) => {
    const { step, fraction, standardUncertainty, source } = loss;
    return {
      ...recordedValue(lossName(loss), descriptions[step], '1', fraction, 'sample', source),
      standardUncertainty,
    };
  });
}
