import type { Calibration } from './calibration.js';
import type { DriftFactor } from './drift.js';
import { identifier, type StatedFactor } from './model-fragment.js';
import type { SolutionDensity } from './solution/density.js';
import type { KnownInternalStandard } from './solution/internal-standard.js';

/** Certified content of the stock that an analyte's calibration solutions were made from. */
export interface StockStandard {
  readonly name: string;
  readonly relativeStandardUncertainty: number;
  readonly source: string;
}

/** Noise of the internal standard's own signal in the mean ratio of one line. */
export interface ReadTogether {
  /** Run and place of the readings: what was read there together shares it. */
  readonly place: string;
  /** At most that of the ratio; with the sign of the ratio, which all lines go with. */
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
}

/** Signal of one analyte in one measured solution, with all that turns it into a mass fraction. */
export interface SolutionSignal {
  readonly analyte: string;
  /** Name of the signal in the equations; absent: the analyte. A further line of one analyte has its own. */
  readonly label?: string;
  readonly lineNm: number;
  readonly solution: string;
  /** Mean of the readings' ratios to the internal standard. */
  readonly meanRatio: number;
  readonly ratioStandardUncertainty: number;
  readonly ratioDegreesOfFreedom: number;
  /** Part of that uncertainty that all lines read together share; absent: none. */
  readonly readTogether?: ReadTogether;
  readonly drift: DriftFactor;
  readonly driftDegreesOfFreedom: number;
  readonly calibration: Calibration;
  readonly stock: StockStandard;
  /** Equal density and uptake of standards and samples; absent: exactly 1. */
  readonly match: StatedFactor | null;
  /** Dilution factor from this solution back to the digestion's own, 1 where it is measured itself. */
  readonly dilutionFactor: number;
  /** Name of the dilution factor in the equations, null where it is 1. */
  readonly dilutionName: string | null;
  readonly spectrometer: string;
  /** Internal standard whose content in this solution follows from masses; absent: added on line to all solutions alike. */
  readonly internalStandard?: KnownInternalStandard | null;
  /** On line: flow of internal standard per flow of solution, against that of the standards; absent: exactly 1. */
  readonly pump?: StatedFactor | null;
  /** Native amount of the internal-standard element, relative to what was added; absent: none. */
  readonly native?: StatedFactor | null;
  /** Needed where the calibration is in mg/L. */
  readonly density?: SolutionDensity | null;
}

/** What tells signals of one result apart: the analyte, for a further line of it with the line. */
export function signalLabel({ label, analyte }: Pick<SolutionSignal, 'label' | 'analyte'>): string {
  return label ?? analyte;
}

/** Name of the input for a stock's content: a stock of several elements has one for each. */
export function stockInputName({ stock, analyte }: Pick<SolutionSignal, 'stock' | 'analyte'>): string {
  return `std_${identifier(stock.name)}_${identifier(analyte)}`;
}
