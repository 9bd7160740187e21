import type { HistoryRecord } from '../../records/tables/history.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { column, countCell, empty, number, text } from '../cells.js';
import type { Cell, Section, Table } from '../document.js';
import { paragraph, sectionOf } from '../section-of.js';

/** In order of first appearance of the analyte, so that each heading of the table stands once. */
function byAnalyte<T extends readonly [HistoryRecord, ...HistoryRecord[]]>(groups: readonly T[]): T[] {
  const analytes = [...new Set(groups.map(([first]) => first.analyte))];
  return analytes.flatMap((analyte) => groups.filter(([first]) => first.analyte === analyte));
}

function summary(history: readonly HistoryRecord[]): Table {
  const groups = new Map<string, [HistoryRecord, ...HistoryRecord[]]>();
  for (const row of history) {
    const key = JSON.stringify([row.material, row.analyte, row.equipment, row.unit]);
    const own = groups.get(key);
    if (own === undefined) groups.set(key, [row]);
    else own.push(row);
  }
  return {
    kind: 'table',
    id: 'control-results/summary',
    caption: 'Control results by analyte and by the equipment they were made on',
    columns: [
      column('Analyte'),
      column('Material'),
      column('Equipment'),
      column('From'),
      column('To'),
      column('Results'),
      column('Mean'),
      column('Standard deviation'),
      column('Unit'),
    ],
    rows: byAnalyte([...groups.values()]).map((rows): Cell[] => {
      const values = rows.map(({ value }) => value);
      const days = rows.map(({ date }) => date).sort();
      return [
        text(rows[0].analyte),
        text(rows[0].material),
        text(rows[0].equipment.join(', ')),
        text(days[0] ?? ''),
        text(days.at(-1) ?? ''),
        countCell(values.length),
        number(mean(values), 4),
        values.length > 1 ? number(standardDeviation(values), 2) : empty('one result'),
        text(rows[0].unit),
      ];
    }),
    notes: [],
    groupedBy: 0,
  };
}

/**
 * Control results on record, gathered by analyte and equipment: information beside a validation, without verdict.
 *
 * @see ISO/IEC 17025:2017, 7.7.1
 */
export function controlResultsSection(history: readonly HistoryRecord[]): Section {
  return sectionOf({
    id: 'control-results',
    heading: 'Control results',
    clause: 'ISO/IEC 17025:2017, 7.7.1',
    blocks:
      history.length === 0
        ? [paragraph('No control result is recorded.')]
        : [
            paragraph(
              'Results before and after a change of equipment are compared, with control charts, in the report on an equipment change.',
            ),
            summary(history),
          ],
  });
}
