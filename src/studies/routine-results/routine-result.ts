import type { CorrelatedResult } from '../../uncertainty/correlated-results/correlated-result.js';

/** What must be looked at before a result is used; nothing flagged is averaged away. */
export interface ResultFlag {
  readonly kind:
    | 'missing tare'
    | 'missing density'
    | 'melt not clear'
    | 'residue in the solution'
    | 'loss in fusion outlying'
    | 'melt not weighed'
    | 'no uncertainty'
    | 'below zero'
    | 'lines disagree'
    | 'lines not compared'
    | 'readings disagree'
    | 'fewer readings than planned'
    | 'beyond the calibrated range'
    | 'drift beyond its limit'
    | 'blank above the limit of quantification'
    | 'no blank in the run'
    | 'blank not judged'
    | 'no check solution in the run'
    | 'standards not stated'
    | 'digestion without a reading'
    | 'digestion excluded'
    | 'fewer digestions than planned'
    | 'internal standard outside its limits'
    | 'reference material outside its limits'
    | 'no reference material in the run'
    | 'flux lot not that of the validation'
    | 'not as validated'
    | 'duplicates differ'
    | 'after a richer sample'
    | 'after a sample without a result'
    | 'read late'
    | 'read again'
    | 'outside the tested range'
    | 'fitness not shown'
    | 'not fit by its validation'
    | 'not measured';
  /** What was found and what was expected. */
  readonly text: string;
  /** True where the result is held back until a person has decided; false where it is only remarked. */
  readonly holds: boolean;
}

/** Statement of conformity of one result with its specification. */
export interface ResultConformity {
  readonly accepted: boolean;
  readonly conformanceProbability: number;
  /** Lowest and highest value that is accepted at the uncertainty of this result; null where none is. */
  readonly acceptance: { readonly lower: number | null; readonly upper: number | null } | null;
  readonly statement: string;
}

/** One analyte of one sample. */
export interface RoutineResult {
  readonly sample: string;
  readonly analyte: string;
  /** Form that is reported: oxide or element. */
  readonly reportedAs: string;
  readonly unit: 'mg/kg' | 'g/100 g';
  /** Digestions that gave a value; the flags name those that gave none. */
  readonly digestions: readonly string[];
  /** Null where the records give no value; the flags say why. */
  readonly value: number | null;
  readonly standardUncertainty: number | null;
  readonly coverageFactor: number | null;
  readonly expandedUncertainty: number | null;
  readonly effectiveDegreesOfFreedom: number | null;
  /** Lowest mass fraction that is reported as a number. */
  readonly lowestReported: number;
  /** As it goes into a report: value ± U, "< limit", or the reason why there is none. */
  readonly text: string;
  /** `reported`; `below limit`; `held` for a person to decide; `no result`. */
  readonly status: 'reported' | 'below limit' | 'held' | 'no result';
  readonly flags: readonly ResultFlag[];
  readonly conformity: ResultConformity | null;
  /** The result over independent sources, for covariances with every other one of the run. */
  readonly correlated: CorrelatedResult | null;
}

/** Results that a control bears on; what is null restricts nothing. */
export interface ControlReach {
  readonly analyte: string | null;
  /** Run of measurement that the result was read in. */
  readonly run: string | null;
  readonly sample: string | null;
  /** Places of the run that lie between two neighbouring check solutions; null: from the start, or to the end, of the run. */
  readonly between: { readonly from: number | null; readonly to: number | null } | null;
}

/** One control of the run against its limit. */
export interface RunControl {
  readonly control: string;
  readonly about: string;
  /** Null where the control was not made: it has then not passed, and `rule` says why. */
  readonly found: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly unit: string;
  readonly passed: boolean;
  readonly rule: string;
  /** What a failure puts on the results in its reach; null where they are flagged solution by solution. */
  readonly holds: { readonly kind: ResultFlag['kind']; readonly reach: ControlReach } | null;
}

/** A reach of what is named. */
export function reachOf(named: Partial<ControlReach>): ControlReach {
  return { analyte: null, run: null, sample: null, between: null, ...named };
}

/** A control that the run should have but does not. */
export function notMade(
  control: Pick<RunControl, 'control' | 'about' | 'unit' | 'holds'>,
  why: string,
): RunControl {
  return { ...control, found: null, low: null, high: null, passed: false, rule: `not made: ${why}` };
}
