/** The analytes of the invented study, majors first. */
export const analyteNames = ['Zr', 'Si', 'Pr', 'Hf', 'Al', 'Fe', 'Ti', 'Ca'] as const;

export type Analyte = (typeof analyteNames)[number];

/** Design figures of one analyte. Contents in mg/kg of the solution measured unless the name says otherwise. */
export interface AnalyteDesign {
  readonly lineNm: number;
  readonly secondLineNm?: number;
  readonly measuredIn: 'digestion' | 'dilution';
  readonly oxide: string;
  readonly unit: 'mg/kg' | 'g/100 g';
  /** Lowest mass fraction reported, of the oxide, in `unit`. */
  readonly lowestReported: number;
  readonly signalFloor: number;
  readonly signalRelative: number;
  /** Background of the line, as content. */
  readonly background: number;
  /** Ratio to the internal standard per mg/kg. */
  readonly response: number;
  /** Series of calibration solutions: interferents (B) are kept apart from the lines they disturb (A). */
  readonly series: 'A' | 'B';
  readonly standards: readonly number[];
  readonly checkContent: number;
  readonly stockMgPerKg: number;
  readonly stockRelativeU: number;
  /** True blank from the flux, mg per g of flux, and standard deviation of one digestion's blank, mg. */
  readonly blankMgPerGFlux: number;
  readonly blankStandardDeviationMg: number;
  /** Fraction of the amount fused that stays in the crucible and reaches the next digestion. */
  readonly memoryFraction: number;
  /** Added to spiked digestions, mg; 0 where the analyte is not spiked. */
  readonly spikeMg: number;
}

/** Design figures by analyte. */
export const analyteDesigns: Readonly<Record<Analyte, AnalyteDesign>> = {
  Zr: {
    lineNm: 343.823,
    secondLineNm: 339.198,
    measuredIn: 'dilution',
    oxide: 'ZrO2',
    unit: 'g/100 g',
    lowestReported: 10,
    signalFloor: 0.003,
    signalRelative: 0.004,
    background: 0.08,
    response: 0.11,
    series: 'B',
    standards: [5, 15, 30, 45, 60, 80],
    checkContent: 40,
    stockMgPerKg: 10000,
    stockRelativeU: 0.003,
    blankMgPerGFlux: 0.0004,
    blankStandardDeviationMg: 0.0002,
    memoryFraction: 0.0002,
    spikeMg: 0,
  },
  Si: {
    lineNm: 251.611,
    measuredIn: 'dilution',
    oxide: 'SiO2',
    unit: 'g/100 g',
    lowestReported: 5,
    signalFloor: 0.005,
    signalRelative: 0.0045,
    background: 0.15,
    response: 0.045,
    series: 'B',
    standards: [2, 5, 10, 15, 20, 30],
    checkContent: 12,
    stockMgPerKg: 1000,
    stockRelativeU: 0.004,
    blankMgPerGFlux: 0.005,
    blankStandardDeviationMg: 0.002,
    memoryFraction: 0.0002,
    spikeMg: 0,
  },
  Pr: {
    lineNm: 417.939,
    measuredIn: 'digestion',
    oxide: 'Pr6O11',
    unit: 'g/100 g',
    lowestReported: 0.5,
    signalFloor: 0.005,
    signalRelative: 0.004,
    background: 0.12,
    response: 0.06,
    series: 'B',
    standards: [5, 20, 50, 80, 120, 180],
    checkContent: 40,
    stockMgPerKg: 1000,
    stockRelativeU: 0.004,
    blankMgPerGFlux: 0.0004,
    blankStandardDeviationMg: 0.0002,
    memoryFraction: 0.0002,
    spikeMg: 7,
  },
  Hf: {
    lineNm: 264.141,
    measuredIn: 'digestion',
    oxide: 'HfO2',
    unit: 'g/100 g',
    lowestReported: 0.2,
    signalFloor: 0.004,
    signalRelative: 0.0045,
    background: 0.1,
    response: 0.025,
    series: 'A',
    standards: [2.5, 5, 10, 20, 35, 50],
    checkContent: 20,
    stockMgPerKg: 1000,
    stockRelativeU: 0.004,
    blankMgPerGFlux: 0.0003,
    blankStandardDeviationMg: 0.00015,
    memoryFraction: 0.0002,
    spikeMg: 2,
  },
  Al: {
    lineNm: 396.152,
    secondLineNm: 308.215,
    measuredIn: 'digestion',
    oxide: 'Al2O3',
    unit: 'mg/kg',
    lowestReported: 250,
    signalFloor: 0.003,
    signalRelative: 0.0045,
    background: 0.09,
    response: 0.07,
    series: 'A',
    standards: [0.2, 0.5, 1, 2.5, 5, 10],
    checkContent: 4,
    stockMgPerKg: 100,
    stockRelativeU: 0.005,
    blankMgPerGFlux: 0.001,
    blankStandardDeviationMg: 0.0003,
    memoryFraction: 0.0002,
    spikeMg: 0.4,
  },
  Fe: {
    lineNm: 259.94,
    secondLineNm: 238.204,
    measuredIn: 'digestion',
    oxide: 'Fe2O3',
    unit: 'mg/kg',
    lowestReported: 200,
    signalFloor: 0.002,
    signalRelative: 0.0045,
    background: 0.06,
    response: 0.09,
    series: 'A',
    standards: [0.2, 0.5, 1, 2, 4, 8],
    checkContent: 2,
    stockMgPerKg: 100,
    stockRelativeU: 0.005,
    blankMgPerGFlux: 0.0008,
    blankStandardDeviationMg: 0.0002,
    memoryFraction: 0.015,
    spikeMg: 0.12,
  },
  Ti: {
    lineNm: 334.94,
    secondLineNm: 336.121,
    measuredIn: 'digestion',
    oxide: 'TiO2',
    unit: 'mg/kg',
    lowestReported: 200,
    signalFloor: 0.001,
    signalRelative: 0.004,
    background: 0.03,
    response: 0.2,
    series: 'A',
    standards: [0.2, 0.5, 1, 2, 4, 8],
    checkContent: 2,
    stockMgPerKg: 100,
    stockRelativeU: 0.005,
    blankMgPerGFlux: 0.0003,
    blankStandardDeviationMg: 0.00012,
    memoryFraction: 0.0002,
    spikeMg: 0.14,
  },
  Ca: {
    lineNm: 317.933,
    measuredIn: 'digestion',
    oxide: 'CaO',
    unit: 'mg/kg',
    lowestReported: 150,
    signalFloor: 0.0015,
    signalRelative: 0.0045,
    background: 0.05,
    response: 0.12,
    series: 'A',
    standards: [0.1, 0.25, 0.5, 1, 2, 4],
    checkContent: 2,
    stockMgPerKg: 100,
    stockRelativeU: 0.006,
    blankMgPerGFlux: 0.0012,
    blankStandardDeviationMg: 0.0003,
    memoryFraction: 0.0002,
    spikeMg: 0.08,
  },
};

/** Lines of one analyte: the reported one first. */
export function linesOf(analyte: Analyte): number[] {
  const { lineNm, secondLineNm } = analyteDesigns[analyte];
  return secondLineNm === undefined ? [lineNm] : [lineNm, secondLineNm];
}

/** A record of one figure an analyte. */
export function byAnalyte<T>(figure: (analyte: Analyte) => T): Record<Analyte, T> {
  return Object.fromEntries(analyteNames.map((analyte) => [analyte, figure(analyte)])) as Record<Analyte, T>;
}
