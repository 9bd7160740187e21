import { type Analyte, analyteDesigns, byAnalyte } from './design/analytes.js';
import { nominal, plantedEffects, trueComponents } from './design/components.js';
import { type Material, materials } from './design/materials.js';
import { type ScheduledDigestion, scoopSpoilt } from './digestion-schedule.js';
import { drawNormal, drawRectangular, drawStated } from './draw.js';
import { dayErrors, type HiddenErrors } from './hidden-errors.js';
import { statedInput } from './plan/stated-inputs.js';
import type { ScenarioSwitches } from './scenario-options.js';

/** What is truly in the solution of one digestion. Masses are true masses in g. */
export interface DigestionContents {
  readonly scheduled: ScheduledDigestion;
  readonly portionG: number;
  readonly fluxG: number;
  readonly solutionG: number;
  /** True contents when the solution is read first, mg/kg. */
  readonly contentMgPerKg: Readonly<Record<Analyte, number>>;
  /** Native internal-standard element, relative to the dose. */
  readonly nativeInternalStandard: number;
}

/** Amount of each analyte that a crucible holds back, mg. */
type CrucibleMemory = Readonly<Record<Analyte, number>>;

/** A material as it truly is. */
export interface TrueMaterial {
  readonly contents: Readonly<Record<Analyte, number>>;
  /** g/100 g as received. */
  readonly moisture: number;
  readonly nativeInternalStandard: number;
  /** Portions of it differ. */
  readonly heterogeneous: boolean;
}

/** What is known of a sample by its name; null for a blank. */
export type MaterialLookup = (sample: string) => TrueMaterial | null;

/** The materials of the validation study. */
export function studyMaterials(hidden: HiddenErrors): MaterialLookup {
  return (sample) =>
    sample in materials
      ? {
          ...materials[sample as Material],
          moisture: hidden.moisture[sample as Material],
          heterogeneous: sample.startsWith('ZP'),
        }
      : null;
}

/** True contents of every digestion in the order of work: the crucible's memory passes from one to the next. */
export function digestionContents(
  schedule: readonly ScheduledDigestion[],
  hidden: HiddenErrors,
  switches: ScenarioSwitches,
  lookup: MaterialLookup = studyMaterials(hidden),
): DigestionContents[] {
  const crucibles = new Map<string, CrucibleMemory>();
  return schedule.map((scheduled) => {
    const { seed } = switches;
    const row = scheduled.digestion;
    const material = lookup(scheduled.sample);
    const masses = trueMasses(seed, scheduled, material !== null);
    const fused = fusedAmounts(scheduled, material, masses, hidden, switches);
    const kept = byAnalyte((a) => fused[a] * keptFraction(seed, a, row));
    // Before the study each crucible served the material that it serves first in the study: the memory is in balance.
    const returned = crucibles.get(scheduled.crucible) ?? kept;
    crucibles.set(scheduled.crucible, kept);
    const late = scheduled.spikeStage === 'after dissolution' ? spikeAmounts(hidden) : byAnalyte(() => 0);
    const evaporation = evaporationFactor(seed, row);
    return {
      scheduled,
      ...masses,
      contentMgPerKg: byAnalyte(
        (a) =>
          (Math.max(0, fused[a] - kept[a] + returned[a] + late[a]) * 1000) / (masses.solutionG * evaporation),
      ),
      nativeInternalStandard: material?.nativeInternalStandard ?? 0,
    };
  });
}

interface TrueMasses {
  readonly portionG: number;
  readonly fluxG: number;
  readonly solutionG: number;
}

function trueMasses(seed: number, { digestion }: ScheduledDigestion, hasPortion: boolean): TrueMasses {
  const vary = (nominalG: number, halfWidth: number, purpose: string) =>
    nominalG * (1 + drawRectangular(seed, halfWidth, ['digestions', digestion, purpose]));
  return {
    portionG: hasPortion ? vary(nominal.portionG, 0.02, 'portion') : 0,
    fluxG: vary(nominal.fluxG, 0.01, 'flux'),
    solutionG: vary(nominal.solutionG, 0.004, 'solution'),
  };
}

/** Amount in mg that the flux and the portion bring to the melt, before the crucible keeps or returns anything. */
function fusedAmounts(
  scheduled: ScheduledDigestion,
  material: TrueMaterial | null,
  masses: TrueMasses,
  hidden: HiddenErrors,
  switches: ScenarioSwitches,
): Record<Analyte, number> {
  const blank = blankAmounts(scheduled, masses, hidden, switches);
  if (material === null) return blank;
  const { seed } = switches;
  const { digestion, day } = scheduled;
  const dryG = masses.portionG * (1 - material.moisture / 100);
  const heterogeneity = material.heterogeneous ? portionFactor(seed, digestion) : 1;
  const common =
    heterogeneity *
    hidden.reachesSolution *
    dayErrors(seed, day).amount *
    (1 + drawNormal(seed, trueComponents.digestionShared, ['digestions', digestion, 'shared']));
  const early = scheduled.spikeStage === 'before fusion' ? spikeAmounts(hidden) : byAnalyte(() => 0);
  return byAnalyte((a) => {
    const own =
      1 + drawNormal(seed, trueComponents.digestionIndependent, ['digestions', digestion, 'own', a]);
    return blank[a] + ((material.contents[a] * dryG) / 1000 + early[a]) * common * own;
  });
}

function blankAmounts(
  scheduled: ScheduledDigestion,
  { fluxG }: TrueMasses,
  hidden: HiddenErrors,
  { seed, calciumBlanksUsable }: ScenarioSwitches,
): Record<Analyte, number> {
  const { digestion, kind } = scheduled;
  const [least, most] = plantedEffects.scoopCalciumMg;
  return byAnalyte((a) => {
    const { blankMgPerGFlux, blankStandardDeviationMg } = analyteDesigns[a];
    const lot = kind === 'blank' ? 0 : hidden.fluxLotBlank[a];
    const scatter = drawNormal(seed, blankStandardDeviationMg, ['digestions', digestion, 'blank', a]);
    const spoilt = a === 'Ca' && scoopSpoilt(scheduled, calciumBlanksUsable);
    const scoop = spoilt
      ? (least + most) / 2 + drawRectangular(seed, (most - least) / 2, ['digestions', digestion, 'scoop'])
      : 0;
    return (blankMgPerGFlux + lot) * fluxG + scatter + scoop;
  });
}

function spikeAmounts(hidden: HiddenErrors): Record<Analyte, number> {
  return byAnalyte((a) => analyteDesigns[a].spikeMg * hidden.spike[a]);
}

function keptFraction(seed: number, analyte: Analyte, digestion: string): number {
  const { memoryFraction } = analyteDesigns[analyte];
  return (
    memoryFraction *
    (1 + drawNormal(seed, trueComponents.memorySpread, ['digestions', digestion, 'memory', analyte]))
  );
}

function portionFactor(seed: number, digestion: string): number {
  const { estimate, standardUncertainty } = statedInput('sample heterogeneity');
  return estimate + drawNormal(seed, standardUncertainty, ['digestions', digestion, 'heterogeneity']);
}

function evaporationFactor(seed: number, digestion: string): number {
  const { estimate, distribution, standardUncertainty } = statedInput('evaporation before reading');
  return (
    estimate + drawStated(seed, distribution, standardUncertainty, ['digestions', digestion, 'evaporation'])
  );
}

/** Factor on the silicon of a solution kept for so many hours after its first reading. */
export function siliconRemaining(hours: number): number {
  return 1 - plantedEffects.siliconLossPerHour * Math.max(0, hours - plantedEffects.siliconLossAfterHours);
}
