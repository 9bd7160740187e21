import type { BalanceSpecification } from '../chain/balance.js';
import type { BlankScaling } from '../chain/blank.js';
import type { SolidState } from '../chain/mass-on-basis.js';
import type { VolumeSpecification } from '../chain/solution/measured-volume.js';
import type { DetectionApproachName } from '../validation/detection/detection-approaches.js';
import type { Criterion } from '../validation/finding.js';
import type { EvidenceRecord } from './evidence.js';
import type { PlanningRecord } from './planning.js';
import type { RoutineRecord } from './routine.js';

/** A criterion of the plan: for one characteristic, analyte (or `*`) and level (or `*`). The most specific one counts. */
export interface PlannedCriterion extends Criterion {
  readonly characteristic: string;
  readonly analyte: string;
  readonly level: string;
}

/** What the plan says about one analyte. */
export interface AnalyteScope {
  readonly analyte: string;
  readonly lineNm: number;
  /** A second line of the same analyte, measured to test selectivity. */
  readonly secondLineNm?: number;
  /** Share of the second line in the result, above 0 and below 1; absent: the own line alone gives the result. */
  readonly secondLineShare?: number;
  /** Which solution is measured: the digestion's own, or its further dilution. */
  readonly measuredIn: 'digestion' | 'dilution';
  /** Oxide the result is reported as; absent for the element. */
  readonly oxide?: string;
  readonly unit: 'mg/kg' | 'g/100 g';
  /** Standard deviation of one signal, as mass fraction in the solution measured: √(floor² + (relative·x)²); gives the weights of the calibration. */
  readonly signalFloorMgPerKg: number;
  readonly signalRelative: number;
  /** Lowest mass fraction in the solid that is to be reported, in `unit`. */
  readonly lowestReported: number;
}

/** A stated input that no table holds: a factor near 1 or an offset near 0, with its uncertainty and reason. */
export interface StatedInput {
  readonly name:
    | 'density and uptake match'
    | 'evaporation before reading'
    | 'retained in fusion'
    | 'sample heterogeneity'
    | 'flux lot blank'
    | 'pump flow ratio'
    | 'native internal standard'
    | 'air density'
    | 'portion density';
  /** Analyte it holds for, or `*`. */
  readonly analyte: string;
  readonly estimate: number;
  readonly standardUncertainty: number;
  readonly unit: string;
  readonly distribution: 'normal' | 'rectangular' | 'triangular';
  readonly source: string;
}

/** A recovery R that is taken from the study's own results, and when results are divided by it. */
export interface PlannedRecovery {
  readonly analyte: string;
  readonly from: 'reference materials' | 'additions before fusion';
  /** Materials of the table references whose results give it; only with reference materials. */
  readonly materials?: readonly string[];
  /** `where significant`: only if R differs from 1 by more than its uncertainty explains; u(R) counts either way. */
  readonly correct: 'always' | 'where significant';
}

/** One balance, dispenser, spectrometer … of the register. */
export interface EquipmentRecord {
  readonly id: string;
  readonly kind: 'balance' | 'dispenser' | 'spectrometer' | 'furnace' | 'other';
  readonly description: string;
  readonly location: string;
  readonly inServiceFrom: string;
  readonly inServiceTo: string | null;
  readonly certificate: string;
  readonly calibratedOn: string;
  readonly dueOn: string;
  /** Only for balances. Masses in g, temperatures in K. */
  readonly balance?: BalanceSpecification;
  /** Only for pipettes, flasks and dispensers whose volumes count. Volumes in mL. */
  readonly volume?: VolumeSpecification;
}

/** A person of the study with the authorisation they hold. */
export interface PersonRecord {
  readonly name: string;
  readonly role: string;
  readonly authorisedFor: string;
  readonly authorisedBy: string;
  readonly since: string;
}

export type { BalanceSpecification };

/** `study.json`: plan, scope, rules and criteria, dated before the work. */
export interface StudyPlan {
  readonly schema: 'meltbook study 1';
  readonly study: string;
  readonly title: string;
  /** True for made-up demonstration data: every page then says so. */
  readonly invented: boolean;
  readonly laboratory: string;
  readonly line: string;
  readonly method: string;
  readonly matrix: string;
  readonly intendedUse: string;
  readonly planDate: string;
  readonly planOwner: string;
  readonly people: readonly PersonRecord[];
  readonly internalStandard: {
    readonly element: string;
    readonly lineNm: number;
    readonly mode: 'on line' | 'in the diluent' | 'added to the digestion';
    /**
     * Mass fraction the internal standard has in the solution at the plasma, mg/kg; where it is added by mass, its content in
     * standards and check solutions, in the unit of the calibration.
     */
    readonly doseMgPerKg: number;
    readonly recoveryLow: number;
    readonly recoveryHigh: number;
    /** Largest native amount, relative to the dose. */
    readonly nativeLimit: number;
    /** The solution it is added as; needed unless it is added on line. */
    readonly solution?: {
      readonly massFractionMgPerKg: number;
      /** Against the solution that the standards hold: 0 where it is the same. */
      readonly relativeStandardUncertainty: number;
      readonly densityGPerML: number;
      readonly source: string;
    };
  };
  /** How densities were measured; needed for a calibration in mg/L and for dilutions made up to a volume. */
  readonly density?: {
    readonly standardUncertaintyGPerML: number;
    readonly temperatureC: number;
    readonly readingTemperatureC: number;
    readonly readingTemperatureStandardUncertaintyK: number;
    readonly expansionPerK: number;
    readonly expansionStandardUncertaintyPerK: number;
    /** Of the further dilutions, which are made alike; needed where one is read. */
    readonly dilutionGPerML?: number;
    readonly source: string;
  };
  /** The flask that dilutions are made up in and its temperature; needed for dilutions made up to a volume. */
  readonly flask?: {
    readonly equipment: string;
    readonly temperatureC: number;
    readonly temperatureStandardUncertaintyK: number;
  };
  readonly calibration: { readonly basis: 'mg/kg' | 'mg/L' };
  /** What the blank of a digestion goes with; `per flux mass and digestion` fits both coefficients to the blanks. */
  readonly blank: { readonly scaling: BlankScaling };
  /** Analytes whose results are corrected for recovery; absent: none is. A routine run takes R from its validation. */
  readonly recovery?: readonly PlannedRecovery[];
  /** State in which portions are weighed; absent: as received. `stateOfPortions` reads it. */
  readonly portionsWeighed?: SolidState;
  /** State that results refer to. */
  readonly basis: SolidState;
  readonly nominal: { readonly portionG: number; readonly fluxG: number; readonly solutionG: number };
  readonly fluxLot: string;
  /** How the budget counts random parts: components of the chain, or the observed intermediate precision. */
  readonly route: 'components' | 'precision';
  /** The method's own rule for a reported result: digestions (all on one day) and readings of each. */
  readonly resultRule: { readonly digestions: number; readonly readings: number };
  /** Name of the check solution that drift is followed by. */
  readonly driftCheckSolution: string;
  /** Sample names that blanks bear. */
  readonly blanks: { readonly procedure: string; readonly memory: string };
  readonly analytes: readonly AnalyteScope[];
  /** Samples whose repeated digestions show precision, in order of level. */
  readonly levels: readonly { readonly level: string; readonly sample: string }[];
  /** Digestions re-read over time to show stability of solutions, and the longest time to reading that is wanted. */
  readonly stability: {
    readonly digestions: readonly string[];
    readonly wantedHours: number;
    /** Largest change allowed, % of the first reading. */
    readonly allowedChangePercent: number;
  } | null;
  /** A solution of the interferent alone, read on the analytes' lines. */
  readonly interferenceCheck: {
    readonly solution: string;
    readonly interferent: string;
    readonly massFractionMgPerKg: number;
  } | null;
  /** What the responses of the table factors are; absent where no ruggedness was studied. */
  readonly ruggedness?: {
    readonly analyte: string;
    readonly sample: string;
    readonly unit: string;
    /** Columns of the table that carry no factor: their effects are scatter. */
    readonly unusedColumns: readonly string[];
  };
  /** The approach to detection that counts (procedure blanks where none is named), and a sample near the limit digested to confirm it. */
  readonly detection?: {
    readonly approach: DetectionApproachName;
    readonly lowLevelSample?: string;
  };
  /** A solution made from a standard of another source than the calibration, with its content in the table of standards. */
  readonly secondSource?: { readonly solution: string };
  /** A zero solution, no standard, read directly after solutions rich in the analytes to show what is carried over. */
  readonly carryOver?: { readonly solution: string };
  /** Digestions read without internal standard to look for a native amount. */
  readonly nativeCheckDigestions: readonly string[];
  readonly statedInputs: readonly StatedInput[];
  readonly criteria: readonly PlannedCriterion[];
  /** What the size of the validation is planned from; absent where it is not planned here. */
  readonly planning?: PlanningRecord;
  /** Present where the study is a routine run, not a validation. */
  readonly routine?: RoutineRecord;
  readonly decisionRule: string;
  /** Evidence for the assessor that is kept outside these records. */
  readonly evidence?: readonly EvidenceRecord[];
  /** Decimal mark of all tables; where it is absent, each file must leave no doubt. */
  readonly decimalMark?: 'point' | 'comma';
}

/**
 * State in which the portions of a study are weighed: the one that its plan states, else as received.
 *
 * @example
 * stateOfPortions({}) // => "as received"
 */
export function stateOfPortions({ portionsWeighed }: Pick<StudyPlan, 'portionsWeighed'>): SolidState {
  return portionsWeighed ?? 'as received';
}
