import { InputError, requireFinite } from '../errors.js';
import { mean } from '../statistics/descriptive/mean.js';
import { standardDeviation } from '../statistics/descriptive/standard-deviation.js';
import { fitLine } from '../statistics/regression/line.js';
import type { AmountByCalibration, AmountSources, BlankByCalibration } from './blank-calibration.js';
import {
  type BlankWeights,
  blankByCalibrations,
  calibrationColumns,
  squaresByCalibrations,
  squaresByReadings,
} from './blank-sources.js';
import type { StatedFactor } from './model-fragment.js';

/** Amount of analyte found in one procedure blank and the flux it was made with. */
export interface BlankAmount extends AmountSources {
  readonly digestion: string;
  readonly amountMg: number;
  readonly fluxG: number;
}

/** What the blank of a digestion goes with: the study's rule. */
export type BlankScaling = Blank['scaling'];

/** Blank of one analyte as the chain subtracts it. */
export type Blank = MeanBlank | BlankLine;

/** Scatter of the procedure blanks about their mean or line, and what it rests on. */
export interface BlankScatter {
  /** Standard deviation of one blank as observed: in the unit of the mean, or mg about the line. */
  readonly standardDeviation: number;
  /** Parts of that variance that the calibrations and the readings of the blanks explain; absent where they are not followed. */
  readonly explained?: { readonly calibrations: number; readonly readings: number };
  readonly n: number;
  readonly digestions: readonly string[];
  /** Calibrations that the blanks were read with; absent where they are not followed. */
  readonly calibrations?: readonly BlankByCalibration[];
}

/** One coefficient: the mean of the procedure blanks. */
export interface MeanBlank extends BlankScatter {
  /** `per flux mass`: mg per g of flux; `per digestion`: mg. */
  readonly scaling: 'per flux mass' | 'per digestion';
  readonly mean: number;
}

/** Two coefficients: the line b_f·m_flux + b_0 through the procedure blanks, by least squares; its scatter has n − 2 degrees of freedom. */
export interface BlankLine extends BlankScatter {
  readonly scaling: 'per flux mass and digestion';
  /** b_f, mg per g of flux. */
  readonly perFluxMass: number;
  /** b_0, mg. */
  readonly perDigestion: number;
  /** Of b_f by the scatter observed, as are the next two. */
  readonly variancePerFluxMass: number;
  readonly variancePerDigestion: number;
  /** Covariance of b_f and b_0, mg²/g. */
  readonly covariance: number;
}

/** Fewest blanks a rule can be worked out from: each coefficient takes one, the scatter another. */
export function fewestBlanks(scaling: BlankScaling): number {
  return scaling === 'per flux mass and digestion' ? 3 : 2;
}

/**
 * Blank by the study's rule over the usable procedure blanks: the mean of n_i/m_flux,i, the mean of n_i, or the line
 * n = b_f·m_flux + b_0 fitted by least squares to n_i over m_flux,i.
 *
 * @throws InputError fewer than two blanks; for the line fewer than three, or all of one mass of flux
 * @see scaling by flux mass only where shown or declared: common practice, no source; the line: JCGM 100:2008, H.3
 * @example
 * procedureBlank([1, 2, 3].map((fluxG) => ({ digestion: 'B', amountMg: 0.5 * fluxG + 0.25, fluxG })), 'per digestion') // => { scaling: 'per digestion', mean: 1.25, standardDeviation: 0.5, n: 3, digestions: ['B', 'B', 'B'] }
 */
export function procedureBlank(blanks: readonly BlankAmount[], scaling: BlankScaling): Blank {
  const fewest = fewestBlanks(scaling);
  if (blanks.length < fewest) {
    throw new InputError(`procedure blanks: found ${blanks.length}, expected at least ${fewest}`);
  }
  const n = blanks.length;
  const digestions: string[] = [];
  for (const { digestion } of blanks) digestions.push(digestion);
  const common = { n, digestions, ...sourcesOf(blanks, scaling) };
  if (scaling === 'per flux mass and digestion') return { ...blankLine(blanks), scaling, ...common };
  const values: number[] = [];
  for (const b of blanks) values.push(scaling === 'per flux mass' ? b.amountMg / b.fluxG : b.amountMg);
  requireFinite(values, 'procedure blanks');
  return { scaling, mean: mean(values), standardDeviation: standardDeviation(values), ...common };
}

/** What is behind the scatter of blanks, where their calibrations or readings are followed. */
function sourcesOf(
  blanks: readonly BlankAmount[],
  scaling: BlankScaling,
): Pick<Blank, 'calibrations' | 'explained'> {
  if (blanks.every((b) => b.calibrations === undefined && b.readingMg === undefined)) return {};
  const fluxes = new Float64Array(blanks.length);
  const readingsMg = new Float64Array(blanks.length);
  const calibrations: (readonly AmountByCalibration[])[] = [];
  for (let i = 0; i < blanks.length; i++) {
    const blank = blanks[i]!;
    fluxes[i] = blank.fluxG;
    readingsMg[i] = blank.readingMg ?? 0;
    calibrations.push(blank.calibrations ?? []);
  }
  const weights = weightsOf(fluxes, scaling);
  const columns = calibrationColumns(calibrations);
  const degreesOfFreedom = blanks.length + 1 - fewestBlanks(scaling);
  return {
    calibrations: blankByCalibrations(columns, weights),
    explained: {
      calibrations: squaresByCalibrations(columns, weights, fluxes) / degreesOfFreedom,
      readings: squaresByReadings(readingsMg, weights, fluxes) / degreesOfFreedom,
    },
  };
}

function weightsOf(fluxes: Float64Array, scaling: BlankScaling): BlankWeights {
  const n = fluxes.length;
  switch (scaling) {
    case 'per flux mass':
      return { b_f: fluxes.map((flux) => 1 / (n * flux)), b_0: null };
    case 'per digestion':
      return { b_f: null, b_0: new Float64Array(n).fill(1 / n) };
    case 'per flux mass and digestion': {
      const centre = mean([...fluxes]);
      const sumOfSquares = fluxes.reduce((sum, flux) => sum + (flux - centre) ** 2, 0);
      const b_f = fluxes.map((flux) => (flux - centre) / sumOfSquares);
      return { b_f, b_0: b_f.map((weight) => 1 / n - centre * weight) };
    }
  }
}

function blankLine(
  blanks: readonly BlankAmount[],
): Omit<BlankLine, 'scaling' | keyof BlankScatter> & Pick<BlankScatter, 'standardDeviation'> {
  const fluxes = blanks.map((b) => b.fluxG);
  if (fluxes.every((flux) => flux === fluxes[0])) {
    throw new InputError(
      `procedure blanks: found ${fluxes[0]} g of flux in all of them, expected different masses for a line over the mass of flux`,
    );
  }
  const fit = fitLine(
    fluxes,
    blanks.map((b) => b.amountMg),
  );
  return {
    perFluxMass: fit.slope,
    perDigestion: fit.intercept,
    variancePerFluxMass: fit.varianceSlope,
    variancePerDigestion: fit.varianceIntercept,
    covariance: fit.covariance,
    standardDeviation: fit.residualStandardDeviation,
  };
}

/**
 * Mass of analyte, mg, that the blank contributes to a digestion with `fluxG` of flux.
 *
 * @param lot what its lot of flux adds to that of the blanks: mg per g of flux, or mg for a blank per digestion
 */
export function blankMass(blank: Blank, fluxG: number, lot: Pick<StatedFactor, 'estimate'> | null): number {
  const offset = lot?.estimate ?? 0;
  switch (blank.scaling) {
    case 'per flux mass':
      return (blank.mean + offset) * fluxG;
    case 'per digestion':
      return blank.mean + offset;
    case 'per flux mass and digestion':
      return (blank.perFluxMass + offset) * fluxG + blank.perDigestion;
  }
}
