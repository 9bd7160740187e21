import { contentOfRatio } from '../../chain/calibration.js';
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
  return [...ofMaterials(run, figures), ...ofCheckSolution(context, run)];
}

function ofMaterials(run: OpenRun, { values }: RunFigures): HistoryRecord[] {
  const { scopes, run: name, day: date } = run.readings;
  const byMaterial = new Map<string, number[]>();
  run.signals.digestions.forEach(({ kind, sample }, d) => {
    if (kind !== 'reference') return;
    const places = byMaterial.get(sample);
    if (places === undefined) byMaterial.set(sample, [d]);
    else places.push(d);
  });
  return [...byMaterial].flatMap(([material, places]) => {
    const used = places.flatMap((d) => {
      const { portionBalance, vesselBalance } = run.signals.digestions[d]!;
      return [portionBalance, vesselBalance];
    });
    const equipment = [...new Set([run.index.spectrometer, ...used])];
    return scopes.flatMap(({ analyte, unit }, line): HistoryRecord[] => {
      const found = places
        .map((d) => values[d * scopes.length + line]!)
        .filter((value) => !Number.isNaN(value));
      if (found.length === 0) return [];
      return [{ date, run: name, material, analyte, value: mean(found), unit, equipment }];
    });
  });
}

function ofCheckSolution(context: StreamContext, run: OpenRun): HistoryRecord[] {
  const { scopes, places, counts, means, run: name, day: date } = run.readings;
  const material = context.records.plan.driftCheckSolution;
  const unit = context.records.plan.calibration.basis;
  const checks = places.flatMap(({ solution }, place) => (solution === material ? [place] : []));
  const equipment = [run.index.spectrometer];
  return scopes.flatMap(({ analyte }, line): HistoryRecord[] => {
    const calibration = run.signals.calibrations[line];
    const cells = checks.map((place) => place * scopes.length + line).filter((cell) => counts[cell]! > 0);
    if (calibration === undefined || cells.length === 0) return [];
    const value = mean(cells.map((cell) => contentOfRatio(calibration, means[cell]!)));
    return [{ date, run: name, material, analyte, value, unit, equipment }];
  });
}
