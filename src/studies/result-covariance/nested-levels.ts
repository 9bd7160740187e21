import { contentOfRatio } from '../../chain/calibration.js';
import { InputError } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import { resultsOf } from '../matrix/matrix-context.js';
import { signalOfStandard } from '../run-calibrations.js';

type Valued = DigestionResult & { readonly value: number };

/** Results of one level in digestions that the same pairs of analytes have results in. */
export interface LevelRows {
  readonly level: string;
  /** Mean of each analyte over the level, which its scatter is relative to. */
  readonly centres: readonly number[];
  /** Rows of all analytes by day, days in order; null for an analyte that no pair below names. */
  readonly days: ReadonlyMap<string, readonly (readonly (DigestionResult | null)[])[]>;
  /** Analytes by twos, a ≤ b, an analyte with itself included, whose scatter the rows tell. */
  readonly pairs: readonly (readonly [a: number, b: number])[];
}

/** What the scatter of a study's results is taken from. */
export interface NestedLevels {
  /** Analytes with results repeated within and over days at one level at least. */
  readonly analytes: readonly string[];
  readonly levels: readonly LevelRows[];
}

/** A content so many times the signal's floor is well above it (k of the limit of quantification). */
const floorsAbove = 10;

/**
 * Results repeated within and over days, level by level. Each analyte, and each two of them, count where both have results: what one
 * lacks takes nothing from the others. A level counts for an analyte where it holds as much as is to be reported, and ten times the
 * floor of its signal: next to nothing, a scatter relative to the content has no meaning.
 *
 * @throws InputError no analyte has results of 2 days and of 2 digestions of one day at a level that counts
 */
export function nestedLevels(study: EvaluatedStudy): NestedLevels {
  const { plan } = study.index.records;
  const measured = plan.levels.map(({ level, sample }) => ({
    level,
    results: new Map(plan.analytes.map(({ analyte }) => [analyte, countedResults(study, analyte, sample)])),
  }));
  const analytes = plan.analytes.flatMap(({ analyte }) =>
    measured.some(({ results }) => isNested(results.get(analyte)!)) ? [analyte] : [],
  );
  if (analytes.length === 0) {
    throw new InputError(
      'scatter of results: found no analyte with results of 2 days, 2 digestions of one day and a content to be reported at one level, expected one at least',
    );
  }
  return {
    analytes,
    levels: measured.flatMap(({ level, results }) =>
      rowsOfLevel(
        level,
        analytes.map((analyte) => results.get(analyte)!),
      ),
    ),
  };
}

function countedResults(study: EvaluatedStudy, analyte: string, sample: string): readonly Valued[] {
  const results = resultsOf(study, analyte, 'sample', sample);
  const { plan } = study.index.records;
  const { lowestReported, signalFloorMgPerKg: floor } = study.index.scopes.get(analyte)!;
  if (results.length === 0) return [];
  const contents = results.map(({ observation }) => {
    const { calibration, meanRatio, internalStandard } = observation.signals[0]!;
    return contentOfRatio(
      calibration,
      signalOfStandard(plan, meanRatio, internalStandard == null ? null : 1),
    );
  });
  const isEnough =
    mean(results.map((r) => r.value)) >= lowestReported && mean(contents) >= floorsAbove * floor;
  return isEnough ? results : [];
}

function isNested(results: readonly Valued[]): boolean {
  const perDay = new Map<string, number>();
  for (const { day } of results) perDay.set(day, (perDay.get(day) ?? 0) + 1);
  return perDay.size >= 2 && Math.max(...perDay.values()) >= 2;
}

/** Pairs that have results in the same digestions share their rows: all of them, where nothing is missing. */
function rowsOfLevel(level: string, results: readonly (readonly Valued[])[]): LevelRows[] {
  const byDigestion = results.map((own) => new Map(own.map((r) => [r.digestion, r])));
  const groups = new Map<string, { rows: readonly Valued[]; pairs: [number, number][] }>();
  results.forEach((own, a) => {
    for (let b = a; b < results.length; b++) {
      const rows = own.filter((r) => byDigestion[b]!.has(r.digestion));
      if (!isNested(rows)) continue;
      const key = rows
        .map((r) => r.digestion)
        .sort()
        .join('|');
      const group = groups.get(key) ?? { rows, pairs: [] };
      group.pairs.push([a, b]);
      groups.set(key, group);
    }
  });
  const centres = results.map((own) => (own.length === 0 ? Number.NaN : mean(own.map((r) => r.value))));
  return [...groups.values()].map(({ rows, pairs }) => {
    const named = new Set(pairs.flat());
    const days = new Map<string, (DigestionResult | null)[][]>();
    for (const { day, digestion } of [...rows].sort((x, y) => (x.day < y.day ? -1 : x.day > y.day ? 1 : 0))) {
      const row = byDigestion.map((own, a) => (named.has(a) ? own.get(digestion)! : null));
      days.set(day, [...(days.get(day) ?? []), row]);
    }
    return { level, centres, days, pairs };
  });
}
