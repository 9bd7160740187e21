import { resultValue } from '../../chain/result-model.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import { type CrucibleMemory, crucibleMemory } from '../../validation/stability/crucible-memory.js';
import { type SolutionStability, solutionStability } from '../../validation/stability/solution-stability.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { observe } from '../observations.js';
import { usable } from '../study-index.js';
import { criterionFor, hasContent, solidPerMg } from './matrix-context.js';

function inOrderOfWork(digestions: readonly DigestionRecord[]): DigestionRecord[] {
  return [...digestions].sort((a, b) => (a.day === b.day ? a.order - b.order : a.day < b.day ? -1 : 1));
}

/** By digestion: the one that its crucible held before, in the order of days and of work; none for the first of a crucible. */
export function previousInCrucible(digestions: readonly DigestionRecord[]): Map<string, DigestionRecord> {
  const last = new Map<string, DigestionRecord>();
  const before = new Map<string, DigestionRecord>();
  for (const row of inOrderOfWork(digestions)) {
    const previous = last.get(row.crucible);
    if (previous !== undefined) before.set(row.digestion, previous);
    last.set(row.crucible, row);
  }
  return before;
}

/** What a crucible hands on from a rich sample to the next digestion, for every analyte. */
export function memoryStudy(study: EvaluatedStudy): CrucibleMemory[] {
  const { records } = study.index;
  const { plan } = records;
  const memory = inOrderOfWork(records.digestions).filter(
    (d) => d.kind === 'blank' && d.sample === plan.blanks.memory,
  );
  const before = previousInCrucible(records.digestions);
  return plan.analytes.flatMap(({ analyte, unit }) => {
    const find = (digestion: string) =>
      study.results.find((r) => r.digestion === digestion && r.analyte === analyte);
    const rows = memory.flatMap((d) => {
      const found = find(d.digestion);
      const after = before.get(d.digestion);
      return found === undefined || after === undefined
        ? []
        : [
            {
              key: d.digestion,
              crucible: d.crucible,
              after: after.digestion,
              value: found.amountMg * solidPerMg(study, analyte),
            },
          ];
    });
    const ordinary = study.blanks
      .get(analyte)!
      .amounts.map((a) => ({ key: a.digestion, value: a.amountMg * solidPerMg(study, analyte) }));
    const rich = rows.flatMap((r) => find(r.after)?.value ?? []);
    if (rows.length < 2 || ordinary.length < 2 || !hasContent(rich.map((value) => ({ value })))) return [];
    const level = [...new Set(rows.map((r) => study.index.digestions.get(r.after)!.sample))].join(', ');
    return [
      crucibleMemory(rows, ordinary, {
        analyte,
        level,
        unit,
        criterion: criterionFor(plan, 'crucible memory', analyte, level),
        richMassFraction: rich.reduce((a, b) => a + b, 0) / rich.length,
      }),
    ];
  });
}

/** How long solutions keep: the digestions named in the plan, read again in later runs. */
export function stabilityStudy(study: EvaluatedStudy): SolutionStability[] {
  const { plan } = study.index.records;
  const stability = plan.stability;
  if (stability === null) return [];
  return plan.analytes.flatMap(({ analyte, unit, lineNm }) => {
    const followed = stability.digestions
      .filter((digestion) => usable(study.index, digestion, analyte))
      .map((digestion) => rereadings(study, digestion, analyte, lineNm));
    const runs = new Set(followed.flat().map((r) => r.run));
    // A change is judged on the same digestions at every time: one that was missed in a run is left out whole.
    const complete = followed.filter((own) => own.length === runs.size);
    const readings = complete.flat();
    if (runs.size < 2 || complete.length === 0 || readings.some((r) => r.value <= 0)) return [];
    const start = Math.min(...readings.map((r) => r.timeHours));
    // Digestions of one run are minutes apart; they count as one time.
    const hoursOfRun = new Map<string, number>();
    for (const r of readings) {
      const hours = Math.round(r.timeHours - start);
      hoursOfRun.set(r.run, Math.min(hoursOfRun.get(r.run) ?? hours, hours));
    }
    const rows = readings.map((r) => ({ key: r.digestion, hours: hoursOfRun.get(r.run)!, value: r.value }));
    return [
      solutionStability(rows, {
        analyte,
        level: [...new Set(readings.map((r) => study.index.digestions.get(r.digestion)!.sample))]
          .sort()
          .join(', '),
        unit,
        criterion: criterionFor(plan, 'solution stability', analyte, '*'),
        allowedChangePercent: stability.allowedChangePercent,
        sharedStandardUncertaintyPercent: calibrationPercent(study, readings[0]!.digestion, analyte),
      }),
    ];
  });
}

function rereadings(study: EvaluatedStudy, digestion: string, analyte: string, lineNm: number) {
  const solutions = [digestion, ...(study.index.dilutionsOf.get(digestion) ?? []).map((d) => d.dilution)];
  const measured = solutions.flatMap((s) => study.index.bySolution.get(`${s}|${analyte}|${lineNm}`) ?? []);
  return [...new Set(measured.map((m) => m.run))].flatMap((run) => {
    const observation = observe(study.index, digestion, analyte, study.blanks.get(analyte)!.blank, { run });
    const at = measured.find((m) => m.run === run)!.timeHours;
    return observation === null ? [] : [{ digestion, run, timeHours: at, value: resultValue(observation) }];
  });
}

/** Standard uncertainty, %, of a change between two runs that their two calibrations bring to all digestions alike. */
function calibrationPercent(study: EvaluatedStudy, digestion: string, analyte: string): number {
  const observation = observe(study.index, digestion, analyte, null);
  const signal = observation?.signals[0];
  if (signal === undefined) return 0;
  const { calibration } = signal;
  const content = (signal.meanRatio / signal.drift.factor - calibration.intercept) / calibration.slope;
  const variance =
    calibration.varianceIntercept +
    content ** 2 * calibration.varianceSlope +
    2 * content * calibration.covariance;
  return (100 * Math.SQRT2 * Math.sqrt(variance)) / (calibration.slope * content);
}
