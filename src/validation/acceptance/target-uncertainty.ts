import { requireNonNegative, requirePositive } from '../../errors.js';
import type { Finding, RowReference } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { scaleOf } from '../scale.js';

export interface TargetUncertaintyOptions extends FindingOptions {
  /** Result and its expanded uncertainty, in `unit`. */
  readonly result: number;
  readonly expandedUncertainty: number;
  readonly coverageFactor: number;
  readonly coverageProbability: number;
  readonly effectiveDegreesOfFreedom: number;
  /** A bias that was found and neither corrected nor carried; null where there is none. */
  readonly unresolvedBias: string | null;
  /** What a *met* verdict rests on that is itself open, such as a blank that is not shown. */
  readonly conditions?: readonly string[];
  readonly rows: readonly RowReference[];
}

/**
 * Whether the expanded uncertainty of the budget keeps its target at one level. The budget is a computation, so the figure
 * is compared as it stands; with an unresolved bias the budget does not describe the results, and nothing is shown.
 *
 * @throws InputError a negative uncertainty, a result not above 0 under a relative criterion
 * @see Eurachem, Setting and Using Target Uncertainty in Chemical Measurement 2015; JCGM 100:2008 (GUM), 6 and F.2.4.5
 * @example
 * targetUncertainty({ analyte: 'Al', level: 'low', unit: 'mg/kg', criterion: { kind: 'at most', limit: 5, unit: '%', reason: '', owner: '' }, result: 200, expandedUncertainty: 8, coverageFactor: 2, coverageProbability: 0.95, effectiveDegreesOfFreedom: 40, unresolvedBias: null, rows: [] }).verdict // => 'met'
 */
export function targetUncertainty(options: TargetUncertaintyOptions): Finding {
  requireNonNegative(options.expandedUncertainty, 'expanded uncertainty');
  requirePositive(options.coverageFactor, 'coverage factor');
  const scale = scaleOf(options.criterion, options.unit, options.result);
  return makeFinding('target uncertainty', options, {
    quantity: `${scale.relative ? 'relative ' : ''}expanded uncertainty of the result`,
    unit: scale.unit,
    estimate: options.expandedUncertainty * scale.factor,
    limits: null,
    degreesOfFreedom: options.effectiveDegreesOfFreedom,
    n: 1,
    clause: 'JCGM 100:2008 (GUM), 6; Eurachem, target measurement uncertainty 2015',
    method: `budget by the law of propagation, k for ${100 * options.coverageProbability} % by the t distribution, in the table of budgets`,
    rows: options.rows,
    exact: true,
    conditions: options.conditions ?? [],
    notShownBecause:
      options.unresolvedBias === null
        ? null
        : `${options.unresolvedBias} Until it is corrected or carried in the budget, the uncertainty does not describe the results.`,
  });
}
