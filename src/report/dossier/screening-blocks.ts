import type { OutlierTest } from '../../statistics/screening/outlier-test.js';
import { type ExclusionEffect, exclusionEffects } from '../../studies/matrix/exclusion-effects.js';
import type { LevelScreening } from '../../studies/matrix/screening-study.js';
import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import { column, countCell, empty, numberOr, text, verdictCell } from '../cells.js';
import type { Block, Cell, Table } from '../document.js';
import { paragraph } from '../section-of.js';

/** Three digits, with the sign that numbers are set with. */
function shown(value: number): string {
  return value.toPrecision(3).replace('-', '\u2212');
}

/** Statistic and limit of a test in one cell, such as "2.10 (limit 2.29)". */
function against(test: Pick<OutlierTest, 'statistic' | 'critical'> | null): Cell {
  return test === null ? empty('too few') : text(`${shown(test.statistic)} (limit ${shown(test.critical)})`);
}

/** Why a test flagged: which side of its limit is outlying differs from test to test. */
function decisive({ statistic, critical, alpha }: OutlierTest): string {
  const side = statistic < critical ? 'below' : 'above';
  return `${shown(statistic)}, ${side} its ${100 * alpha} % limit ${shown(critical)}`;
}

function largest(values: readonly number[], days: readonly string[], limit: number): Cell {
  const place = values.reduce((best, v, i) => (Math.abs(v) > Math.abs(values[best]!) ? i : best), 0);
  return text(`${shown(values[place]!)} (limit ${shown(limit)}), ${days[place]!}`);
}

/** Screening of the digestions of every level: all tests, then precision with and without what is flagged. */
export function screeningBlocks(screenings: readonly LevelScreening[]): Block[] {
  if (screenings.length === 0) return [];
  const flagged = screenings.filter((s) => s.flagged.length > 0);
  return [
    paragraph(
      `Screening of the digestions for odd results, at the 5 % level: of ${screenings.length} levels of analytes, ${flagged.length} bear a flag. With several tests of each, some flags come by chance. A flag sends a person to look for a technical cause; nothing is left out by a test.`,
    ),
    testTable(screenings),
    ...(flagged.length === 0 ? [] : [withoutTable(flagged)]),
  ];
}

function testTable(screenings: readonly LevelScreening[]): Table {
  return {
    kind: 'table',
    id: 'intermediate precision/screening',
    caption: 'Screening of digestions and days, analyte by analyte and level by level',
    columns: [
      column('Analyte'),
      column('Level'),
      column('Cochran: spread within a day'),
      column('Grubbs: mean of a day'),
      column('Mandel h: mean of a day, largest'),
      column('Mandel k: spread within a day, largest'),
      column('Days declared outlying by generalised ESD'),
      column('Flagged'),
    ],
    rows: screenings.map(({ level, tests }) => [
      text(level.analyte),
      text(level.level),
      against(tests.cochran),
      against(tests.grubbs),
      tests.consistency === null
        ? empty('too few days')
        : largest(tests.consistency.h, tests.consistencyDays, tests.consistency.hCritical),
      tests.consistency === null
        ? empty('too few days')
        : largest(tests.consistency.k, tests.consistencyDays, tests.consistency.kCritical),
      tests.severalMeans === null
        ? empty('too few days')
        : text(tests.severalMeans.outliers.map((place) => tests.days[place]!).join(', ') || 'none'),
      text(
        tests.flags
          .map(
            (f) =>
              `${f.level}: ${f.about}, ${f.days.join(' and ')} (${f.digestions.join(', ')}), ${f.test.method}, ${decisive(f.test)}`,
          )
          .join('; ') || 'none',
      ),
    ]),
    notes: [
      'Statistic with its 5 % limit. A straggler lies beyond the 5 % limit, an outlier beyond the 1 % limit (ISO 5725-2:2019, 8.3, clause from memory). Mandel’s limits hold for each day alone: among ten days, one or another lies beyond them by chance at about every third level, so they raise no flag.',
    ],
    groupedBy: 0,
  };
}

function withoutTable(flagged: readonly LevelScreening[]): Table {
  const row = (
    { level, flagged: digestions, without }: LevelScreening,
    which: 'repeatability' | 'intermediatePrecision',
  ): Cell[] => {
    const [own, other] = [level.precision[which], without?.[which] ?? null];
    return [
      text(level.analyte),
      text(level.level),
      text(own.characteristic),
      text(digestions.join(', ')),
      numberOr(own.estimate, 3, 'none'),
      numberOr(other?.estimate ?? null, 3, 'too few left'),
      text(own.unit),
      verdictCell(own.verdict),
      other === null ? empty('too few left') : verdictCell(other.verdict),
    ];
  };
  return {
    kind: 'table',
    id: 'intermediate precision/flagged',
    caption: 'Precision with and without the flagged digestions: the figures with them count',
    columns: [
      column('Analyte'),
      column('Level'),
      column('Characteristic'),
      column('Flagged digestions'),
      column('Estimate with them'),
      column('Estimate without'),
      column('Unit'),
      column('Verdict with them'),
      column('Verdict without'),
    ],
    rows: flagged.flatMap((s) => [row(s, 'repeatability'), row(s, 'intermediatePrecision')]),
    notes: [],
    groupedBy: 0,
  };
}

/** Findings as they stand, and as they would be with the excluded rows put back. */
export function exclusionBlocks(validation: MatrixValidation): Block[] {
  const effects = exclusionEffects(validation.recorded, validation);
  return effects.length === 0 ? [] : [exclusionTable(effects)];
}

function exclusionTable(effects: readonly ExclusionEffect[]): Table {
  const rows = effects.flatMap(({ technicalCause, rows: excluded, changed }) =>
    changed.map(({ without, withRows }) => [
      text(technicalCause),
      text(`${excluded.length} in ${excluded[0]!.table}`),
      text(without.analyte === '*' ? 'all analytes' : without.analyte),
      text(without.characteristic),
      text(without.level),
      numberOr(without.estimate, 3, 'none'),
      numberOr(withRows.estimate, 3, 'none'),
      text(without.unit),
      countCell(without.n),
      countCell(withRows.n),
      verdictCell(without.verdict),
      verdictCell(withRows.verdict),
    ]),
  );
  return {
    kind: 'table',
    id: 'exclusions/effects',
    caption: 'Findings with and without the excluded rows: what stands without them counts',
    columns: [
      column('Technical cause'),
      column('Rows left out, in table'),
      column('Analyte'),
      column('Characteristic'),
      column('Level'),
      column('Estimate without the rows'),
      column('Estimate with them'),
      column('Unit'),
      column('n without'),
      column('n with'),
      column('Verdict without the rows'),
      column('Verdict with them'),
    ],
    rows,
    notes: [
      'Rows that share a cause are put back together. Findings that do not change are not listed. A figure with the rows can be beyond all sense, where they are blanks that are subtracted from every result: it shows what the rows would have done and says nothing of the method.',
    ],
    groupedBy: 0,
  };
}
