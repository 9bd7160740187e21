import { InputError } from '../../errors.js';
import type { InputQuantity } from '../input-quantity.js';
import { choleskyFactor } from '../model/cholesky.js';
import { correlatedBlocks, correlationMatrix, type IndexedCorrelation } from '../model/correlation-matrix.js';
import type { CorrelatedResult, SourcePart } from './correlated-result.js';

/** A result of the law of propagation and the names its inputs bear among all results. */
export interface PropagatedResult {
  readonly name: string;
  readonly unit: string;
  readonly estimate: number;
  readonly inputs: readonly InputQuantity[];
  /** In the order of the inputs. */
  readonly sensitivities: readonly number[];
  readonly correlations: readonly IndexedCorrelation[];
  /** One key a quantity: two inputs with the same key, of one result or of several, are the same quantity. */
  readonly keys: readonly string[];
}

/**
 * A propagated result as a sum over independent sources: correlated inputs are taken apart by Cholesky's method, always in the
 * order of their keys, so that results which share a correlated group take it apart alike. A group has the smallest degrees of
 * freedom of its uncertain inputs.
 *
 * @throws InputError correlated inputs of which two are the same quantity
 */
export function resultFromInputs(propagated: PropagatedResult): CorrelatedResult {
  const { inputs, sensitivities, correlations, keys } = propagated;
  const parts = new Map<string, SourcePart>();
  const add = (
    key: string,
    value: number,
    input: InputQuantity,
    group: string,
    degreesOfFreedom = input.degreesOfFreedom,
  ) => {
    if (value === 0) return;
    const known = parts.get(key)?.value ?? 0;
    parts.set(key, {
      value: known + value,
      group,
      degreesOfFreedom,
      variesWith: input.withinPrecision ? (input.variesWith ?? null) : null,
    });
  };
  const taken = new Set<number>();
  for (const block of correlatedBlocks(correlations)) {
    const members = [...block].sort((a, b) => (keys[a]! < keys[b]! ? -1 : 1));
    if (new Set(members.map((m) => keys[m])).size < members.length) {
      throw new InputError(`${propagated.name}: found one quantity twice in a correlated group`);
    }
    const lower = choleskyFactor(correlationMatrix(members, correlations));
    const name = members.map((m) => keys[m]).join(' & ');
    // The smallest of the block, as the law of propagation takes it: no order of names may decide.
    const uncertain = members.filter((m) => inputs[m]!.standardUncertainty > 0);
    const degreesOfFreedom = Math.min(...uncertain.map((m) => inputs[m]!.degreesOfFreedom));
    members.forEach((_, column) => {
      let value = 0;
      members.forEach((m, row) => {
        value += sensitivities[m]! * inputs[m]!.standardUncertainty * (lower[row]![column] ?? 0);
      });
      const first = inputs[members[0]!]!;
      add(`${name} #${column + 1}`, value, first, first.jointSource ?? name, degreesOfFreedom);
    });
    for (const m of members) taken.add(m);
  }
  inputs.forEach((input, i) => {
    if (taken.has(i)) return;
    add(keys[i]!, sensitivities[i]! * input.standardUncertainty, input, input.jointSource ?? keys[i]!);
  });
  return { name: propagated.name, unit: propagated.unit, estimate: propagated.estimate, parts };
}
