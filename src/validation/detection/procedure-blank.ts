import { InputError, requireFinite, requirePositive } from '../../errors.js';
import { oneWayAnalysis } from '../../statistics/analysis-of-variance/one-way.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { limitsOfEstimate, limitsOfStandardDeviation, scaleLimits } from '../confidence-limits.js';
import type { ConfidenceLimits, Criterion, Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { rowsOf, valuesBy } from '../result-row.js';
import { type Scale, scaleOf } from '../scale.js';
import { verdictAgainst } from '../verdict.js';

/** One usable independent procedure blank: flux and reagents through the whole procedure without a portion. */
export interface BlankRow {
  readonly key: string;
  readonly run: string;
  readonly value: number;
}

export interface ProcedureBlankOptions extends FindingOptions {
  /** Mass fraction in the solid (in `unit`) per unit of the values; 1 where they are already in the solid. */
  readonly solidPerUnit?: number;
  /** Whether the routine subtracts the blank of the same run; then only the spread within a run counts. */
  readonly subtracted: 'run by run' | 'over all runs';
  /** Blanks left out for a recorded technical cause. */
  readonly excluded?: number;
  /**
   * Present where the values are brought to one mass of flux by a line through them, which costs one degree of freedom more than
   * a mean: the variance of the line there as a share of that of one blank, 1/n + (m_flux − mean)²/Σ(m_flux,i − mean)².
   */
  readonly line?: { readonly share: number };
}

/** Spread of the blanks with its limits, in the unit of the values. */
export interface BlankSpread {
  readonly standardDeviation: number;
  readonly degreesOfFreedom: number;
  readonly limits: ConfidenceLimits;
}

/** Procedure blank, with everything its table and figure need, in the unit of the values handed in. */
export interface ProcedureBlank {
  readonly finding: Finding;
  readonly n: number;
  readonly runs: number;
  readonly mean: number;
  /** Variance of the blank that is subtracted as a share of that of one blank: 1/n where it is a mean. */
  readonly share: number;
  /** Spread that decisions rest on: within a run or in all, as the routine subtracts; null where there are too few. */
  readonly spread: BlankSpread | null;
  readonly total: BlankSpread | null;
  readonly withinRun: BlankSpread | null;
  /** p of the F test between runs; null where it cannot be made. */
  readonly pBetweenRuns: number | null;
  /** Reason why nothing that rests on the blanks can be shown; null where there are enough. */
  readonly tooFew: string | null;
}

/** Fewer usable independent procedure blanks than this show nothing, whatever their values. */
export const leastBlanks = 6;

/**
 * Mean and spread of the procedure blanks; the finding is about the mean as a mass fraction in the solid.
 *
 * @throws InputError a value that is not finite
 * @see Currie 1995, IUPAC Recommendations, Pure Appl. Chem. 67, 1699 (blank)
 */
export function procedureBlank(rows: readonly BlankRow[], options: ProcedureBlankOptions): ProcedureBlank {
  if (rows.length === 0) throw new InputError('procedure blanks: found none, expected at least 1');
  const values = rows.map((row) => row.value);
  requireFinite(values, 'procedure blanks');
  const factor = options.solidPerUnit ?? 1;
  requirePositive(factor, 'mass fraction in the solid per unit of the blanks');
  const groups = [...valuesBy(rows, (row) => row.run).values()];
  const n = values.length;
  const total = totalSpread(values, options.line !== undefined);
  const nested = groups.length > 1 && n > groups.length ? oneWayAnalysis(groups) : null;
  const withinRun = nested
    ? spreadOf(Math.sqrt(nested.meanSquareWithin), nested.degreesOfFreedomWithin)
    : groups.length === 1
      ? total
      : null;
  const figures = {
    n,
    runs: groups.length,
    mean: mean(values),
    share: options.line?.share ?? 1 / n,
    spread: options.subtracted === 'run by run' ? withinRun : total,
    total,
    withinRun,
    pBetweenRuns: nested ? nested.pValue : null,
    tooFew: tooFewBlanks(n, options.excluded ?? 0),
  };
  return { finding: findingOf(rows, options, factor, figures), ...figures };
}

/**
 * The structural rule about the number of blanks, in words; null where there are enough.
 *
 * @example
 * tooFewBlanks(6, 0) === null // => true
 */
export function tooFewBlanks(n: number, excluded: number): string | null {
  if (n >= leastBlanks) return null;
  const left = excluded > 0 ? ` (${excluded} excluded for a technical cause)` : '';
  return `Found ${n} usable independent procedure blanks${left}; at least ${leastBlanks} are needed, ${leastBlanks - n} more would do, 12 are better.`;
}

/** What the limits of the mean would be with the runs, not the blanks, as the independent units. */
function betweenRunsNote(
  rows: readonly BlankRow[],
  factor: number,
  { unit, factor: toUnit }: Scale,
  criterion: Criterion | null,
): string {
  const means = [...valuesBy(rows, (row) => row.run).values()].map((values) => mean(values) * factor);
  const u = standardDeviation(means) / Math.sqrt(means.length);
  const limits = scaleLimits(limitsOfEstimate(mean(means), u, means.length - 1), toUnit);
  const shown = (value: number) => String(Number(value.toPrecision(3))).replace('-', '−');
  const { verdict } = verdictAgainst(limits, mean(means) * toUnit, criterion);
  return `Blanks differ between runs by more than within them, which the printed limits of the mean leave out; with the ${means.length} runs as units the one-sided 95 % limits are ${shown(limits.lowerOneSided)} and ${shown(limits.upperOneSided)} ${unit}${criterion === null ? '' : `, and by them the criterion is ${verdict}`}.`;
}

/** Deviations from a line have one degree of freedom less than those from a mean. */
function totalSpread(values: readonly number[], fromLine: boolean): BlankSpread | null {
  const nu = values.length - (fromLine ? 2 : 1);
  if (nu < 1) return null;
  const s = standardDeviation(values);
  return spreadOf(fromLine ? s * Math.sqrt((nu + 1) / nu) : s, nu);
}

function spreadOf(value: number, degreesOfFreedom: number): BlankSpread {
  return {
    standardDeviation: value,
    degreesOfFreedom,
    limits: limitsOfStandardDeviation(value, degreesOfFreedom),
  };
}

function findingOf(
  rows: readonly BlankRow[],
  options: ProcedureBlankOptions,
  factor: number,
  figures: Omit<ProcedureBlank, 'finding'>,
): Finding {
  const { total, n } = figures;
  const inSolid = figures.mean * factor;
  const scale = scaleOf(options.criterion, options.unit, Number.NaN, options.unit);
  const s = (total?.standardDeviation ?? 0) * factor;
  const ofBlank = options.line === undefined ? s / Math.sqrt(n) : s * Math.sqrt(options.line.share);
  const notes = [`${n} blanks of ${figures.runs} run(s).`];
  if (figures.pBetweenRuns !== null && figures.pBetweenRuns < 0.05) {
    notes.push(betweenRunsNote(rows, factor, scale, options.criterion));
  }
  return makeFinding('procedure blank', options, {
    quantity: 'mean procedure blank as mass fraction in the solid',
    unit: scale.unit,
    estimate: inSolid * scale.factor,
    limits: total
      ? scaleLimits(limitsOfEstimate(inSolid, ofBlank, total.degreesOfFreedom), scale.factor)
      : null,
    degreesOfFreedom: total ? total.degreesOfFreedom : null,
    n,
    clause: 'Currie 1995, Pure Appl. Chem. 67, 1699',
    method: options.line
      ? 'line over the mass of flux through the usable independent procedure blanks at the nominal mass, limits by t'
      : 'mean of the usable independent procedure blanks, limits by t',
    rows: [rowsOf('digestions', rows)],
    notes,
    notShownBecause: figures.tooFew,
    remedy: 'More blanks narrow the limits of their mean.',
  });
}
