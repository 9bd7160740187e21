import type { Balance } from '../../../src/chain/balance.js';
import type { Calibration } from '../../../src/chain/calibration.js';
import type { ResultObservation } from '../../../src/chain/result-model.js';

/** Invented readings of one digestion: nothing here is a check value of a method, only of arithmetic. */
export const exact = (estimate: number) => ({
  estimate,
  standardUncertainty: 0,
  distribution: 'normal' as const,
  source: 'test',
});
export const uncertain = (estimate: number, standardUncertainty: number) => ({
  ...exact(estimate),
  standardUncertainty,
});

const specification = {
  repeatabilityG: 0.0002,
  scaleIntervalG: 0.0001,
  linearityG: 0.0002,
  sensitivityRelative: 2e-6,
  eccentricityRelative: 1e-6,
  temperatureCoefficientPerK: 1e-6,
  temperatureHalfWidthK: 2,
  driftRelative: 1e-6,
};
export const small: Balance = { id: 'BAL-1', certificate: 'C1', specification };
export const large: Balance = {
  id: 'BAL-2',
  certificate: 'C2',
  specification: { ...specification, repeatabilityG: 0.005, scaleIntervalG: 0.01, sensitivityRelative: 5e-6 },
};
export const densityMeasurement = {
  standardUncertaintyKgPerM3: 0.5,
  temperatureC: 20,
  readingTemperature: uncertain(23, 0.8),
  expansionPerK: uncertain(2.1e-4, 2e-5),
  source: 'density meter',
};

export const calibration = (unit: 'mg/kg' | 'mg/L', intercept: number, slope: number): Calibration => ({
  run: 'R1',
  analyte: 'Al',
  lineNm: 396.152,
  unit,
  points: [],
  fit: {} as Calibration['fit'],
  intercept,
  slope,
  varianceIntercept: (4e-3 * slope) ** 2,
  varianceSlope: (1.5e-3 * slope) ** 2,
  covariance: -0.6 * 4e-3 * slope * 1.5e-3 * slope,
  degreesOfFreedom: 20,
});

export function observation(
  signal: Partial<ResultObservation['signals'][number]>,
  change: Partial<ResultObservation> = {},
): ResultObservation {
  return {
    digestion: 'D-001',
    analyte: 'Al',
    signals: [
      {
        analyte: 'Al',
        lineNm: 396.152,
        solution: 'D-001',
        meanRatio: 0.21012,
        ratioStandardUncertainty: 0.0005,
        ratioDegreesOfFreedom: 40,
        drift: { factor: 1.02, standardUncertainty: 0.001, weight: 0.5, checks: [0, 1] },
        driftDegreesOfFreedom: 40,
        calibration: calibration('mg/kg', 0.002, 0.05),
        stock: { name: 'Al-1000', relativeStandardUncertainty: 0.0025, source: 'certificate' },
        match: null,
        dilutionFactor: 1,
        dilutionName: null,
        spectrometer: 'ICP-1',
        ...signal,
      },
    ],
    interference: [],
    dilutions: {},
    portion: {
      digestion: 'D-001',
      balance: small,
      crucibleG: 30.1234,
      crucibleWithPortionG: 30.3234,
      airDensity: exact(1.2),
      portionDensity: exact(4600),
    },
    solution: {
      digestion: 'D-001',
      vesselBalance: large,
      crucibleBalance: small,
      crucibleG: 30.1234,
      vesselEmptyG: 120.5,
      vesselWithSolutionAndCrucibleG: 250.6234,
      airDensity: exact(1.2),
      solutionDensityKgPerM3: 1012,
      densityMeasurement,
    },
    fluxG: 2.004,
    blank: null,
    fluxLot: null,
    basis: {
      losses: [],
      oxide: null,
      unit: 'mg/kg',
      evaporation: uncertain(1.0005, 0.0002),
      retained: null,
      heterogeneity: null,
    },
    ...change,
  };
}

/** Values of the cells of a spreadsheet that others follow from, by name, with standard uncertainties. */
export type Cells = Record<string, readonly [value: number, standardUncertainty: number]>;

/** Standard uncertainty of one reading on a balance: √(rep² + (d/√12)² + (lin/√3)² + (ecc·load/√3)²). */
export function readingUncertainty(balance: 'small' | 'large', loadG: number): number {
  const rep = balance === 'small' ? 0.0002 : 0.005;
  const d = balance === 'small' ? 0.0001 : 0.01;
  return Math.sqrt(rep ** 2 + d ** 2 / 12 + 0.0002 ** 2 / 3 + (1e-6 * loadG) ** 2 / 3);
}

/** Relative standard uncertainty of a sensitivity: adjustment, 1e-6 per K over ± 2 K, drift ± 1e-6. */
export function sensitivityUncertainty(balance: 'small' | 'large'): number {
  const adjustment = balance === 'small' ? 2e-6 : 5e-6;
  return Math.sqrt(adjustment ** 2 + (1e-6 * 2) ** 2 / 3 + 1e-6 ** 2 / 3);
}

/** Cells of the masses of the example: balance readings, one sensitivity a balance, evaporation. */
export const massCells: Cells = {
  crucible: [30.1234, readingUncertainty('small', 30.1234)],
  crucibleAndPortion: [30.3234, readingUncertainty('small', 30.3234)],
  vessel: [120.5, readingUncertainty('large', 120.5)],
  vesselAndAll: [250.6234, readingUncertainty('large', 250.6234)],
  sensitivitySmall: [1, sensitivityUncertainty('small')],
  sensitivityLarge: [1, sensitivityUncertainty('large')],
  evaporation: [1.0005, 0.0002],
};

/** m_p, g: (crucible with portion − crucible)·(1 − 1.2/8000)/(1 − 1.2/4600)·S_p = 0.200 022 g. */
export const portionFormula = (c: Record<string, number>): number =>
  (((c.crucibleAndPortion! - c.crucible!) * (1 - 1.2 / 8000)) / (1 - 1.2 / 4600)) * c.sensitivitySmall!;

/** m_s, g: (vessel with all − vessel)·S_v − crucible·S_p, each ·(1 − 1.2/8000)/(1 − 1.2/ρ_s) = 100.104 g. */
export const solutionFormula = (c: Record<string, number>): number =>
  (((c.vesselAndAll! - c.vessel!) * c.sensitivityLarge! - c.crucible! * c.sensitivitySmall!) *
    (1 - 1.2 / 8000)) /
  (1 - 1.2 / (1012 + (c.rhoError ?? 0)));

/** A spreadsheet: its cells and what it works out from them. */
export interface Spreadsheet {
  readonly cells: Cells;
  readonly formula: (cell: Record<string, number>) => number;
}

/** Change of the result for one standard uncertainty of each cell, by numeric differentiation (five points). */
export function partsOf({ cells, formula }: Spreadsheet): Record<string, number> {
  const at = (name: string, shift: number) =>
    formula(Object.fromEntries(Object.entries(cells).map(([k, [x]]) => [k, k === name ? x + shift : x])));
  const part: Record<string, number> = {};
  for (const [name, [x, u]] of Object.entries(cells)) {
    // A step of one standard uncertainty: large against rounding; an eighth where it is not small against what the formula bends over.
    const h = x !== 0 && u > 0.004 * Math.abs(x) ? u / 8 : u;
    const slope = (8 * (at(name, h) - at(name, -h)) - (at(name, 2 * h) - at(name, -2 * h))) / (12 * h);
    part[name] = slope * u;
  }
  return part;
}

/** Result and standard uncertainty of a spreadsheet, correlated cells given. */
export function spreadsheet(
  cells: Cells,
  formula: (cell: Record<string, number>) => number,
  correlated: readonly (readonly [string, string, number])[] = [],
): { w: number; u: number } {
  const part = partsOf({ cells, formula });
  let variance = Object.values(part).reduce((sum, p) => sum + p * p, 0);
  for (const [a, b, r] of correlated) variance += 2 * r * part[a]! * part[b]!;
  const w = formula(Object.fromEntries(Object.entries(cells).map(([k, [x]]) => [k, x])));
  return { w, u: Math.sqrt(variance) };
}

/** Covariance of two spreadsheets whose cells of these names are the same quantities. */
export function spreadsheetCovariance(
  first: Spreadsheet,
  second: Spreadsheet,
  shared: readonly string[],
  correlated: readonly (readonly [string, string, number])[] = [],
): number {
  const [a, b] = [partsOf(first), partsOf(second)];
  let covariance = shared.reduce((sum, name) => sum + a[name]! * b[name]!, 0);
  for (const [x, y, r] of correlated) covariance += r * (a[x]! * b[y]! + a[y]! * b[x]!);
  return covariance;
}
