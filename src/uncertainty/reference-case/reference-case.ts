import type { BudgetFile } from '../budget-file/budget-file.js';
import type { DecisionRule } from '../conformity/acceptance-limits.js';
import type { NormalProcess } from '../conformity/global-risk.js';
import type { ToleranceLimits } from '../conformity/tolerance-limits.js';

/** Where a published figure comes from. */
export interface ReferenceSource {
  readonly document: string;
  readonly edition: string;
  readonly clause: string;
}

/** A figure of one output quantity; `whole`: with degrees of freedom cut down (JCGM 100:2008, G.4.1). */
export type OutputFigureName =
  | 'estimate'
  | 'standard uncertainty'
  | 'relative standard uncertainty'
  | 'effective degrees of freedom'
  | 'coverage factor'
  | 'expanded uncertainty'
  | 'coverage factor for whole degrees of freedom'
  | 'expanded uncertainty for whole degrees of freedom'
  | 'lower end'
  | 'upper end';

/** A figure of one input quantity; the observed standard deviation is s of its observations. */
export type InputFigureName =
  | 'input estimate'
  | 'input standard uncertainty'
  | 'input degrees of freedom'
  | 'observed standard deviation';

/** A figure of a simulated output; `publishedTrials`: of the printed figure, left out where that one is exact. */
export interface SimulatedFigure {
  readonly of:
    | 'simulated estimate'
    | 'simulated standard uncertainty'
    | 'simulated lower end'
    | 'simulated upper end'
    | 'shortest lower end'
    | 'shortest upper end';
  readonly output: string;
  readonly publishedTrials?: number;
}

/** How a case is simulated. */
export interface ReferenceSimulation {
  readonly seed: number;
  readonly trials: number;
}

/** A figure computed from a budget, said as data. */
export type BudgetFigure =
  | { readonly of: OutputFigureName; readonly output: string }
  | { readonly of: InputFigureName; readonly input: string }
  | { readonly of: 'second-order mean' | 'second-order standard uncertainty'; readonly output: string }
  /** Root of the sum of the second-order variance terms of pairs of inputs. */
  | {
      readonly of: 'second-order term';
      readonly output: string;
      readonly pairs: readonly (readonly [string, string])[];
    }
  /** Rounded to so many digits of the standard uncertainty. */
  | { readonly of: 'rounded estimate'; readonly output: string; readonly digits: number }
  | {
      readonly of: 'contribution' | 'relative contribution';
      readonly output: string;
      readonly input: string;
    }
  | {
      readonly of: 'input correlation' | 'output correlation';
      readonly first: string;
      readonly second: string;
    };

/** A published figure as printed. */
export interface PublishedFigure {
  readonly name: string;
  /** With all its digits: agreement means to half a unit of the last. */
  readonly printed: string;
}

/** A published figure of a budget; `multiplier` turns the unit of the budget into that of the printed figure. */
export interface PublishedBudgetFigure extends PublishedFigure {
  readonly figure: BudgetFigure | SimulatedFigure;
  readonly multiplier?: number;
}

/** A published figure that no exact calculation gives, with what it gives and the arithmetic that shows why. */
export interface ReferenceException {
  readonly name: string;
  readonly computed: number;
  readonly why: string;
}

/** What every case says of itself. */
export interface ReferenceCommon {
  readonly id: string;
  readonly title: string;
  readonly source: ReferenceSource;
  readonly figureTakenFrom: 'document read' | 'remembered and recomputed';
  readonly remark?: string;
  readonly exceptions?: readonly ReferenceException[];
}

/** A measured value with its tolerance limits, named as the figure it is checked by. */
export interface ConformanceItem {
  readonly name: string;
  readonly estimate: number;
  readonly standardUncertainty: number;
  readonly limits: ToleranceLimits;
}

/** A published example as data: what goes in, and the figures that must come out. */
export type ReferenceCase = ReferenceCommon &
  (
    | {
        readonly calculation: 'budget';
        readonly budget: BudgetFile;
        /** Needed where simulated figures are published. */
        readonly simulation?: ReferenceSimulation;
        readonly published: readonly PublishedBudgetFigure[];
      }
    | {
        readonly calculation: 'conformance probability';
        readonly items: readonly ConformanceItem[];
        readonly published: readonly PublishedFigure[];
      }
    /** Figures are named `guard factor`, `lower limit`, `upper limit`. */
    | {
        readonly calculation: 'acceptance limit';
        readonly limits: ToleranceLimits;
        readonly relativeStandardUncertainty: number;
        readonly rule: DecisionRule;
        readonly published: readonly PublishedFigure[];
      }
    /** Figures are named `conforming`, `consumer`, `producer`. */
    | {
        readonly calculation: 'global risk';
        readonly process: NormalProcess;
        readonly standardUncertainty: number;
        readonly tolerance: ToleranceLimits;
        readonly acceptance: ToleranceLimits;
        readonly published: readonly PublishedFigure[];
      }
  );

/** One published figure beside the computed one. */
export interface ReferenceComparison {
  readonly name: string;
  readonly printed: string;
  readonly computed: number;
  /** Equal to half a unit of the last printed digit; a simulated figure with three of its standard errors beside. */
  readonly agrees: boolean;
  /** Of a simulated figure: its standard error against the printed one. */
  readonly standardError?: number;
  /** For a known exception: the arithmetic behind it. */
  readonly exception?: ReferenceException;
}
