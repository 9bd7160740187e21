import type { HistoryRecord } from '../../records/tables/history.js';
import { dateAfter } from '../calendar.js';
import { type Analyte, analyteDesigns } from '../design/analytes.js';
import { plantedEffects, trueComponents } from '../design/components.js';
import { controlContents } from '../design/materials.js';
import { reportedForm } from '../design/oxide-form.js';
import { drawNormal } from '../draw.js';
import { changeDates, equipmentPhases } from '../plan/equipment-register.js';
import type { ScenarioSwitches } from '../scenario-options.js';

const controlMaterial = 'QCM-F2';
const controlAnalytes = ['Zr', 'Al', 'Fe'] as const;

/** Relative scatter of a control result beyond digestion, day and weighing: calibration, drift and readings. */
const measurementScatter: Readonly<Record<(typeof controlAnalytes)[number], number>> = {
  Zr: 0.0035,
  Al: 0.004,
  Fe: 0.0045,
};

/** Weighing of the portion with the first balance, relative: 0.2 mg twice on 0.2 g. */
const weighingScatter = 0.00141;

/** Control results before the changes, with the new balance, and with the new spectrometer besides. */
const phases = [
  { first: '2025-06-30', daysApart: 5 },
  { first: changeDates.newBalance, daysApart: 3 },
  { first: changeDates.newSpectrometer, daysApart: 3 },
] as const;

const resultsBefore = 60;

/** What the control material shows on average, in the form the study reports: overlap included where it is switched on. */
export function controlTruth(analyte: Analyte, overlap: boolean): number {
  const feigned = overlap && analyte === 'Al' ? plantedEffects.zirconiumOnAluminium * controlContents.Zr : 0;
  return reportedForm(analyte, controlContents[analyte] + feigned);
}

/** The control chart's results: one digestion a date, three analytes. */
export function historyRecords(switches: ScenarioSwitches): HistoryRecord[] {
  return phases.flatMap(({ first, daysApart }, phase) => {
    const count = phase === 0 ? resultsBefore : switches.controlResultsAfter;
    return Array.from({ length: count }, (_, i) =>
      controlResults(
        switches,
        dateAfter(first, i * daysApart),
        `C${phase + 1}-${String(i + 1).padStart(2, '0')}`,
        phase,
      ),
    ).flat();
  });
}

function controlResults(
  { seed, overlap, repeatabilityFactor }: ScenarioSwitches,
  date: string,
  run: string,
  phase: number,
): HistoryRecord[] {
  const weighing = weighingScatter * (phase === 0 ? 1 : repeatabilityFactor);
  const draw = (relative: number, purpose: string) => drawNormal(seed, relative, ['history', run, purpose]);
  const shared =
    draw(trueComponents.digestionShared, 'shared') +
    draw(trueComponents.day, 'day') +
    draw(weighing, 'weighing');
  return controlAnalytes.map((analyte) => {
    const own =
      draw(trueComponents.digestionIndependent, `own|${analyte}`) +
      draw(measurementScatter[analyte], `measured|${analyte}`);
    const { unit } = analyteDesigns[analyte];
    return {
      date,
      run,
      material: controlMaterial,
      analyte,
      value: Number((controlTruth(analyte, overlap) * (1 + shared + own)).toFixed(unit === 'mg/kg' ? 1 : 3)),
      unit,
      equipment: equipmentPhases[phase]!,
    };
  });
}
