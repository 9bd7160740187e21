import {
  choice,
  date,
  integer,
  name,
  number,
  optionalNumber,
  optionalText,
  text,
} from '../table-form/column.js';
import type { RowProblem, Table } from '../table-form/table.js';

/** One digestion: one portion weighed, fused, dissolved, weighed back. Masses are balance readings in air. */
export interface DigestionRecord {
  readonly digestion: string;
  /** Order of work within the day, from 1. */
  readonly order: number;
  /** Sample or material; for blanks `procedure blank` or `memory blank`. */
  readonly sample: string;
  readonly kind: 'sample' | 'blank' | 'reference' | 'spike';
  /** ISO date. */
  readonly day: string;
  readonly operator: string;
  readonly place: string;
  readonly crucible: string;
  readonly portionBalance: string;
  readonly vesselBalance: string;
  readonly crucibleG: number;
  /** Equal to `crucibleG` for a blank without portion. */
  readonly crucibleWithPortionG: number;
  readonly fluxG: number;
  readonly crucibleWithMeltG: number | null;
  /** Null where it was not weighed: the digestion then has no result. */
  readonly vesselEmptyG: number | null;
  readonly vesselWithSolutionAndCrucibleG: number;
  readonly acidG: number | null;
  readonly internalStandardG: number | null;
  readonly densityGPerML: number | null;
  readonly melt: 'clear' | 'not clear';
  readonly solution: 'clear' | 'residue';
  readonly remark: string;
}

export const digestionTable: Table<DigestionRecord> = {
  name: 'digestions',
  rowIs: 'one digestion',
  key: ['digestion'],
  required: true,
  withoutIt: 'everything: no result without digestions',
  columns: {
    digestion: name('digestion', 'name of the digestion, used in all other tables'),
    order: integer('order', 'order of work within the day, from 1', { atLeast: 1 }),
    sample: text('sample', 'sample or material; for a blank the name that study.json gives it'),
    kind: choice('kind', 'what was digested', ['sample', 'blank', 'reference', 'spike']),
    day: date('day', 'day of the fusion'),
    operator: text('operator', 'who fused'),
    place: text('place', 'place in the furnace'),
    crucible: text('crucible', 'mark of the crucible'),
    portionBalance: text('portion balance', 'balance that weighed the portion: its id in equipment.json'),
    vesselBalance: text('vessel balance', 'balance that weighed the vessel: its id in equipment.json'),
    crucibleG: number('crucible g', 'empty crucible, reading in air', { above: 0 }),
    crucibleWithPortionG: number(
      'crucible with portion g',
      'crucible with the portion, before the flux; for a blank without portion the same figure as crucible g',
      { above: 0 },
    ),
    fluxG: number('flux g', 'flux weighed in', { above: 0 }),
    crucibleWithMeltG: optionalNumber(
      'crucible with melt g',
      'crucible with the cold melt; without it the part retained in fusion has to be a stated input',
      { above: 0 },
    ),
    vesselEmptyG: optionalNumber(
      'vessel empty g',
      'empty vessel; left empty in a routine run where the tare is lost',
      {
        above: 0,
      },
    ),
    vesselWithSolutionAndCrucibleG: number(
      'vessel with solution and crucible g',
      'vessel weighed back at room temperature, closed, crucible inside',
      { above: 0 },
    ),
    acidG: optionalNumber('acid g', 'acid added', { above: 0 }),
    internalStandardG: optionalNumber(
      'internal standard g',
      'internal-standard solution added to the digestion',
      {
        above: 0,
      },
    ),
    densityGPerML: optionalNumber(
      'density g/mL',
      'density of the solution; with a calibration in mg/L, a digestion of a routine run has no result without it',
      { above: 0 },
    ),
    melt: choice('melt', 'look of the melt', ['clear', 'not clear']),
    solution: choice('solution', 'look of the solution', ['clear', 'residue']),
    remark: optionalText('remark', 'anything that may explain a result later'),
  },
  checkRow: checkMasses,
};

/** Masses of one digestion that contradict each other. */
function checkMasses(record: DigestionRecord): readonly RowProblem<DigestionRecord>[] {
  const { crucibleG, crucibleWithPortionG, crucibleWithMeltG, vesselEmptyG, kind } = record;
  const problems: RowProblem<DigestionRecord>[] = [];
  const refuse = (field: keyof DigestionRecord & string, expected: string) =>
    problems.push({ code: 'masses', field, found: String(record[field]), expected });
  if (kind === 'blank' ? crucibleWithPortionG < crucibleG : crucibleWithPortionG <= crucibleG) {
    const least = kind === 'blank' ? 'at least' : 'more than';
    refuse('crucibleWithPortionG', `${least} the empty crucible, ${crucibleG} g`);
  }
  if (crucibleWithMeltG !== null && crucibleWithMeltG <= crucibleWithPortionG) {
    refuse('crucibleWithMeltG', `more than the crucible with portion, ${crucibleWithPortionG} g`);
  }
  if (vesselEmptyG !== null && record.vesselWithSolutionAndCrucibleG <= vesselEmptyG + crucibleG) {
    refuse(
      'vesselWithSolutionAndCrucibleG',
      `more than the empty vessel and the crucible together, ${vesselEmptyG} g + ${crucibleG} g`,
    );
  }
  return problems;
}
