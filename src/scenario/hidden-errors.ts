import { type Analyte, analyteDesigns, byAnalyte } from './design/analytes.js';
import {
  names,
  nominal,
  plantedEffects,
  recordedInterferences,
  trueComponents,
} from './design/components.js';
import { type Material, materials } from './design/materials.js';
import { drawNormal, drawStated } from './draw.js';
import { statedInput } from './plan/stated-inputs.js';
import type { ScenarioSwitches } from './scenario-options.js';

/** Errors that stay the same throughout the study: each drawn from the distribution its record states. */
export interface HiddenErrors {
  /** True over certified content of each stock standard. */
  readonly stock: Readonly<Record<Analyte, number>>;
  /** True over recorded addition of each spiking solution. */
  readonly spike: Readonly<Record<Analyte, number>>;
  /** True over recorded content of the check solution. */
  readonly checkSolution: Readonly<Record<Analyte, number>>;
  /** True content of the solution of the interferent alone, mg/kg. */
  readonly interferentMgPerKg: number;
  readonly densityAndUptakeMatch: number;
  readonly reachesSolution: number;
  /** kg/m3 */
  readonly portionDensity: number;
  /** Blank of the samples' flux less that of the blanks' flux, mg per g of flux. */
  readonly fluxLotBlank: Readonly<Record<Analyte, number>>;
  /** True moisture of each material, g/100 g as received. */
  readonly moisture: Readonly<Record<Material, number>>;
  readonly interferences: readonly TrueInterference[];
}

/** One true interference coefficient; `recorded` says whether the records know of it. */
export interface TrueInterference {
  readonly analyte: Analyte;
  readonly lineNm: number;
  readonly interferent: Analyte;
  readonly apparentPerUnit: number;
  readonly recorded: boolean;
}

function stated(seed: number, name: Parameters<typeof statedInput>[0], analyte = '*'): number {
  const input = statedInput(name, analyte);
  return (
    input.estimate +
    drawStated(seed, input.distribution, input.standardUncertainty, ['study.json', name, analyte])
  );
}

function trueInterferences({ seed, overlap }: ScenarioSwitches): TrueInterference[] {
  const recorded = recordedInterferences.map(
    ({ analyte, interferent, apparentPerUnit, standardUncertainty }): TrueInterference => ({
      analyte,
      lineNm: analyteDesigns[analyte].lineNm,
      interferent,
      apparentPerUnit:
        apparentPerUnit +
        drawNormal(seed, standardUncertainty, ['interference', `${analyte}|${interferent}`, 'coefficient']),
      recorded: true,
    }),
  );
  if (!overlap) return recorded;
  const planted: TrueInterference = {
    analyte: 'Al',
    lineNm: analyteDesigns.Al.lineNm,
    interferent: 'Zr',
    apparentPerUnit: plantedEffects.zirconiumOnAluminium,
    recorded: false,
  };
  return [...recorded, planted];
}

/** All errors that are common to the whole study. */
export function hiddenErrors(switches: ScenarioSwitches): HiddenErrors {
  const { seed } = switches;
  const factor = (relativeU: number, table: string, row: string, purpose: string) =>
    1 + drawNormal(seed, relativeU, [table, row, purpose]);
  const moistureOf = (sample: Material) =>
    materials[sample].moisture + drawNormal(seed, materials[sample].moistureU, ['moisture', sample, 'loss']);
  return {
    stock: byAnalyte((a) => factor(analyteDesigns[a].stockRelativeU / 2, 'standards', `S-${a}`, 'content')),
    spike: byAnalyte((a) => factor(nominal.spikeRelativeU, 'spikes', a, 'solution')),
    checkSolution: byAnalyte((a) =>
      factor(checkSolutionRelativeU / 2, 'standards', `${names.checkSolution}|${a}`, 'content'),
    ),
    interferentMgPerKg:
      nominal.checkInterferentMgPerKg *
      factor(checkSolutionRelativeU / 2, 'standards', names.interferenceSolution, 'content'),
    densityAndUptakeMatch: stated(seed, 'density and uptake match'),
    reachesSolution: stated(seed, 'retained in fusion'),
    portionDensity: stated(seed, 'portion density'),
    fluxLotBlank: byAnalyte((a) => stated(seed, 'flux lot blank', a)),
    moisture: Object.fromEntries(
      (Object.keys(materials) as Material[]).map((sample) => [sample, moistureOf(sample)]),
    ) as Record<Material, number>,
    interferences: trueInterferences(switches),
  };
}

/** Relative expanded uncertainty (k = 2) of the check solution and of the solution of the interferent. */
export const checkSolutionRelativeU = 0.008;

/** Errors of one working day, shared by its digestions. */
export interface DayErrors {
  readonly amount: number;
  readonly airDensity: number;
}

/** Draws the errors of one working day. */
export function dayErrors(seed: number, day: number): DayErrors {
  const air = statedInput('air density');
  return {
    amount: 1 + drawNormal(seed, trueComponents.day, ['digestions', `day ${day}`, 'amount']),
    airDensity:
      air.estimate +
      drawStated(seed, air.distribution, air.standardUncertainty, [
        'digestions',
        `day ${day}`,
        'air density',
      ]),
  };
}
