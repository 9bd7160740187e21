import type { StudyRecords } from '../../../../src/records/study-records.js';
import type { DigestionRecord } from '../../../../src/records/tables/digestions.js';

/** Level that loses digestions in these cases. */
const sample = 'ZP-3';

type Case = 'lost digestions' | 'a missing day' | 'an extra operator';

/** The invented study with rows lost or an operator more, as happens in laboratories. */
export function unbalancedRecords(records: StudyRecords): Record<Case, StudyRecords> {
  const own = records.digestions.filter((d) => d.sample === sample && d.kind === 'sample');
  const days = [...new Set(own.map((d) => d.day))].sort();
  const second = (day: string) => own.filter((d) => d.day === day)[1]!.digestion;
  const lost = [1, 4, 7, 8].map((k) => second(days[k]!));
  const missing = own.filter((d) => d.day === days[5]).map((d) => d.digestion);
  // The third operator takes over the second digestion of every other day: operators cross with days.
  const taken = [0, 2, 4, 6, 8].map((k) => second(days[k]!));
  return {
    'lost digestions': without(records, lost),
    'a missing day': without(records, [...missing, second(days[0]!)]),
    'an extra operator': {
      ...without(records, [second(days[3]!)]),
      digestions: without(records, [second(days[3]!)]).digestions.map((d) =>
        taken.includes(d.digestion) ? { ...d, operator: 'C. Newfield' } : d,
      ),
    },
  };
}

/** Records without some digestions, their dilutions and their readings. */
function without(records: StudyRecords, names: readonly string[]): StudyRecords {
  const gone = new Set([
    ...names,
    ...records.dilutions.filter((d) => names.includes(d.digestion)).map((d) => d.dilution),
  ]);
  return {
    ...records,
    digestions: records.digestions.filter((d: DigestionRecord) => !gone.has(d.digestion)),
    dilutions: records.dilutions.filter((d) => !gone.has(d.dilution)),
    readings: records.readings.filter((r) => !gone.has(r.solution)),
  };
}
