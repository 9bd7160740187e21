import { InputError } from '../../../errors.js';
import { startBlock, streamKey } from './block-stream.js';
import type { DrawnQuantity } from './correlated-draw.js';
import { pick } from './independent-draw.js';
import type { BlockDraw } from './lanes/stream-fills.js';
import { fillSymmetric } from './symmetric-uniforms.js';

/** Whether a group is one joint sample: values of the same position belong together. */
export function isJointSample(members: readonly DrawnQuantity[]): boolean {
  const source = members[0]!.input.jointSource;
  return (
    source !== undefined &&
    members.every(({ input }) => input.jointSource === source && input.distribution.kind === 'sample')
  );
}

/**
 * Draws whole rows of a joint sample, so that the quantities keep whatever dependence their values have.
 *
 * @param members all samples of one joint source, in alphabetical order
 * @throws InputError samples of different sizes
 * @see JCGM 102:2011, 7.4 (discrete representation of a joint distribution)
 */
export function jointSampleDraw(members: readonly DrawnQuantity[], seed: number): BlockDraw {
  const samples = members.map(({ input }) =>
    Float64Array.from(input.distribution.kind === 'sample' ? input.distribution.values : []),
  );
  const size = samples[0]!.length;
  samples.forEach((sample, i) => {
    if (sample.length === size) return;
    const [one, other] = [members[0]!.input, members[i]!.input];
    throw new InputError(
      `joint sample "${one.jointSource}": "${one.name}" has ${size} values and "${other.name}" ${sample.length}; ` +
        'expected rows of values that belong together',
    );
  });
  const key = streamKey(seed, 'joint sample', ...members.map(({ input }) => input.name));
  const state = new Uint32Array(4);
  const rows = new Float64Array(members[0]!.column.length);
  return (block) => {
    startBlock(key, block, state);
    fillSymmetric(state, rows);
    members.forEach(({ column }, i) => {
      column.set(rows);
      pick(samples[i]!, column);
    });
  };
}
