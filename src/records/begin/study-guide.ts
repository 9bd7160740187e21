import { workbookFile } from '../study-folder.js';
import { studyTables, type TableName, tableNames } from '../study-tables.js';
import { equipmentKeyGuide } from './equipment-keys.js';
import { planKeyGuide } from './plan-keys.js';
import { planRules } from './plan-rules.js';

/** First row of each table of an example study, as its file has it: heading line and row. */
export type ExampleRows = Readonly<
  Partial<Record<TableName, { readonly heading: string; readonly row: string }>>
>;

interface DescribedColumn {
  readonly heading: string;
  readonly expected: string;
  readonly about: string;
  readonly required: boolean;
}

/** Columns of a table in order, with what each holds. */
export function describedColumns(name: TableName): DescribedColumn[] {
  return Object.entries(studyTables[name].columns).map(([field, column]) =>
    column.kind === 'open'
      ? { heading: field, expected: column.expected, about: column.about, required: false }
      : {
          heading: column.heading,
          expected: column.expected,
          about: column.about,
          required: column.required,
        },
  );
}

/** The guide that a new study begins with, in Markdown. */
export function studyGuide(example: ExampleRows, cautionRule: string, cautions: readonly string[]): string {
  return [
    '# How to fill in this study',
    '',
    'Fill in `study.json` (the plan, before the work) and `equipment.json` (the register), then the tables row by row as the work goes on. `npx meltbook check` with the name of this folder lists everything that is still missing or wrong, with file, row and column. Tables may stay empty: what rests on them is then reported as not studied. The worked rows below are from the invented demonstration study.',
    '',
    'As soon as `study.json` is filled in, `npx meltbook run 10-plan-a-validation --study` with the name of this folder proposes days, digestions, additions and blanks from the criteria and from what `planning` expects, with what they cost. Where the size is not planned here, take the whole key `planning` out.',
    '',
    `Numbers use a decimal point or a decimal comma, the same throughout a table; dates are written 2026-03-02, times 2026-03-02T14:05:00 or 2026-03-02 14:05. The heading of a table is row 1. In place of the CSV files one workbook ${workbookFile} may hold the tables, a sheet for each under the name of the table, with the same headings. Units stand in the headings and are not changed.`,
    '',
    '## Cautions',
    '',
    cautionRule,
    '',
    ...cautions.map((caution) => `- ${caution}`),
    '',
    ...planKeyGuide(),
    '',
    ...planRules(),
    '',
    ...equipmentKeyGuide(),
    ...tableNames.flatMap((name) => tableGuide(name, example)),
    '',
  ].join('\n');
}

function costOf(withoutIt: string | null): string {
  return withoutIt === null ? 'It may stay empty.' : `Without it, not studied: ${withoutIt}.`;
}

function tableGuide(name: TableName, example: ExampleRows): string[] {
  const table = studyTables[name];
  const worked = example[name];
  return [
    '',
    `## ${name}.csv`,
    '',
    `A row is ${table.rowIs}. ${table.required ? 'Required.' : costOf(table.withoutIt)}`,
    '',
    ...describedColumns(name).map(
      (c) => `- **${c.heading}**${c.required ? '' : ' (may be empty)'}: ${c.about}; ${c.expected}.`,
    ),
    ...(worked === undefined
      ? []
      : ['', 'Worked row (invented):', '', '```csv', worked.heading, worked.row, '```']),
  ];
}
