import { type Analyte, analyteDesigns, byAnalyte } from './design/analytes.js';
import { plantedEffects, trueComponents } from './design/components.js';
import { controlContents, type Material, materials } from './design/materials.js';
import { reportedForm } from './design/oxide-form.js';
import type { DigestionContents } from './digestion-contents.js';
import { type ExpectedVerdict, expectedVerdicts } from './expected-verdicts.js';
import type { HiddenErrors } from './hidden-errors.js';
import type { ScenarioSwitches } from './scenario-options.js';
import { ruggednessEffects } from './tables/factors.js';

/** A true mass fraction of the dry solid, as the study reports it. */
export interface TrueMassFraction {
  readonly elementMgPerKg: number;
  /** In the oxide and unit of the study. */
  readonly reported: number;
  readonly unit: 'mg/kg' | 'g/100 g';
}

/** True parameters of one analyte. */
export interface TrueAnalyte {
  readonly blankMgPerGFlux: number;
  readonly blankStandardDeviationMg: number;
  readonly memoryFraction: number;
  readonly signalFloorMgPerKg: number;
  readonly signalRelative: number;
}

/** True masses and first contents of one digestion. */
export interface TrueDigestion {
  readonly digestion: string;
  readonly portionG: number;
  readonly fluxG: number;
  readonly solutionG: number;
  /** Of its further dilution: final over aliquot mass. */
  readonly dilutionFactor: number;
  readonly contentMgPerKg: Readonly<Record<Analyte, number>>;
}

/** Everything the records hide. Only tests and the study of error rates read it; the program never does. */
export interface ScenarioTruth {
  readonly schema: 'meltbook scenario truth 1';
  readonly invented: true;
  readonly switches: ScenarioSwitches;
  readonly massFractions: Readonly<Record<string, Readonly<Record<Analyte, TrueMassFraction>>>>;
  readonly analytes: Readonly<Record<Analyte, TrueAnalyte>>;
  readonly components: typeof trueComponents;
  readonly plantedEffects: typeof plantedEffects;
  readonly ruggednessEffects: typeof ruggednessEffects;
  /** Native internal-standard element relative to the dose, by sample. */
  readonly nativeInternalStandard: Readonly<Record<Material, number>>;
  readonly hiddenErrors: HiddenErrors;
  readonly digestions: readonly TrueDigestion[];
  /** Most specific first: the first entry that fits a finding counts. */
  readonly expectedVerdicts: readonly ExpectedVerdict[];
}

function trueMassFractions(contents: Readonly<Record<Analyte, number>>): Record<Analyte, TrueMassFraction> {
  return byAnalyte((a) => ({
    elementMgPerKg: contents[a],
    reported: reportedForm(a, contents[a]),
    unit: analyteDesigns[a].unit,
  }));
}

/** Gathers the truth behind one set of records. */
export function scenarioTruth(
  switches: ScenarioSwitches,
  hidden: HiddenErrors,
  digestions: readonly DigestionContents[],
  dilutionFactors: readonly number[],
): ScenarioTruth {
  const samples = Object.keys(materials) as Material[];
  return {
    schema: 'meltbook scenario truth 1',
    invented: true,
    switches,
    massFractions: {
      ...Object.fromEntries(samples.map((s) => [s, trueMassFractions(materials[s].contents)])),
      'QCM-F2': trueMassFractions(controlContents),
    },
    analytes: byAnalyte((a) => {
      const { blankMgPerGFlux, blankStandardDeviationMg, memoryFraction, signalFloor, signalRelative } =
        analyteDesigns[a];
      return {
        blankMgPerGFlux,
        blankStandardDeviationMg,
        memoryFraction,
        signalFloorMgPerKg: signalFloor,
        signalRelative,
      };
    }),
    components: trueComponents,
    plantedEffects,
    ruggednessEffects,
    nativeInternalStandard: Object.fromEntries(
      samples.map((s) => [s, materials[s].nativeInternalStandard]),
    ) as Record<Material, number>,
    hiddenErrors: hidden,
    digestions: digestions.map(({ scheduled, portionG, fluxG, solutionG, contentMgPerKg }, index) => ({
      digestion: scheduled.digestion,
      portionG,
      fluxG,
      solutionG,
      dilutionFactor: dilutionFactors[index]!,
      contentMgPerKg,
    })),
    expectedVerdicts: expectedVerdicts(switches),
  };
}
