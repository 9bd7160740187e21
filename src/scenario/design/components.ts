/**
 * True random components that no record states, as relative standard deviations of the amount in solution:
 * what an analysis of the study can only estimate. The shared part exceeds the independent part, so that
 * covariances between the analytes of one digestion matter.
 */
export const trueComponents = {
  /** One draw a digestion, common to all analytes. */
  digestionShared: 0.0035,
  /** One draw a digestion and analyte. */
  digestionIndependent: 0.0025,
  /** One draw a working day, common to all analytes. */
  day: 0.002,
  /** Flicker of pump and plasma, common to analyte and internal standard: cancels in their ratio. */
  flicker: 0.008,
  /** Internal-standard signal of one sample solution against the standards (matrix). */
  matrixOnInternalStandard: 0.008,
  /** Drift of the ratio over a run: part common to all lines and part of one line; it grows with the square of time. */
  driftCommon: 0.006,
  driftOfLine: 0.003,
  /** Relative spread of the fraction a crucible keeps. */
  memorySpread: 0.05,
} as const;

/** Planted effects that the study must find, or must be able to live with. */
export const plantedEffects = {
  /** Apparent mg/kg on the reported aluminium line per mg/kg of zirconium; absent from the table of interferences. */
  zirconiumOnAluminium: 5e-4,
  /** Loss of silicon in a kept solution: from this age, at this rate an hour. */
  siliconLossAfterHours: 48,
  siliconLossPerHour: 0.001,
  /** Calcium that the contaminated scoop brought to a blank: lowest and highest, mg. */
  scoopCalciumMg: [0.03, 0.15],
} as const;

/** Interferences that the records hold: recorded coefficient and its standard uncertainty. */
export const recordedInterferences = [
  { analyte: 'Ca', interferent: 'Pr', apparentPerUnit: 4e-4, standardUncertainty: 8e-6 },
  { analyte: 'Hf', interferent: 'Zr', apparentPerUnit: 2e-4, standardUncertainty: 5e-6 },
] as const;

/** Nominal figures of the work. Masses in g, contents in mg/kg, densities in kg/m3. */
export const nominal = {
  portionG: 0.2,
  fluxG: 2,
  solutionG: 100,
  aliquotG: 5,
  dilutionG: 100,
  acidG: 40,
  internalStandardMgPerKg: 5,
  checkInterferentMgPerKg: 925,
  preparationRelativeU: 0.002,
  spikeRelativeU: 0.002,
  crucibleDensity: 21450,
  solutionDensity: 1012,
  vesselDensity: 2230,
} as const;

/** Words of the records that several tables share. */
export const names = {
  study: 'zircon-pigment',
  checkSolution: 'CHK',
  interferenceSolution: 'IC-Zr',
  zeroSolution: 'CAL-0',
  carryOverSolution: 'ZERO',
  lowLevelSample: 'ZP-0',
  procedureBlank: 'procedure blank',
  memoryBlank: 'memory blank',
  internalStandard: 'Sc',
  internalStandardLineNm: 361.383,
  nativeRun: 'R-11',
  /** Readings of a solution; check solutions are read twice as often, for every drift factor rests on two of them. */
  readings: 3,
  readingsOfCheck: 6,
} as const;
