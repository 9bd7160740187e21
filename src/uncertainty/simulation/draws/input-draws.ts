import type { InputQuantity } from '../../input-quantity.js';
import type { IndexedCorrelation } from '../../model/correlation-matrix.js';
import { independentSources } from '../../propagation/effective-degrees-of-freedom.js';
import { correlatedDraw, type DrawnQuantity } from './correlated-draw.js';
import { independentDraw } from './independent-draw.js';
import { isJointSample, jointSampleDraw } from './joint-sample-draw.js';
import { type BlockDraw, type StreamFill, streamDraws } from './lanes/stream-fills.js';

/**
 * Draws of all inputs: each independent source by itself. The same numbers come out whatever the order of the inputs.
 *
 * @param columns one column an input, in the order of the inputs
 * @param correlations by position in the inputs
 * @throws InputError a distribution or joint sample that cannot be drawn from
 */
export function inputDraws(
  inputs: readonly InputQuantity[],
  correlations: readonly IndexedCorrelation[],
  seed: number,
  columns: readonly Float64Array[],
): BlockDraw[] {
  const fills: StreamFill[] = [];
  const others = independentSources(inputs, correlations).groups.flatMap((group) => {
    const sorted = [...group.members].sort((a, b) => (inputs[a]!.name < inputs[b]!.name ? -1 : 1));
    const uncertain = sorted.filter((i) => inputs[i]!.standardUncertainty > 0);
    const exact = sorted.filter((i) => inputs[i]!.standardUncertainty === 0);
    const alone = uncertain.length === 1 ? [...exact, uncertain[0]!] : exact;
    const draws = alone.flatMap((i) => {
      const draw = independentDraw(inputs[i]!, seed, columns[i]!);
      if (typeof draw === 'function') return [draw];
      fills.push(draw);
      return [];
    });
    if (uncertain.length < 2) return draws;
    const members = uncertain.map((i): DrawnQuantity => ({ input: inputs[i]!, column: columns[i]! }));
    if (isJointSample(members)) return [...draws, jointSampleDraw(members, seed)];
    const at = new Map(uncertain.map((i, position) => [i, position]));
    const within = group.correlations.flatMap(({ first, second, coefficient }) => {
      const [a, b] = [at.get(first), at.get(second)];
      return a === undefined || b === undefined ? [] : [{ first: a, second: b, coefficient }];
    });
    return [...draws, correlatedDraw(members, within, seed)];
  });
  return [...streamDraws(fills), ...others];
}
