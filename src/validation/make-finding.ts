import type { Characteristic } from './characteristic.js';
import type { ConfidenceLimits, Criterion, Finding, RowReference } from './finding.js';
import { noScatter } from './no-scatter.js';
import { type JudgedVerdict, verdictAgainst, verdictOfValue } from './verdict.js';

/** What every characteristic is told about the finding it is to make. */
export interface FindingOptions {
  readonly analyte: string;
  /** Level, sample, material or solution that the finding is about. */
  readonly level: string;
  /** Unit of the values handed in. */
  readonly unit: string;
  readonly criterion: Criterion | null;
}

/** What a characteristic found. */
export interface FindingParts {
  readonly quantity: string;
  readonly unit: string;
  readonly estimate: number | null;
  readonly limits: ConfidenceLimits | null;
  readonly degreesOfFreedom: number | null;
  readonly n: number;
  readonly clause: string;
  readonly method: string;
  readonly rows: readonly RowReference[];
  readonly notes?: readonly string[];
  /** Structural reason why nothing can be shown by these data, whatever their values, with what would show it. */
  readonly notShownBecause?: string | null;
  /** What would decide a verdict that stays open; added to the reason of *not shown*, and worked out only then. */
  readonly remedy?: string | (() => string);
  /** Limits may have no width though values scatter: both are held at 0 where a component is. */
  readonly heldAtZero?: boolean;
  /** The estimate carries no sampling error: it is compared as it stands. */
  readonly exact?: boolean;
  /** Verdict that does not come from comparing the estimate, such as *not met* where no estimate exists. */
  readonly decided?: JudgedVerdict;
  /** What a *met* verdict rests on that is itself open; it stands with the ground and changes no verdict. */
  readonly conditions?: readonly string[];
}

/**
 * Finding with its verdict: by structural rule first, then by limits (or by the value where it is exact). Limits of no width
 * come from values that do not scatter at all, which shows how they were written down and not how they vary.
 *
 * @example
 * makeFinding('target uncertainty', { analyte: 'Al', level: 'low', unit: '%', criterion: null }, { quantity: 'relative expanded uncertainty', unit: '%', estimate: 4, limits: null, degreesOfFreedom: null, n: 1, clause: '', method: '', rows: [], exact: true }).id // => 'target-uncertainty/Al/low'
 */
export function makeFinding(
  characteristic: Characteristic,
  options: FindingOptions,
  parts: FindingParts,
): Finding {
  const { verdict, reason } = judged(parts, options.criterion);
  const conditions = verdict === 'met' ? (parts.conditions ?? []) : [];
  return {
    id: `${characteristic.replaceAll(' ', '-')}/${options.analyte}/${options.level}`,
    characteristic,
    analyte: options.analyte,
    level: options.level,
    quantity: parts.quantity,
    unit: parts.unit,
    estimate: parts.estimate,
    limits: parts.limits,
    degreesOfFreedom: parts.degreesOfFreedom,
    n: parts.n,
    criterion: options.criterion,
    verdict,
    reason: [reason, ...conditions.map((condition) => `On a condition: ${condition}.`)].join(' '),
    clause: parts.clause,
    method: parts.method,
    rows: parts.rows,
    notes: parts.notes ?? [],
    ...(conditions.length === 0 ? {} : { conditions }),
  };
}

function hasNoWidth(limits: ConfidenceLimits | null): boolean {
  return limits !== null && limits.lowerOneSided === limits.upperOneSided;
}

function judged(parts: FindingParts, criterion: Criterion | null): JudgedVerdict {
  const found = parts.exact
    ? verdictOfValue(parts.estimate, criterion)
    : verdictAgainst(parts.limits, parts.estimate, criterion);
  if (criterion === null || parts.n === 0) return found;
  if (parts.notShownBecause) return { verdict: 'not shown', reason: parts.notShownBecause };
  if (parts.decided) return parts.decided;
  if (!parts.exact && !parts.heldAtZero && hasNoWidth(parts.limits)) {
    return { verdict: 'not shown', reason: noScatter('The values', 'no limits can be worked out') };
  }
  if (parts.estimate === null) return { verdict: 'not shown', reason: 'The data give no estimate.' };
  if (found.verdict !== 'not shown' || parts.remedy === undefined) return found;
  const remedy = typeof parts.remedy === 'string' ? parts.remedy : parts.remedy();
  return { verdict: 'not shown', reason: `${found.reason} ${remedy}`.trim() };
}
