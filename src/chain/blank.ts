import { InputError, requireFinite } from '../errors.js';
import { mean } from '../statistics/descriptive/mean.js';
import { standardDeviation } from '../statistics/descriptive/standard-deviation.js';
import { fitLine } from '../statistics/regression/line.js';
import type { InputQuantity } from '../uncertainty/input-quantity.js';
import {
  type AmountByCalibration,
  type BlankByCalibration,
  type BlankCoefficient,
  blankByCalibrations,
  blankCalibrationFragment,
} from './blank-calibration.js';
import {
  type ModelFragment,
  recordedValue,
  type StatedFactor,
  statedInput,
  statedName,
} from './model-fragment.js';
import type { SolutionSignal } from './solution-signal.js';

/** Amount of analyte found in one procedure blank and the flux it was made with. */
export interface BlankAmount {
  readonly digestion: string;
  readonly amountMg: number;
  readonly fluxG: number;
  /** Absent: the calibrations behind the amount are not followed. */
  readonly calibrations?: readonly AmountByCalibration[];
}

/** What the blank of a digestion goes with: the study's rule. */
export type BlankScaling = Blank['scaling'];

/** Blank of one analyte as the chain subtracts it. */
export type Blank = MeanBlank | BlankLine;

/** One coefficient: the mean of the procedure blanks. */
export interface MeanBlank {
  /** `per flux mass`: mg per g of flux; `per digestion`: mg. */
  readonly scaling: 'per flux mass' | 'per digestion';
  readonly mean: number;
  /** Standard deviation of one blank, in the unit of the mean. */
  readonly standardDeviation: number;
  readonly n: number;
  readonly digestions: readonly string[];
  /** Calibrations that the blanks were read with; absent where they are not followed. */
  readonly calibrations?: readonly BlankByCalibration[];
}

/** Two coefficients: the line b_f·m_flux + b_0 through the procedure blanks, by least squares. */
export interface BlankLine {
  readonly scaling: 'per flux mass and digestion';
  /** b_f, mg per g of flux. */
  readonly perFluxMass: number;
  /** b_0, mg. */
  readonly perDigestion: number;
  readonly variancePerFluxMass: number;
  readonly variancePerDigestion: number;
  /** Covariance of b_f and b_0, mg²/g. */
  readonly covariance: number;
  /** Standard deviation of one blank about the line, mg, of n − 2 degrees of freedom. */
  readonly standardDeviation: number;
  readonly n: number;
  readonly digestions: readonly string[];
  /** Calibrations that the blanks were read with; absent where they are not followed. */
  readonly calibrations?: readonly BlankByCalibration[];
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
  const common = { n, digestions: blanks.map((b) => b.digestion), ...calibrationsOf(blanks, scaling) };
  if (scaling === 'per flux mass and digestion') return { ...blankLine(blanks), scaling, ...common };
  const values = blanks.map((b) => (scaling === 'per flux mass' ? b.amountMg / b.fluxG : b.amountMg));
  requireFinite(values, 'procedure blanks');
  return { scaling, mean: mean(values), standardDeviation: standardDeviation(values), ...common };
}

function calibrationsOf(blanks: readonly BlankAmount[], scaling: BlankScaling): Pick<Blank, 'calibrations'> {
  if (blanks.every((b) => b.calibrations === undefined)) return {};
  const amounts = blanks.map((b) => b.calibrations ?? []);
  return { calibrations: blankByCalibrations(amounts, weightsOf(blanks, scaling)) };
}

/** Derivatives of the coefficients by the amount of each blank. */
function weightsOf(blanks: readonly BlankAmount[], scaling: BlankScaling) {
  const n = blanks.length;
  const fluxes = blanks.map((b) => b.fluxG);
  switch (scaling) {
    case 'per flux mass':
      return { b_f: fluxes.map((flux) => 1 / (n * flux)) };
    case 'per digestion':
      return { b_0: fluxes.map(() => 1 / n) };
    case 'per flux mass and digestion': {
      const centre = mean(fluxes);
      const sumOfSquares = fluxes.reduce((sum, flux) => sum + (flux - centre) ** 2, 0);
      const b_f = fluxes.map((flux) => (flux - centre) / sumOfSquares);
      return { b_f, b_0: b_f.map((weight) => 1 / n - centre * weight) };
    }
  }
}

function blankLine(blanks: readonly BlankAmount[]): Omit<BlankLine, 'scaling' | 'n' | 'digestions'> {
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

/** Estimate and standard uncertainty of a quantity of the blank. */
export interface BlankQuantity {
  readonly estimate: number;
  readonly standardUncertainty: number;
}

/** Quantities that a blank enters the equations by: mg per g of flux, mg a digestion, and the deviation of one blank. */
export interface BlankQuantities {
  readonly b_f?: BlankQuantity;
  readonly b_0?: BlankQuantity;
  readonly d_b: BlankQuantity;
  /** Correlation coefficient of b_f and b_0; 0 where one of them stands alone. */
  readonly correlation: number;
}

/**
 * The quantities behind `blankFragment`, for what works out many results at once. Their scatter is that observed: of blanks of several
 * runs it holds the calibrations of these runs once more, which counts them too much by 1/n of their variance at most.
 */
export function blankQuantities(blank: Blank): BlankQuantities {
  const d_b = { estimate: 0, standardUncertainty: blank.standardDeviation };
  if (blank.scaling === 'per flux mass and digestion') {
    const [uf, u0] = [Math.sqrt(blank.variancePerFluxMass), Math.sqrt(blank.variancePerDigestion)];
    return {
      b_f: { estimate: blank.perFluxMass, standardUncertainty: uf },
      b_0: { estimate: blank.perDigestion, standardUncertainty: u0 },
      d_b,
      correlation: uf > 0 && u0 > 0 ? blank.covariance / (uf * u0) : 0,
    };
  }
  const standardUncertainty = blank.standardDeviation / Math.sqrt(blank.n);
  const ofMean = { estimate: blank.mean, standardUncertainty };
  return { ...(blank.scaling === 'per flux mass' ? { b_f: ofMean } : { b_0: ofMean }), d_b, correlation: 0 };
}

/** `m_bl`, mg. The blanks were measured with the stock of the samples, so its error is theirs too. */
function expressionOf(
  scaling: BlankScaling,
  analyte: string,
  lot: string,
  stock: string,
  terms: Readonly<Partial<Record<BlankCoefficient, string>>>,
): string {
  const moved = (b: BlankCoefficient) => `${b}_${analyte}${terms[b] === undefined ? '' : ` + ${terms[b]}`}`;
  const [perFlux, perDigestion, deviation] = [moved('b_f'), moved('b_0'), `d_b_${analyte}`];
  switch (scaling) {
    case 'per flux mass':
      return `((${perFlux}${lot}) * ${stock} + ${deviation}) * m_flux`;
    case 'per digestion':
      return `(${perDigestion}${lot}) * ${stock} + ${deviation}`;
    case 'per flux mass and digestion':
      return `((${perFlux}${lot}) * m_flux + ${perDigestion}) * ${stock} + ${deviation}`;
  }
}

/** Step "blank": `m_bl` with the uncertainty of the coefficients (shared by all results) and the scatter of a single blank. */
export function blankFragment(
  blank: Blank,
  fluxG: number,
  digestion: string,
  lot: StatedFactor | null,
  stockName: string,
  analyte: string,
  signals: readonly SolutionSignal[],
): ModelFragment {
  const { b_f, b_0, correlation } = blankQuantities(blank);
  const moved = blankCalibrationFragment(blank.calibrations ?? [], analyte, signals);
  const lotName = lot === null ? null : statedName('b_lot', lot);
  return {
    equations: [
      ...moved.equations,
      {
        name: 'm_bl',
        description: 'mass of analyte from the blank',
        unit: 'mg',
        expression: expressionOf(
          blank.scaling,
          analyte,
          lotName === null ? '' : ` + ${lotName}`,
          stockName,
          moved.terms,
        ),
      },
    ],
    inputs: [
      ...scatterInputs(blank, analyte),
      ...moved.inputs,
      ...(b_f !== undefined
        ? [recordedValue('m_flux', 'mass of flux', 'g', fluxG, 'blank', `digestions, row ${digestion}`)]
        : []),
      ...(lot === null || lotName === null
        ? []
        : [
            statedInput(
              lotName,
              'flux lot against the lot of the blanks',
              b_f !== undefined ? 'mg/g' : 'mg',
              lot,
              'blank',
            ),
          ]),
    ],
    correlations: [
      ...(b_f === undefined || b_0 === undefined || correlation === 0
        ? []
        : [{ first: `b_f_${analyte}`, second: `b_0_${analyte}`, coefficient: correlation }]),
      ...moved.correlations,
    ],
  };
}

/** Coefficients and deviation: all rest on one estimate of the blanks' scatter, so their degrees of freedom count once. */
function scatterInputs(blank: Blank, analyte: string): InputQuantity[] {
  const { b_f, b_0, d_b } = blankQuantities(blank);
  const isLine = blank.scaling === 'per flux mass and digestion';
  const source = `${blank.n} procedure blanks: ${blank.digestions.join(', ')}`;
  const input = (symbol: string, description: string, unit: string, q: BlankQuantity): InputQuantity => ({
    ...recordedValue(`${symbol}_${analyte}`, description, unit, q.estimate, 'blank', source),
    degreesOfFreedom: blank.n - (isLine ? 2 : 1),
    distribution: { kind: 't' },
    evaluation: 'A',
    jointSource: `procedure blanks ${analyte}`,
    standardUncertainty: q.standardUncertainty,
  });
  const which = isLine ? 'blank' : 'mean blank';
  const deviation = `deviation of this digestion’s blank from the ${isLine ? 'line' : 'mean'}`;
  return [
    ...(b_f === undefined ? [] : [input('b_f', `${which} per mass of flux`, 'mg/g', b_f)]),
    ...(b_0 === undefined ? [] : [input('b_0', `${which} per digestion`, 'mg', b_0)]),
    {
      ...input('d_b', deviation, blank.scaling === 'per flux mass' ? 'mg/g' : 'mg', d_b),
      withinPrecision: true,
      variesWith: 'digestion',
    },
  ];
}
