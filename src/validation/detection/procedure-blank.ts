import { InputError, requireFinite, requireInteger, requirePositive } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { leastDays } from '../precision/precision.js';
import { rowsOf } from '../result-row.js';
import { scaleOf } from '../scale.js';
import { type BlankRow, type BlankSpread, type BlankSpreads, blankSpreads } from './blank-spreads.js';

export interface ProcedureBlankOptions extends FindingOptions {
  /** Mass fraction in the solid (in `unit`) per unit of the values; 1 where they are already in the solid. */
  readonly solidPerUnit?: number;
  /** Whether the routine subtracts the blank of the same run; then only the spread within a run counts. */
  readonly subtracted: 'run by run' | 'over all runs';
  /** Digestions of one run whose mean the routine reports; 1 where not given. */
  readonly digestionsPerResult?: number;
  /** Blanks left out for a recorded technical cause. */
  readonly excluded?: number;
  /**
   * Present where the values are brought to one mass of flux by a line through them, which costs one degree of freedom more than
   * a mean: the variance of the line there as a share of that of one blank, 1/n + (m_flux − mean)²/Σ(m_flux,i − mean)².
   */
  readonly line?: { readonly share: number };
}

/** Procedure blank, with everything its table and figure need, in the unit of the values handed in. */
export interface ProcedureBlank {
  readonly finding: Finding;
  readonly n: number;
  readonly runs: number;
  /** Mean of all blanks, as it is subtracted. */
  readonly mean: number;
  /** Spread that decisions rest on: within a run or in all, as the routine subtracts; null where there are too few. */
  readonly spread: BlankSpread | null;
  readonly total: BlankSpread | null;
  readonly withinRun: BlankSpread | null;
  /** Of a result at content 0 with its blank subtracted; null where there are too few. */
  readonly atZero: BlankSpread | null;
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
  const digestionsPerResult = options.digestionsPerResult ?? 1;
  requireInteger(digestionsPerResult, 'digestions a result', 1);
  const line = options.line === undefined ? {} : { lineShare: options.line.share };
  const spreads = blankSpreads(rows, { digestionsPerResult, ...line });
  const { runs, total, withinRun, pBetweenRuns } = spreads;
  const isByRun = options.subtracted === 'run by run';
  const n = values.length;
  const figures = {
    n,
    runs,
    mean: mean(values),
    spread: isByRun ? withinRun : total,
    total,
    withinRun,
    atZero: isByRun ? scaledSpread(withinRun, Math.sqrt(1 / digestionsPerResult + runs / n)) : spreads.atZero,
    pBetweenRuns,
    tooFew: tooFewBlanks(n, options.excluded ?? 0) ?? tooFewRuns(n, runs),
  };
  return { finding: findingOf(rows, options, factor, figures, spreads), ...figures };
}

function scaledSpread(spread: BlankSpread | null, factor: number): BlankSpread | null {
  if (spread === null) return null;
  const { standardDeviation, limits } = spread;
  return {
    ...spread,
    standardDeviation: standardDeviation * factor,
    limits: scaleLimits(limits, factor),
  };
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

/** Blanks of one run share its calibration and conditions, so that few runs say little however many blanks they hold. */
function tooFewRuns(n: number, runs: number): string | null {
  if (runs >= leastDays) return null;
  return `Found ${n} usable procedure blanks in ${runs} run(s); blanks of at least ${leastDays} runs are needed, for those of one run share its errors.`;
}

function findingOf(
  rows: readonly BlankRow[],
  options: ProcedureBlankOptions,
  factor: number,
  { n, runs, tooFew, pBetweenRuns }: Omit<ProcedureBlank, 'finding'>,
  { ofMean, mean: overRuns, shared }: BlankSpreads,
): Finding {
  const inSolid = overRuns * factor;
  const scale = scaleOf(options.criterion, options.unit, Number.NaN, options.unit);
  const notes = [`${n} blanks of ${runs} run(s); the runs are the independent units of the limits.`];
  if (pBetweenRuns !== null && pBetweenRuns < 0.05) {
    notes.push(`Blanks differ between runs by more than within them (p = ${pBetweenRuns.toPrecision(2)}).`);
  }
  if (shared && options.subtracted === 'over all runs') {
    notes.push(
      'Runs hold too few blanks to tell their scatter within a run from that between runs: for the limits of detection and quantification the digestions of a result are taken to share all of it.',
    );
  }
  return makeFinding('procedure blank', options, {
    quantity: 'mean procedure blank as mass fraction in the solid',
    unit: scale.unit,
    estimate: inSolid * scale.factor,
    limits: ofMean
      ? scaleLimits(
          limitsOfEstimate(inSolid, ofMean.standardUncertainty * factor, ofMean.degreesOfFreedom),
          scale.factor,
        )
      : null,
    degreesOfFreedom: ofMean ? ofMean.degreesOfFreedom : null,
    n,
    clause: 'Currie 1995, Pure Appl. Chem. 67, 1699',
    method: options.line
      ? 'line over the mass of flux through the usable independent procedure blanks at the nominal mass, limits by t from the scatter of runs'
      : 'mean over runs of the usable independent procedure blanks, limits by t from the scatter of run means',
    rows: [rowsOf('digestions', rows)],
    notes,
    notShownBecause: tooFew,
    remedy: 'Blanks of more runs narrow the limits of their mean.',
  });
}
