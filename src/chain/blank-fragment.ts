import type { InputQuantity } from '../uncertainty/input-quantity.js';
import type { Blank, BlankScaling } from './blank.js';
import { type BlankCoefficient, blankCalibrationFragment } from './blank-calibration.js';
import {
  type ModelFragment,
  recordedValue,
  type StatedFactor,
  statedInput,
  statedName,
} from './model-fragment.js';
import type { SolutionSignal } from './solution-signal.js';

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
  readonly degreesOfFreedom: number;
}

/**
 * The quantities behind `blankFragment`, for what works out many results at once. What the calibrations and readings of the blanks
 * explain of their scatter is no deviation of a digestion's own blank, for a result has calibration and readings of its own: the
 * deviation is the rest, with the degrees of freedom of a difference of variances. The coefficients are as uncertain as all but the
 * calibrations make them, which enter them by themselves, and at least as the readings do.
 *
 * @see JCGM 100:2008, 4.2.3 and G.4.1; random parts counted once: common practice, no source
 */
export function blankQuantities(blank: Blank): BlankQuantities {
  const observed = blank.standardDeviation ** 2;
  const { calibrations, readings } = blank.explained ?? { calibrations: 0, readings: 0 };
  const deviation = Math.max(0, observed - calibrations - readings);
  const ofCoefficients = Math.max(observed - calibrations, readings);
  const isLine = blank.scaling === 'per flux mass and digestion';
  const common = {
    d_b: { estimate: 0, standardUncertainty: Math.sqrt(deviation) },
    degreesOfFreedom: leftAfter(blank.n - (isLine ? 2 : 1), deviation, observed),
  };
  if (isLine) {
    const share = observed === 0 ? 1 : Math.sqrt(ofCoefficients / observed);
    const [uf, u0] = [Math.sqrt(blank.variancePerFluxMass), Math.sqrt(blank.variancePerDigestion)];
    return {
      b_f: { estimate: blank.perFluxMass, standardUncertainty: uf * share },
      b_0: { estimate: blank.perDigestion, standardUncertainty: u0 * share },
      correlation: uf > 0 && u0 > 0 ? blank.covariance / (uf * u0) : 0,
      ...common,
    };
  }
  const standardUncertainty = Math.sqrt(ofCoefficients / blank.n);
  const ofMean = { estimate: blank.mean, standardUncertainty };
  return {
    ...(blank.scaling === 'per flux mass' ? { b_f: ofMean } : { b_0: ofMean }),
    correlation: 0,
    ...common,
  };
}

/** By Satterthwaite on the observed part, which carries the scatter; not below 3, for with less a simulation has no standard deviation. */
function leftAfter(degreesOfFreedom: number, left: number, observed: number): number {
  if (left === 0) return degreesOfFreedom;
  return Math.max(Math.min(3, degreesOfFreedom), degreesOfFreedom * (left / observed) ** 2);
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
  const { b_f, b_0, d_b, degreesOfFreedom } = blankQuantities(blank);
  const isLine = blank.scaling === 'per flux mass and digestion';
  const source = `${blank.n} procedure blanks: ${blank.digestions.join(', ')}`;
  const input = (symbol: string, description: string, unit: string, q: BlankQuantity): InputQuantity => ({
    ...recordedValue(`${symbol}_${analyte}`, description, unit, q.estimate, 'blank', source),
    degreesOfFreedom,
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
      ...(blank.explained === undefined
        ? {}
        : { source: `${source}; less what their calibrations and readings explain` }),
      withinPrecision: true,
      variesWith: 'digestion',
    },
  ];
}
