import { requireFinite, requirePositive } from '../../errors.js';

/** What a control chart says of one result; empty where it lies within the warning lines. */
export type ControlFlag =
  | ''
  | 'beyond the warning line'
  | 'second of three beyond one warning line'
  | 'beyond the action line';

/** Distance of the warning and of the action line from the centre, in standard deviations. */
export const controlLines = { warning: 2, action: 3 } as const;

/**
 * Flags of control results in order of time: beyond centre ± 2 s the warning line, beyond centre ± 3 s the action line; of
 * three successive results two beyond the warning line on one side call for action as one beyond the action line does.
 *
 * @param values results of one material in the order of time
 * @param centre and `standardDeviation` of the chart, in the unit of the results
 * @throws InputError a value that is not finite, a standard deviation not above 0
 * @see ISO 7870-2 (Shewhart charts; warning lines and the rule of two in three as common practice has them, from memory)
 * @example
 * controlFlags([0.5, 2.1, -1, 2.4, -3.2], { centre: 0, standardDeviation: 1 }) // => ['', 'beyond the warning line', '', 'second of three beyond one warning line', 'beyond the action line']
 */
export function controlFlags(
  values: readonly number[],
  { centre, standardDeviation }: { readonly centre: number; readonly standardDeviation: number },
): ControlFlag[] {
  requireFinite([centre, ...values], 'control results');
  requirePositive(standardDeviation, 'standard deviation of the control chart');
  const distances = values.map((value) => (value - centre) / standardDeviation);
  const side = (distance: number | undefined): number =>
    distance === undefined || Math.abs(distance) <= controlLines.warning ? 0 : Math.sign(distance);
  return distances.map((distance, i): ControlFlag => {
    if (Math.abs(distance) > controlLines.action) return 'beyond the action line';
    const own = side(distance);
    if (own === 0) return '';
    return [side(distances[i - 1]), side(distances[i - 2])].includes(own)
      ? 'second of three beyond one warning line'
      : 'beyond the warning line';
  });
}
