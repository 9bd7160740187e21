import { contentOfRatio } from '../../chain/calibration.js';
import { dilutionBalance } from '../../records/tables/dilutions.js';
import type { HistoryRecord } from '../../records/tables/history.js';
import { mean } from '../../statistics/descriptive/mean.js';
import type { RunFigures } from './evaluate-run.js';
import type { StreamContext } from './stream-context.js';
import type { OpenRun } from './template-store.js';

/**
 * Control results of one run: the mean of each reference material's digestions, and of the drift check solution as mass
 * fraction in the solution, which bears no drift correction.
 */
export function controlResults(context: StreamContext, run: OpenRun, figures: RunFigures): HistoryRecord[] {
  return [...ofMaterials(context, run, figures), ...ofCheckSolution(context, run)];
}

function ofMaterials(context: StreamContext, run: OpenRun, { values }: RunFigures): HistoryRecord[] {
  const { scopes, run: name, day: date } = run.readings;
  const results: HistoryRecord[] = [];
  for (const [material, places] of referenceMaterials(run)) {
    const equipment = equipmentOf(context, run, places);
    for (let line = 0; line < scopes.length; line++) {
      const found: number[] = [];
      for (const d of places) {
        const value = values[d * scopes.length + line]!;
        if (!Number.isNaN(value)) found.push(value);
      }
      if (found.length === 0) continue;
      const { analyte, unit } = scopes[line]!;
      results.push({ date, run: name, material, analyte, value: mean(found), unit, equipment });
    }
  }
  return results;
}

/** Digestions of each reference material. */
function referenceMaterials({ signals }: OpenRun): ReadonlyMap<string, readonly number[]> {
  const byMaterial = new Map<string, number[]>();
  signals.digestions.forEach(({ kind, sample }, d) => {
    if (kind !== 'reference') return;
    const places = byMaterial.get(sample);
    if (places === undefined) byMaterial.set(sample, [d]);
    else places.push(d);
  });
  return byMaterial;
}

/** Spectrometer, balances of the digestions and of their dilutions that were read in the run. */
function equipmentOf(
  { index }: StreamContext,
  { spectrometer, signals, readings }: OpenRun,
  digestions: readonly number[],
): string[] {
  const read = new Set(readings.places.map(({ solution }) => solution));
  const used = digestions.flatMap((d) => {
    const row = signals.digestions[d]!;
    const dilutions = (index.dilutionsOf.get(row.digestion) ?? []).filter((each) => read.has(each.dilution));
    return [
      row.portionBalance,
      row.vesselBalance,
      ...dilutions.map((dilution) => dilutionBalance(dilution, row)),
    ];
  });
  return [...new Set([spectrometer, ...used])];
}

function ofCheckSolution(context: StreamContext, run: OpenRun): HistoryRecord[] {
  const { scopes, places, run: name, day: date } = run.readings;
  const material = context.records.plan.driftCheckSolution;
  const unit = context.records.plan.calibration.basis;
  const checks = places.flatMap(({ solution }, place) => (solution === material ? [place] : []));
  const equipment = [run.spectrometer];
  const results: HistoryRecord[] = [];
  for (let line = 0; line < scopes.length; line++) {
    const contents = contentsOf(run, checks, line);
    if (contents.length === 0) continue;
    const { analyte } = scopes[line]!;
    results.push({ date, run: name, material, analyte, value: mean(contents), unit, equipment });
  }
  return results;
}

/** Contents of the check solutions by the calibration of a line; none where it has none. */
function contentsOf({ readings, signals }: OpenRun, checks: readonly number[], line: number): number[] {
  const { scopes, counts, means } = readings;
  const calibration = signals.calibrations[line];
  const contents: number[] = [];
  if (calibration === undefined) return contents;
  for (const place of checks) {
    const cell = place * scopes.length + line;
    if (counts[cell]! > 0) contents.push(contentOfRatio(calibration, means[cell]!));
  }
  return contents;
}
