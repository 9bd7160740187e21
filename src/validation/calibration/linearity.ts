import { InputError, requireFinite, requirePositive } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { ConfidenceLimits, Criterion, Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { noScatter } from '../no-scatter.js';
import { rowsOf } from '../result-row.js';
import { scaleOf } from '../scale.js';
import { edges, verdictAgainst } from '../verdict.js';

/** One standard solution of one run, read back through that run's calibration function. */
export interface LinearityRow {
  readonly key: string;
  readonly run: string;
  /** Name of the level, the same in every run. */
  readonly level: string;
  /** Prepared and back-calculated content, in one unit. */
  readonly massFraction: number;
  readonly backCalculated: number;
}

export interface LinearityOptions extends FindingOptions {
  /** Mass fraction in the solid per unit in the solution measured, at the nominal masses and dilution. */
  readonly solidPerUnit?: number;
}

/** Relative back-calculated deviation of one level over the runs; 0.01 is 1 %. */
export interface LinearityLevel {
  readonly level: string;
  readonly massFraction: number;
  readonly deviations: readonly number[];
  readonly meanDeviation: number;
  readonly limits: ConfidenceLimits | null;
}

/** Linearity over the range calibrated, with everything its table and figure need. */
export interface Linearity {
  readonly finding: Finding;
  /** In order of content, levels of content 0 left out. */
  readonly levels: readonly LinearityLevel[];
  readonly runs: number;
  /** Lowest and highest level, in the solution measured and in the solid (null where the factor was not given). */
  readonly range: { readonly low: number; readonly high: number };
  readonly rangeInSolid: { readonly low: number; readonly high: number } | null;
}

/**
 * Linearity by equivalence: at each level the 90 % interval of the mean relative back-calculated deviation over the runs
 * must lie within the allowed deviation. The worst level decides; it is the estimate of the finding.
 *
 * A good correlation coefficient or an insignificant lack of fit shows nothing of the kind: few, noisy data pass both.
 *
 * @throws InputError no level above 0, a content that is not finite
 * @see ISO 8466-1:2021; ISO 11095:1996 (residuals over runs; clauses not cited)
 */
export function linearity(rows: readonly LinearityRow[], options: LinearityOptions): Linearity {
  requireFinite(
    rows.flatMap((row) => [row.massFraction, row.backCalculated]),
    'standard solutions',
    2,
  );
  const above = rows.filter((row) => row.massFraction > 0);
  if (above.length === 0) throw new InputError('standard solutions: found none with a content above 0');
  const names = [...new Set(above.map((row) => row.level))];
  const levels = names
    .map((level) =>
      levelOf(
        level,
        above.filter((row) => row.level === level),
      ),
    )
    .sort((a, b) => a.massFraction - b.massFraction);
  const range = { low: levels[0]!.massFraction, high: levels.at(-1)!.massFraction };
  const factor = options.solidPerUnit;
  if (factor !== undefined) requirePositive(factor, 'mass fraction in the solid per unit in solution');
  return {
    finding: findingOf(above, levels, options),
    levels,
    runs: new Set(above.map((row) => row.run)).size,
    range,
    rangeInSolid: factor === undefined ? null : { low: range.low * factor, high: range.high * factor },
  };
}

function levelOf(level: string, rows: readonly LinearityRow[]): LinearityLevel {
  // A run that holds the level more than once counts once: its solutions share one calibration function.
  const runs = [...new Set(rows.map((row) => row.run))];
  const deviations = runs.map((run) =>
    mean(rows.filter((row) => row.run === run).map((row) => row.backCalculated / row.massFraction - 1)),
  );
  const meanDeviation = mean(deviations);
  const n = deviations.length;
  return {
    level,
    massFraction: mean(rows.map((row) => row.massFraction)),
    deviations,
    meanDeviation,
    limits:
      n > 1 ? limitsOfEstimate(meanDeviation, standardDeviation(deviations) / Math.sqrt(n), n - 1) : null,
  };
}

function findingOf(
  rows: readonly LinearityRow[],
  levels: readonly LinearityLevel[],
  options: LinearityOptions,
): Finding {
  const scale = scaleOf(options.criterion, 'deviation', 1);
  const worst = worstLevel(levels, options.criterion, scale.factor);
  const flat = levels.filter(
    ({ deviations }) => deviations.length > 1 && standardDeviation(deviations) === 0,
  );
  const single = levels.filter((level) => level.limits === null).map((level) => level.level);
  return makeFinding('linearity', options, {
    quantity: `mean relative back-calculated deviation at the worst level`,
    unit: scale.unit,
    estimate: worst.meanDeviation * scale.factor,
    limits: worst.limits === null ? null : scaleLimits(worst.limits, scale.factor),
    degreesOfFreedom: worst.limits === null ? null : worst.deviations.length - 1,
    n: worst.deviations.length,
    clause: 'ISO 8466-1:2021 (no clause); two one-sided tests, Schuirmann 1987',
    method: 'equivalence at each level over the runs by 90 % intervals; the worst level decides',
    rows: [rowsOf('calibration', rows)],
    notes: [
      `Worst of ${levels.length} standards above 0: number ${worst.level} of the series, ${Number(worst.massFraction.toPrecision(4))} ${options.unit} in the solution.`,
    ],
    notShownBecause:
      single.length > 0
        ? `Calibrated in one run only at ${single.join(', ')}; at least 2 runs are needed, better 5.`
        : flat.length > 0
          ? noScatter(
              `The deviations at ${flat.map(({ level }) => level).join(', ')}`,
              'runs show no agreement there',
            )
          : null,
    remedy: 'More calibrated runs narrow the interval at the worst level.',
  });
}

function worstLevel(
  levels: readonly LinearityLevel[],
  criterion: Criterion | null,
  factor: number,
): LinearityLevel {
  const order = { 'not met': 2, 'not shown': 1, met: 0, 'no criterion': 0, 'not studied': 0 };
  const centre = criterion?.kind === 'within' ? (edges(criterion).low + edges(criterion).high) / 2 : 0;
  const rank = (level: LinearityLevel): readonly [number, number] => {
    const limits = level.limits === null ? null : scaleLimits(level.limits, factor);
    const verdict = verdictAgainst(limits, level.meanDeviation * factor, criterion).verdict;
    const reach =
      limits === null
        ? Infinity
        : Math.max(Math.abs(limits.lowerOneSided - centre), Math.abs(limits.upperOneSided - centre));
    return [order[verdict], reach];
  };
  return levels.reduce((worst, level) => {
    const [a, b] = [rank(worst), rank(level)];
    return b[0] > a[0] || (b[0] === a[0] && b[1] > a[1]) ? level : worst;
  });
}
