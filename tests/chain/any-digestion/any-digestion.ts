import fc from 'fast-check';
import type { Balance } from '../../../src/chain/balance.js';
import type { Blank, BlankScaling } from '../../../src/chain/blank.js';
import { blankByCalibrations, calibrationColumns } from '../../../src/chain/blank-sources.js';
import type { Dilution, VolumeDilution } from '../../../src/chain/dilution.js';
import { lossesBetween, solidStates } from '../../../src/chain/mass-on-basis.js';
import { amountSources, type ResultObservation } from '../../../src/chain/result-model.js';
import type { KnownInternalStandard } from '../../../src/chain/solution/internal-standard.js';
import type { SolutionSignal } from '../../../src/chain/solution-signal.js';
import { calibration, densityMeasurement, large, small, uncertain } from '../hand-computed/chain-example.js';

/** What a study chooses: how the internal standard comes in, unit of the calibration, how the dilution is made. */
export interface Modes {
  readonly standard: 'on line' | 'added to the digestion' | 'diluent' | 'weighed into the dilution';
  readonly unit: 'mg/kg' | 'mg/L';
  readonly dilution: 'none' | 'by mass' | 'flask' | 'pipette and flask';
}

const inDiluent = (standard: Modes['standard']) =>
  standard === 'diluent' || standard === 'weighed into the dilution';

/** All modes that can be combined: an internal standard in the diluent needs a dilution. */
export const allModes: readonly Modes[] = (
  ['on line', 'added to the digestion', 'diluent', 'weighed into the dilution'] as const
).flatMap((standard) =>
  (['mg/kg', 'mg/L'] as const).flatMap((unit) =>
    (['none', 'by mass', 'flask', 'pipette and flask'] as const)
      .filter((dilution) => dilution !== 'none' || !inDiluent(standard))
      .map((dilution) => ({ standard, unit, dilution })),
  ),
);

/** Al is disturbed by Zr and Pr, Zr by Pr. */
export const symbols = ['Al', 'Zr', 'Pr'] as const;
export type Disturbed = (typeof symbols)[number];

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });

/** Numbers of one line: content in the solution measured, mean ratio, drift, intercept relative to the ratio. */
const line = fc.record({
  content: between(1, 50),
  ratio: between(0.1, 1),
  drift: between(0.95, 1.05),
  intercept: between(-0.02, 0.02),
  isDiluted: fc.boolean(),
});

/** A sensible digestion, in numbers only; `observationOf` writes it as records, `plainResult` works it out. */
export const digestion = fc.record({
  crucibleG: between(25, 40),
  portionG: between(0.1, 0.5),
  vesselG: between(80, 150),
  solutionG: between(60, 140),
  fluxG: between(1, 4),
  oneBalance: fc.boolean(),
  airDensity: between(1.1, 1.25),
  portionDensity: between(2500, 6000),
  solutionDensity: between(1000, 1040),
  dilutedDensity: between(998, 1010),
  aliquotG: between(2, 10),
  dilutionFactor: between(5, 40),
  dilutionOnSmall: fc.boolean(),
  standardG: between(0.5, 2),
  standardOnSmall: fc.boolean(),
  evaporation: between(1, 1.002),
  retained: between(0.99, 1),
  weighed: fc.constantFrom(...solidStates),
  reported: fc.constantFrom(...solidStates),
  loss: between(0, 0.2),
  ignition: between(-0.3, 0.4),
  oxide: between(1.1, 1.9),
  pump: between(0.99, 1.01),
  native: between(0, 1e-3),
  match: between(0.995, 1.005),
  coefficients: fc.tuple(between(1e-5, 1e-3), between(1e-5, 1e-3), between(1e-5, 1e-3)),
  lines: fc.record({ Al: line, Zr: line, Pr: line }),
  blank: fc.constantFrom<'none' | BlankScaling>(
    'none',
    'per flux mass',
    'per digestion',
    'per flux mass and digestion',
  ),
  blankPerFlux: between(1e-4, 2e-3),
  blankPerDigestion: between(1e-4, 2e-3),
  fluxLot: between(-1e-3, 1e-3),
});
export type Digestion = typeof digestion extends fc.Arbitrary<infer T> ? T : never;

/** Content of the internal-standard solution, mg/kg: as diluent it is the weaker one. */
export const standardContent = (modes: Modes) => (modes.standard === 'diluent' ? 5 : 500);
export const standardDensity = 1005;

export const isDiluted = (d: Digestion, modes: Modes, symbol: Disturbed) =>
  modes.dilution !== 'none' && (inDiluent(modes.standard) || d.lines[symbol].isDiluted);

/** Intercept and slope that give about the content wanted; with a known internal standard signals are about 5 times as large. */
export function calibrationOf(d: Digestion, modes: Modes, symbol: Disturbed) {
  const { content, ratio, intercept } = d.lines[symbol];
  const signal = ratio * (modes.standard === 'on line' ? 1 : 5);
  return { intercept: intercept * signal, slope: signal / content };
}

const balanceOf = (isSmall: boolean): Balance => (isSmall ? small : large);

const vessel = (id: string, nominalML: number, toleranceML: number, repeatabilityML: number) => ({
  id,
  certificate: `C-${id}`,
  specification: { nominalML, toleranceML, repeatabilityML, expansionPerK: 1e-5 },
});

/** True masses aside: the recorded amounts of the dilution. */
export const recordedDilution = (d: Digestion) => ({
  finalG: d.aliquotG * d.dilutionFactor,
  finalML: d.aliquotG * d.dilutionFactor,
  aliquotML: d.aliquotG,
});

function dilutionOf(d: Digestion, modes: Modes): Record<string, Dilution> {
  if (modes.dilution === 'none') return {};
  const balance = balanceOf(d.dilutionOnSmall);
  const { finalG, finalML, aliquotML } = recordedDilution(d);
  if (modes.dilution === 'by mass') return { F: { dilution: 'V-1', balance, aliquotG: d.aliquotG, finalG } };
  const temperature = uncertain(22, 1);
  const volume = (volumeML: number, id: string, tolerance: number, density: number, densityName: string) => ({
    volumeML,
    vessel: vessel(id, volumeML, tolerance, tolerance / 4),
    density: { kgPerM3: density, measurement: densityMeasurement },
    densityName,
    temperature,
  });
  const final = volume(finalML, 'FL-1', 0.1, d.dilutedDensity, 'F');
  const pipette = volume(aliquotML, 'PI-1', 0.016, d.solutionDensity, 's');
  const aliquot: VolumeDilution['aliquot'] = modes.dilution === 'flask' ? { massG: d.aliquotG } : pipette;
  return { F: { dilution: 'V-1', balance, aliquot, final } };
}

function internalStandardOf(d: Digestion, modes: Modes): KnownInternalStandard | null {
  if (modes.standard === 'on line') return null;
  const solution = {
    massFractionMgPerKg: standardContent(modes),
    relativeStandardUncertainty: 0.0006,
    densityKgPerM3: standardDensity,
    source: 'Sc',
  };
  if (modes.standard === 'diluent') return { solution, inDigestion: null, inDilution: 'all diluent' };
  const addition = { addedG: d.standardG, balance: balanceOf(d.standardOnSmall) };
  return modes.standard === 'added to the digestion'
    ? { solution, inDigestion: addition, inDilution: null }
    : { solution, inDigestion: null, inDilution: addition };
}

function signalOf(d: Digestion, modes: Modes, symbol: Disturbed): SolutionSignal {
  const { ratio, drift } = d.lines[symbol];
  const { intercept, slope } = calibrationOf(d, modes, symbol);
  const diluted = isDiluted(d, modes, symbol);
  const onLine = modes.standard === 'on line';
  return {
    analyte: symbol,
    lineNm: 300 + symbols.indexOf(symbol),
    solution: diluted ? 'V-1' : 'D-001',
    meanRatio: ratio,
    ratioStandardUncertainty: 0.002 * ratio,
    ratioDegreesOfFreedom: 40,
    drift: { factor: drift, standardUncertainty: 0.001, weight: 0.5, checks: [0, 1] },
    driftDegreesOfFreedom: 40,
    calibration: {
      ...calibration(modes.unit, intercept, slope),
      analyte: symbol,
      lineNm: 300 + symbols.indexOf(symbol),
    },
    stock: { name: symbol, relativeStandardUncertainty: 0.0025, source: 'certificate' },
    match: uncertain(d.match, 0.001),
    dilutionFactor: 1,
    dilutionName: diluted ? 'F' : null,
    spectrometer: 'ICP-1',
    internalStandard: internalStandardOf(d, modes),
    pump: onLine ? uncertain(d.pump, 0.001) : null,
    native: uncertain(d.native, 1e-4),
    density: {
      kgPerM3: diluted ? d.dilutedDensity : d.solutionDensity,
      measurement: densityMeasurement,
    },
  };
}

/** Relative scatter of single blanks; four of them. */
export const blankScatter = 2e-4;

/** Two of the blanks have their calibrations followed: the signals of the digestion times a number, in this run and another. */
export const followed = [
  { run: 'R1', signal: 0.3 },
  { run: 'R2', signal: 0.2 },
] as const;

/** Weights of their amounts in the coefficients of the blank. */
export const followedWeights = { b_f: [0.25, 0.2], b_0: [0.125, -0.25] } as const;

function blankOf(d: Digestion, sample: ResultObservation): Blank | null {
  if (d.blank === 'none') return null;
  const amounts = followed.map(
    ({ run, signal }) =>
      amountSources({
        ...sample,
        signals: sample.signals.map((s) => ({
          ...s,
          meanRatio: s.meanRatio * signal,
          calibration: { ...s.calibration, run },
        })),
      }).calibrations,
  );
  const weights = {
    b_f: d.blank === 'per digestion' ? null : Float64Array.from(followedWeights.b_f),
    b_0: d.blank === 'per flux mass' ? null : Float64Array.from(followedWeights.b_0),
  };
  const common = {
    ...{ standardDeviation: blankScatter, n: 4, digestions: ['B-1', 'B-2', 'B-3', 'B-4'] },
    calibrations: blankByCalibrations(calibrationColumns(amounts), weights),
  };
  if (d.blank === 'per flux mass') return { ...common, scaling: d.blank, mean: d.blankPerFlux };
  if (d.blank === 'per digestion') return { ...common, scaling: d.blank, mean: d.blankPerDigestion };
  return {
    ...common,
    scaling: d.blank,
    perFluxMass: d.blankPerFlux,
    perDigestion: d.blankPerDigestion,
    variancePerFluxMass: 1e-8,
    variancePerDigestion: 4e-8,
    covariance: -0.9 * 1e-4 * 2e-4,
  };
}

/** The result of one analyte from the numbers, as the chain takes it. */
export function observationOf(d: Digestion, modes: Modes, analyte: Disturbed): ResultObservation {
  const airDensity = uncertain(d.airDensity, 0.004);
  const source = 'test';
  const [AlZr, AlPr, ZrPr] = d.coefficients;
  const coefficient = (on: Disturbed, by: Disturbed, value: number) => ({
    analyte: on,
    interferent: by,
    value,
    standardUncertainty: 0.03 * value,
    source,
  });
  const restsOnDensity = modes.unit === 'mg/L' || modes.dilution.endsWith('flask');
  const sample: ResultObservation = {
    digestion: 'D-001',
    analyte,
    signals: symbols.map((symbol) => signalOf(d, modes, symbol)),
    interference: [
      coefficient('Al', 'Zr', AlZr),
      coefficient('Al', 'Pr', AlPr),
      coefficient('Zr', 'Pr', ZrPr),
    ],
    dilutions: dilutionOf(d, modes),
    portion: {
      digestion: 'D-001',
      balance: small,
      crucibleG: d.crucibleG,
      crucibleWithPortionG: d.crucibleG + d.portionG,
      airDensity,
      portionDensity: uncertain(d.portionDensity, 50),
    },
    solution: {
      digestion: 'D-001',
      vesselBalance: balanceOf(d.oneBalance),
      crucibleBalance: small,
      crucibleG: d.crucibleG,
      vesselEmptyG: d.vesselG,
      vesselWithSolutionAndCrucibleG: d.vesselG + d.crucibleG + d.solutionG,
      airDensity,
      solutionDensityKgPerM3: d.solutionDensity,
      ...(restsOnDensity ? { densityMeasurement } : {}),
    },
    fluxG: d.fluxG,
    blank: null,
    fluxLot: uncertain(d.fluxLot, 3e-5),
    basis: {
      losses: lossesBetween(d.weighed, d.reported).map((between) => ({
        ...between,
        fraction: between.step === 'dry to ignited' ? d.ignition : d.loss,
        standardUncertainty: between.step === 'dry to ignited' ? 0.002 : 0.0005,
        source,
      })),
      oxide: { formula: 'oxide', factor: d.oxide, standardUncertainty: 1e-5 },
      unit: 'mg/kg',
      evaporation: uncertain(d.evaporation, 0.0002),
      retained: uncertain(d.retained, 0.001),
      heterogeneity: uncertain(1, 0.002),
    },
  };
  return { ...sample, blank: blankOf(d, sample) };
}
