import type { BlankAmount } from '../../../src/chain/blank.js';
import { correlatedResult } from '../../../src/chain/correlated-result.js';
import type { DriftFactor } from '../../../src/chain/drift.js';
import { type ResultObservation, resultModel } from '../../../src/chain/result-model.js';
import { type Cells, observation, sensitivityUncertainty } from './chain-example.js';

/** Four invented procedure blanks: aluminium found, mg, and flux, g. */
export const blanks: readonly BlankAmount[] = [
  { digestion: 'B-1', amountMg: 0.0105, fluxG: 1.6 },
  { digestion: 'B-2', amountMg: 0.0128, fluxG: 1.9 },
  { digestion: 'B-3', amountMg: 0.0131, fluxG: 2.1 },
  { digestion: 'B-4', amountMg: 0.0156, fluxG: 2.4 },
];

/** Midway between the two check solutions, whose readings have u = 0.001/√(0.5² + 0.52²) each: both digestions share them. */
export const drift: DriftFactor = { factor: 1.02, standardUncertainty: 0.001, weight: 0.5, checks: [0, 1] };

/** Masses of the digestion without its density measured: it then enters the buoyancy of the solution alone, as exact. */
const weighed = (crucibleG: number, portionG: number, vesselG: number, solutionG: number) => {
  const { portion, solution } = observation({});
  const { densityMeasurement: _none, ...withoutDensity } = solution;
  return {
    portion: { ...portion, crucibleG, crucibleWithPortionG: crucibleG + portionG },
    solution: {
      ...withoutDensity,
      crucibleG,
      vesselEmptyG: vesselG,
      vesselWithSolutionAndCrucibleG: vesselG + solutionG + crucibleG,
    },
  };
};

/** Two digestions of one run, read at signals near the blank's, so that the blank shows. */
export function twoDigestions(
  blank: ResultObservation['blank'],
): readonly [ResultObservation, ResultObservation] {
  const make = (digestion: string, meanRatio: number, fluxG: number, masses: ReturnType<typeof weighed>) => {
    const o = observation(
      { solution: digestion, meanRatio, ratioStandardUncertainty: 2e-5, drift },
      { digestion, fluxG, blank, ...masses },
    );
    return {
      ...o,
      portion: { ...o.portion, digestion },
      solution: { ...o.solution, digestion },
    };
  };
  return [
    make('D-001', 0.02412, 2.004, weighed(30.1234, 0.2, 120.5, 100)),
    make('D-002', 0.03118, 1.812, weighed(29.8765, 0.21, 118.25, 101)),
  ];
}

/** One column of the spreadsheet: what one digestion has for itself, by the names of `columnFormula`. */
export function column(digestion: 0 | 1): Cells {
  const [crucible, portion, vessel, solution] = [
    [30.1234, 0.2, 120.5, 100],
    [29.8765, 0.21, 118.25, 101],
  ][digestion]! as [number, number, number, number];
  // √(repeatability² + (d/√12)²): these come anew with each reading.
  const small = Math.sqrt(0.0002 ** 2 + 0.0001 ** 2 / 12);
  const large = Math.sqrt(0.005 ** 2 + 0.01 ** 2 / 12);
  return {
    crucible: [crucible, small],
    crucibleAndPortion: [crucible + portion, small],
    vessel: [vessel, large],
    vesselAndAll: [vessel + solution + crucible, large],
    ratio: [[0.02412, 0.03118][digestion]!, 2e-5],
    evaporation: [1.0005, 0.0002],
  };
}

/** What both digestions share beside the blank: errors of the balances, drift, calibration, stock. */
export const sharedCells: Cells = {
  // Linearity ± 0.2 mg of each kind of reading; eccentricity ± 1e-6 of the load, written per unit of load.
  linCrucible: [0, 0.0002 / Math.sqrt(3)],
  linCrucibleAndPortion: [0, 0.0002 / Math.sqrt(3)],
  linVessel: [0, 0.0002 / Math.sqrt(3)],
  linVesselAndAll: [0, 0.0002 / Math.sqrt(3)],
  eccCrucible: [0, 1e-6 / Math.sqrt(3)],
  eccCrucibleAndPortion: [0, 1e-6 / Math.sqrt(3)],
  eccVessel: [0, 1e-6 / Math.sqrt(3)],
  eccVesselAndAll: [0, 1e-6 / Math.sqrt(3)],
  sensitivitySmall: [1, sensitivityUncertainty('small')],
  sensitivityLarge: [1, sensitivityUncertainty('large')],
  drift: [1.02, 0.001],
  b0: [0.002, 4e-3 * 0.05],
  b1: [0.05, 1.5e-3 * 0.05],
  stock: [1, 0.0025],
};
export const sharedCorrelations = [['b0', 'b1', -0.6]] as const;

/** w = (c·m_s/f_evap − m_bl)/m_p·1000, mg/kg, with c = (ratio/drift − b0)/b1·stock. */
export function columnFormula(
  digestion: 0 | 1,
  c: Record<string, number>,
  blankMg: (c: Record<string, number>) => number,
): number {
  const load = column(digestion);
  const reading = (name: string, Name: string) =>
    c[name]! + c[`lin${Name}`]! + c[`ecc${Name}`]! * load[name]![0];
  const crucible = reading('crucible', 'Crucible');
  const portion =
    (((reading('crucibleAndPortion', 'CrucibleAndPortion') - crucible) * (1 - 1.2 / 8000)) /
      (1 - 1.2 / 4600)) *
    c.sensitivitySmall!; // 0.200 022 g and 0.210 023 g
  const vessels = reading('vesselAndAll', 'VesselAndAll') - reading('vessel', 'Vessel');
  const solution =
    ((vessels * c.sensitivityLarge! - crucible * c.sensitivitySmall!) * (1 - 1.2 / 8000)) / (1 - 1.2 / 1012); // 100.104 g and 101.105 g
  const content = ((c.ratio! / c.drift! - c.b0!) / c.b1!) * c.stock!; // 0.4329 and 0.5714 mg/kg
  const amount = (content * solution) / 1000 / c.evaporation!; // 0.043 32 and 0.057 74 mg
  return ((amount - blankMg(c)) / portion) * 1000;
}

/** The result as a sum over independent sources. */
export const correlatedOf = (o: ResultObservation) =>
  correlatedResult(o, resultModel(o, { route: 'components', unexplained: null }));
