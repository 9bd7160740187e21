import type { RoutineResults } from '../../studies/routine-results/routine-results.js';
import { basisOfResults } from '../basis-of-results.js';
import { equipmentInUse } from '../sections/equipment-section.js';
import { workDone } from '../sections/people-section.js';
import { periodOfWork } from './period-of-work.js';
import { recoveryFacts } from './recovery-blocks.js';

/**
 * What the first page of a report of results says of the work; what the records do not hold is named as such.
 *
 * @see ISO/IEC 17025:2017, 7.8.2.1
 */
export function routineFacts(
  results: RoutineResults,
): readonly { readonly name: string; readonly value: string }[] {
  const { records } = results.run.index;
  const { plan, digestions, readings, equipment } = records;
  const count = (status: string) => results.results.filter((r) => r.status === status).length;
  const daysOf = (days: readonly string[]) => [...new Set(days)].sort().join(', ');
  const read = readings.map((r) => r.time.slice(0, 10));
  const used = equipmentInUse(equipment, periodOfWork(records, read)).map(({ id }) => id);
  return [
    { name: 'Run', value: [...new Set(readings.map((r) => r.run))].join(', ') },
    { name: 'Matrix', value: plan.matrix },
    { name: 'Basis', value: basisOfResults(plan) },
    { name: 'Fused', value: daysOf(digestions.map((d) => d.day)) },
    { name: 'Measured', value: daysOf(read) },
    {
      name: 'Analysts',
      value: `${workDone(digestions)
        .map(({ name }) => name)
        .join(', ')} (fusion)`,
    },
    { name: 'On equipment', value: used.join(', ') },
    { name: 'Customer and day of receipt', value: 'not in these records' },
    { name: 'Controls', value: results.accepted ? 'all passed' : 'not all passed: see section 1' },
    {
      name: 'Results',
      value: `${count('reported')} reported, ${count('below limit')} below their limit, ${count('held')} held, ${count('no result')} without value`,
    },
    { name: 'Validation', value: `study ${plan.routine!.validation}` },
    ...recoveryFacts(results.run.index.recoveries),
    { name: 'Release', value: 'not by this report: an authorised person decides and signs' },
  ];
}
