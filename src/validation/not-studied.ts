import type { Characteristic } from './characteristic.js';
import type { Finding } from './finding.js';
import { type FindingOptions, makeFinding } from './make-finding.js';

/**
 * Finding of a characteristic that has no data: *not studied* where the plan sets a criterion for it.
 *
 * @param missing what was not done or not recorded, such as `no interference-check solution was read`
 * @example
 * notStudied('second line', { analyte: 'Al', level: '*', unit: '%', criterion: null }, 'no second line was read').verdict // => 'no criterion'
 */
export function notStudied(
  characteristic: Characteristic,
  options: FindingOptions,
  missing: string,
): Finding {
  const finding = makeFinding(characteristic, options, {
    quantity: characteristic,
    unit: options.criterion?.unit ?? options.unit,
    estimate: null,
    limits: null,
    degreesOfFreedom: null,
    n: 0,
    clause: 'ISO/IEC 17025:2017, 7.2.2.3',
    method: 'none',
    rows: [],
  });
  return { ...finding, reason: `Not studied: ${missing}.` };
}
