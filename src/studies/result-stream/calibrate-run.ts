import {
  type Calibration,
  type CalibrationPoint,
  calibrate,
  poolCalibrations,
} from '../../chain/calibration.js';
import { InputError } from '../../errors.js';
import type { CalibrationRecord } from '../../records/tables/calibration.js';
import type { RunReadings } from './run-readings.js';
import type { StreamContext } from './stream-context.js';

/** A place at which a standard was read, with its contents by analyte. */
interface StandardPlace {
  readonly place: number;
  readonly rows: ReadonlyMap<string, CalibrationRecord>;
}

/**
 * Calibrations of one run by line; none where the run has no standards of the analyte.
 * @throws InputError a standard without a content in the unit of the calibration; a calibration without fit
 */
export function calibrateRun(context: StreamContext, readings: RunReadings): (Calibration | undefined)[] {
  const { run, scopes } = readings;
  const standards = standardPlaces(context, readings);
  const calibrations: (Calibration | undefined)[] = [];
  for (let line = 0; line < scopes.length; line++) {
    const { analyte, lineNm, signalFloorMgPerKg: floor, signalRelative: relative } = scopes[line]!;
    const points = pointsOf(context, readings, standards, line);
    if (points.length === 0) {
      calibrations.push(undefined);
      continue;
    }
    const found = calibrate(run, analyte, lineNm, points, { floor, relative });
    calibrations.push(...poolCalibrations([found]));
  }
  return calibrations;
}

function standardPlaces(context: StreamContext, { run, places }: RunReadings): StandardPlace[] {
  const contents = new Map<string, Map<string, CalibrationRecord>>();
  for (const row of context.calibrationOf.get(run) ?? []) {
    const ofSolution = contents.get(row.solution);
    if (ofSolution === undefined) contents.set(row.solution, new Map([[row.analyte, row]]));
    else ofSolution.set(row.analyte, row);
  }
  const found: StandardPlace[] = [];
  for (let place = 0; place < places.length; place++) {
    const rows = contents.get(places[place]!.solution);
    if (rows !== undefined) found.push({ place, rows });
  }
  return found;
}

function pointsOf(
  context: StreamContext,
  { run, scopes, counts, means }: RunReadings,
  standards: readonly StandardPlace[],
  line: number,
): CalibrationPoint[] {
  const { basis } = context.records.plan.calibration;
  const { analyte } = scopes[line]!;
  const points: CalibrationPoint[] = [];
  for (const { place, rows } of standards) {
    const cell = place * scopes.length + line;
    const row = counts[cell]! > 0 ? rows.get(analyte) : undefined;
    if (row === undefined) continue;
    const { solution, standardUncertainty: preparationUncertainty } = row;
    const content = basis === 'mg/kg' ? row.massFractionMgPerKg : row.concentrationMgPerL;
    if (content === null) {
      throw new InputError(
        `calibration of ${analyte}, run ${run}, solution ${solution}: expected a content in ${basis}`,
      );
    }
    points.push({ solution, content, preparationUncertainty, ratio: means[cell]! });
  }
  return points;
}
