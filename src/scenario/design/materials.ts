import type { Analyte } from './analytes.js';

/** Content of one material: mass fractions of the elements in the dry solid, mg/kg. */
export type ElementContents = Readonly<Record<Analyte, number>>;

/** One invented material. */
export interface MaterialDesign {
  readonly contents: ElementContents;
  /** Moisture as recorded, g/100 g as received, and its standard uncertainty. */
  readonly moisture: number;
  readonly moistureU: number;
  /** Native internal-standard element in the digestion's solution, relative to the dose. */
  readonly nativeInternalStandard: number;
}

function material(
  [Zr, Si, Pr, Hf, Al, Fe, Ti, Ca]: readonly [number, number, number, number, number, number, number, number],
  moisture: number,
  nativeInternalStandard = 0.00005,
): MaterialDesign {
  return {
    contents: { Zr, Si, Pr, Hf, Al, Fe, Ti, Ca },
    moisture,
    moistureU: 0.03,
    nativeInternalStandard,
  };
}

/**
 * Samples and reference materials of the study. ZP-0 is an unpigmented body with traces about twice the limits of quantification;
 * ZP-4 holds native scandium; ZP-5 is rich in iron.
 */
export const materials = {
  'ZP-0': material([488000, 156500, 140, 95, 62, 50, 19, 85], 0.15),
  'ZP-1': material([470000, 148800, 25000, 9000, 1500, 420, 500, 300], 0.22),
  'ZP-2': material([462500, 147000, 35000, 10000, 1850, 550, 700, 350], 0.25),
  'ZP-3': material([455000, 144500, 45000, 11000, 2600, 900, 1000, 600], 0.31),
  'ZP-4': material([460000, 147500, 36000, 10200, 2000, 650, 800, 400], 0.27, 0.005),
  'ZP-5': material([457000, 144000, 36000, 10000, 4000, 3000, 2500, 1500], 0.35),
  'QRM-1': material([466000, 148000, 30000, 9500, 1200, 500, 600, 400], 0.12),
  'QRM-2': material([458500, 145500, 40000, 10500, 2600, 800, 900, 700], 0.15),
  'QRM-3': material([474000, 150500, 15000, 8500, 600, 250, 300, 200], 0.1),
} as const satisfies Record<string, MaterialDesign>;

export type Material = keyof typeof materials;

/** The control material of fusion line F2 and the materials of the proficiency rounds: dry mass fractions, mg/kg. */
export const controlContents: ElementContents = materialContents([
  464000, 147500, 32000, 9800, 1700, 600, 700, 450,
]);

/** Relative expanded uncertainty (k = 2) of the certified values of the reference materials. */
export const certifiedRelativeU: Readonly<Record<Analyte, number>> = {
  Zr: 0.004,
  Si: 0.005,
  Pr: 0.006,
  Hf: 0.008,
  Al: 0.01,
  Fe: 0.012,
  Ti: 0.012,
  Ca: 0.016,
};

function materialContents(figures: Parameters<typeof material>[0]): ElementContents {
  return material(figures, 0).contents;
}
