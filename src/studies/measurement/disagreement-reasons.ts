import { formatSignificant } from '../../quantities/rounding.js';
import type { Budget, BudgetLine } from '../../uncertainty/budget.js';
import type { SecondOrderEffect } from './second-order-effect.js';

const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;

/** Share of the variance from which an input is thought to show in the result. */
const visible = 0.05;

/** The tails of a t distribution of two degrees of freedom or fewer show from a smaller share. */
const visibleTails = 0.001;

/** Share from which the shape of inputs shows in the shape of the result. */
const dominant = 0.4;

/**
 * What is likely to make the law of propagation and a simulation differ: a model that bends, inputs that are not normal
 * and dominate, degrees of freedom.
 *
 * @returns at least one sentence
 * @see JCGM 101:2008, 5.7 to 5.11 (conditions of the law of propagation), 6.4.9 (t distributions)
 */
export function disagreementReasons(budget: Budget, secondOrder: SecondOrderEffect): string[] {
  const reasons = [
    ...bendingReasons(budget, secondOrder),
    ...shapeReasons(budget),
    ...budget.lines.flatMap((line) => freedomReasons(line)),
  ];
  if (reasons.length > 0) return reasons;
  return ['No single reason stands out: the histogram shows the shape of the result.'];
}

function bendingReasons(
  { standardUncertainty: first }: Budget,
  { matters, terms }: SecondOrderEffect,
): string[] {
  if (!matters) return [];
  if (terms === null)
    return [
      'The model bends so much within the uncertainty of its inputs that terms of second order do not describe it.',
    ];
  const { standardUncertainty: second, meanShift, pairs } = terms;
  const words: string[] = [];
  const added = second > first ? 1 - (first / second) ** 2 : (second / first) ** 2 - 1;
  if (added >= 0.005) words.push(`second-order terms make up ${percent(added)} of the variance`);
  if (added <= -0.005) words.push(`second-order terms take away ${percent(-added)} of the variance`);
  if (Math.abs(meanShift) > 0.005 * second)
    words.push(`the mean moves by ${formatSignificant(meanShift / second, 2)} u`);
  const [largest] = pairs;
  if (largest !== undefined)
    words.push(
      `the largest term is of ${largest.first}${largest.first === largest.second ? ' squared' : ` with ${largest.second}`}`,
    );
  return [`The model bends within the uncertainty of its inputs: ${words.join('; ')}.`];
}

function shapeReasons({ lines }: Budget): string[] {
  const shaped = lines
    .filter(({ input, share }) => !['normal', 't'].includes(input.distribution.kind) && share > 0)
    .sort((a, b) => b.share - a.share);
  const together = shaped.reduce((sum, { share }) => sum + share, 0);
  const [first] = shaped;
  if (first === undefined || together < dominant) return [];
  const { name, distribution } = first.input;
  if (first.share >= dominant) {
    return [
      `${name} (${distribution.kind}) brings ${percent(first.share)} of the variance: the result takes after its shape, and a ` +
        'coverage factor of the normal or t distribution does not fit.',
    ];
  }
  return [
    `${shaped.length} inputs that are not normal, ${name} (${distribution.kind}) the largest, bring ${percent(together)} of the ` +
      'variance together: the result is not quite normal.',
  ];
}

function freedomReasons({ input, share }: BudgetLine): string[] {
  const { name, degreesOfFreedom: nu, distribution } = input;
  const least = nu <= 2 && distribution.kind === 't' ? visibleTails : visible;
  if (!(nu < 30) || share < least) return [];
  const freedom = Number(nu.toPrecision(3));
  const part = `${name} has ${freedom} ${freedom === 1 ? 'degree' : 'degrees'} of freedom and ${percent(share)} of the variance`;
  if (distribution.kind !== 't') {
    return [
      `${part}: the law of propagation widens the coverage factor for them; the simulation takes the ${distribution.kind} ` +
        'distribution as stated.',
    ];
  }
  if (nu <= 2)
    return [
      `${part}: its t distribution has no standard deviation, so that only quantiles of the simulation hold.`,
    ];
  return [
    `${part}: the simulation draws from its t distribution, whose standard deviation is ` +
      `${formatSignificant(Math.sqrt(nu / (nu - 2)), 3)} times the u that the law of propagation takes.`,
  ];
}
