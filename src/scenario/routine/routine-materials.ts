import { type Analyte, analyteNames, byAnalyte } from '../design/analytes.js';
import { materials } from '../design/materials.js';
import type { TrueMaterial } from '../digestion-contents.js';
import { drawNormal, drawRectangular } from '../draw.js';
import type { HiddenErrors } from '../hidden-errors.js';
import { routineSample, samplesOfRun } from './routine-schedule.js';

/** Samples that were made unlike the others, with what was done to them. */
export const specialContents: Readonly<
  Record<string, { readonly analyte: Analyte; readonly mgPerKg: number }>
> = {
  /** Above the highest calibration solution. */
  'RS-23': { analyte: 'Ti', mgPerKg: 4800 },
  /** Below the limit of quantification. */
  'RS-28': { analyte: 'Ca', mgPerKg: 25 },
  /** Outside its specification. */
  'RS-34': { analyte: 'Pr', mgPerKg: 51_000 },
};

const moistureAsRecorded = 0.25;
const moistureU = 0.03;

/** One routine sample: the middle sample of the validation, varied from batch to batch. */
export function routineMaterial(
  seed: number,
  sample: string,
): TrueMaterial & { readonly recordedMoisture: number } {
  const spread: Readonly<Partial<Record<Analyte, number>>> = { Zr: 0.006, Si: 0.008, Pr: 0.12, Hf: 0.06 };
  const contents = byAnalyte((analyte) => {
    const special = specialContents[sample];
    if (special?.analyte === analyte) return special.mgPerKg;
    const halfWidth = spread[analyte] ?? 0.3;
    const factor = 1 + drawRectangular(seed, halfWidth, ['routine', sample, 'content', analyte]);
    return materials['ZP-2'].contents[analyte] * factor;
  });
  return {
    contents,
    recordedMoisture: moistureAsRecorded,
    moisture: moistureAsRecorded + drawNormal(seed, moistureU, ['routine', sample, 'moisture']),
    nativeInternalStandard: 0.00005,
    heterogeneous: true,
  };
}

/** The samples of the run and the reference material, by name; null for a blank. */
export function routineMaterials(seed: number, hidden: HiddenErrors): ReadonlyMap<string, TrueMaterial> {
  const samples = Array.from({ length: samplesOfRun }, (_, i) => routineSample(i + 1));
  return new Map<string, TrueMaterial>([
    ...samples.map((sample) => [sample, routineMaterial(seed, sample)] as const),
    ['QRM-1', { ...materials['QRM-1'], moisture: hidden.moisture['QRM-1'], heterogeneous: false }],
  ]);
}

/** Recorded moisture of every sample of the run. */
export const recordedMoisture = {
  lossGPer100G: moistureAsRecorded,
  standardUncertaintyGPer100G: moistureU,
} as const;

/** Analytes that the routine reports: those whose trueness the validation left open are not among them. */
export const routineAnalytes: readonly Analyte[] = analyteNames.filter((a) => a !== 'Al');
