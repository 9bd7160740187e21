import { InputError } from '../../../errors.js';
import { distributionOf } from '../../distributions/distribution-of.js';
import type { InputQuantity } from '../../input-quantity.js';
import { choleskyFactor } from '../../model/cholesky.js';
import {
  correlationMatrix,
  type IndexedCorrelation,
  indexCorrelations,
} from '../../model/correlation-matrix.js';
import { addMultiple, multiplyAndAdd, scaleColumn } from '../blocks/columns.js';
import { startBlock, streamKey } from './block-stream.js';
import { fillStretch } from './independent-draw.js';
import { type BlockDraw, streamDraws } from './lanes/stream-fills.js';
import { fromNormal, hermiteCoefficients, latentCorrelation } from './latent-correlation.js';
import { normalZiggurat } from './normal-deviates.js';

/** A quantity of a group with its column. */
export interface DrawnQuantity {
  readonly input: InputQuantity;
  readonly column: Float64Array;
}

/**
 * Draws of inputs that are correlated or come from one joint evaluation: correlated standard normal deviates L·z with
 * L·Lᵀ the correlation matrix, then each quantity from its deviate.
 *
 * - normal: estimate + u·z.
 * - t: estimate + u·z·√(ν/χ²) with one χ² for all of the group with the same ν: the multivariate t distribution. With a
 *   quantity of another ν the correlation is that of the z; the quantities themselves are correlated a little less.
 * - any other: the value whose probability of being exceeded is that of its deviate; the correlation of the deviates is
 *   then set so that the quantities have the stated one.
 *
 * @param members in alphabetical order of their names, each with an uncertainty above 0
 * @param correlations by position in `members`
 * @throws InputError distributions that cannot have the stated correlations
 * @see JCGM 101:2008, 6.4.8 and C.5; JCGM 102:2011, 5.3.2
 */
export function correlatedDraw(
  members: readonly DrawnQuantity[],
  correlations: readonly IndexedCorrelation[],
  seed: number,
): BlockDraw {
  const latent = latentCorrelations(members, correlations);
  const factor = choleskyFactor(
    correlationMatrix(
      members.map((_, i) => i),
      latent,
    ),
  );
  const standard = { centre: 0, factor: 1, ziggurat: normalZiggurat };
  const deviates = streamDraws(
    members.map(({ input, column }) => ({ key: streamKey(seed, input.name), column, ...standard })),
  );
  const finish = [...stretches(members, seed), ...members.flatMap(finishOf)];
  return (block) => {
    for (const draw of deviates) draw(block);
    for (let i = members.length - 1; i >= 0; i--) combine(members, factor[i]!, i);
    for (const act of finish) act(block);
  };
}

/**
 * Row i of L·z in place, in the quantity's own scale: the members before it, not yet combined, are still independent.
 */
function combine(members: readonly DrawnQuantity[], row: readonly number[], i: number): void {
  const out = members[i]!.column;
  const [centre, factor] = scaleOf(members[i]!);
  scaleColumn(out, centre, factor * row[i]!, out);
  for (let k = 0; k < i; k++) {
    if (row[k] !== 0) addMultiple(out, members[k]!.column, factor * row[k]!, out);
  }
}

const isT = ({ input }: DrawnQuantity): boolean =>
  input.distribution.kind === 't' && input.degreesOfFreedom !== Infinity;
const isNormal = ({ input }: DrawnQuantity): boolean =>
  input.distribution.kind === 'normal' || input.distribution.kind === 't';

/** Centre and factor that a sum of normal deviates gets: all of it for a normal quantity, what comes later for others. */
function scaleOf(member: DrawnQuantity): [number, number] {
  const { estimate, standardUncertainty } = member.input;
  if (!isNormal(member)) return [0, 1];
  return [isT(member) ? 0 : estimate, standardUncertainty];
}

/** One χ² for each number of degrees of freedom, shared by its members. */
function stretches(members: readonly DrawnQuantity[], seed: number): BlockDraw[] {
  const numbers = [...new Set(members.filter(isT).map(({ input }) => input.degreesOfFreedom))];
  return numbers.map((nu) => {
    const sharing = members.filter((member) => isT(member) && member.input.degreesOfFreedom === nu);
    const key = streamKey(seed, 'degrees of freedom', nu, ...sharing.map(({ input }) => input.name));
    const state = new Uint32Array(4);
    const stretch = new Float64Array(sharing[0]!.column.length);
    return (block) => {
      startBlock(key, block, state);
      fillStretch(state, nu, stretch);
      for (const { column, input } of sharing) multiplyAndAdd(column, stretch, input.estimate, column);
    };
  });
}

function finishOf(member: DrawnQuantity): BlockDraw[] {
  if (isNormal(member)) return [];
  const { input, column } = member;
  const value = fromNormal(distributionOf(input));
  return [
    () => {
      for (let i = 0; i < column.length; i++) column[i] = value(column[i]!);
    },
  ];
}

function latentCorrelations(
  members: readonly DrawnQuantity[],
  correlations: readonly IndexedCorrelation[],
): IndexedCorrelation[] {
  if (members.every(isNormal)) return [...correlations];
  const coefficients = members.map((member) =>
    hermiteCoefficients(isNormal(member) ? (z) => z : fromNormal(distributionOf(member.input))),
  );
  const latent = correlations.map((pair) => {
    const { first, second, coefficient } = pair;
    const names = `${members[first]!.input.name} and ${members[second]!.input.name}`;
    const [a, b] = [coefficients[first]!, coefficients[second]!];
    return { ...pair, coefficient: coefficient === 0 ? 0 : latentCorrelation(a, b, coefficient, names) };
  });
  const inputs = members.map(({ input }) => input);
  const named = latent.map(({ first, second, coefficient }) => ({
    first: inputs[first]!.name,
    second: inputs[second]!.name,
    coefficient,
  }));
  try {
    indexCorrelations(inputs, named);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(
      `quantities of these distributions cannot have the correlations stated: ${error.message}`,
    );
  }
  return latent;
}
