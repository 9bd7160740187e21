import { type Blank, type BlankAmount, fewestBlanks, procedureBlank } from '../chain/blank.js';
import { amountSources, type ResultObservation, resultAmount, resultValue } from '../chain/result-model.js';
import type { StudyRecords } from '../records/study-records.js';
import type { DigestionRecord } from '../records/tables/digestions.js';
import { measuredSolutions } from './measured-solutions.js';
import { observe } from './observations.js';
import { studyRecoveries } from './recovery/study-recoveries.js';
import { indexStudy, type StudyIndex, usable } from './study-index.js';
import { withoutExcludedRows } from './without-excluded-rows.js';

/** Result of one analyte of one digestion on the analyte's own line, from the first run it was read in. */
export interface DigestionResult {
  readonly digestion: string;
  readonly sample: string;
  readonly kind: DigestionRecord['kind'];
  readonly day: string;
  readonly analyte: string;
  readonly run: string;
  /** In the unit and oxide form of the plan; null for a blank, which has no portion. */
  readonly value: number | null;
  /** Analyte found in the solution, mg, blank not subtracted. */
  readonly amountMg: number;
  readonly observation: ResultObservation;
}

/** Blank of one analyte with the digestions left out of it. */
export interface BlankEvaluation {
  readonly analyte: string;
  /** Null with fewer than two usable blanks, three for a line: nothing is then subtracted. */
  readonly blank: Blank | null;
  readonly amounts: readonly BlankAmount[];
  readonly excluded: readonly string[];
}

/** All results of a study, computed from its records. */
export interface EvaluatedStudy {
  readonly index: StudyIndex;
  readonly blanks: ReadonlyMap<string, BlankEvaluation>;
  readonly results: readonly DigestionResult[];
}

/**
 * Every digestion × analyte of a study as a result, blanks first.
 *
 * @throws InputError records that the chain cannot combine, with digestion, run or solution named
 */
export function evaluateStudy(records: StudyRecords): EvaluatedStudy {
  const used = withoutExcludedRows(records);
  return evaluateIndex(indexStudy(used, measuredSolutions(used.readings)));
}

/**
 * The same for records that are indexed already, excluded rows left out. Recoveries that the plan asks for are worked out from the
 * uncorrected results first, unless the index holds them.
 */
export function evaluateIndex(index: StudyIndex): EvaluatedStudy {
  const { recovery = [] } = index.records.plan;
  if (recovery.length === 0 || index.recoveries !== undefined) return evaluated(index);
  const uncorrected = evaluated(index);
  return evaluated({ ...index, recoveries: studyRecoveries(index, uncorrected.results) });
}

function evaluated(index: StudyIndex): EvaluatedStudy {
  const { records } = index;
  const analytes = records.plan.analytes.map((scope) => scope.analyte);
  const blanks = new Map(analytes.map((analyte) => [analyte, evaluateBlank(index, analyte)]));
  const results = analytes.flatMap((analyte) =>
    records.digestions.flatMap((row) => {
      if (!usable(index, row.digestion, analyte)) return [];
      const observation = observe(index, row.digestion, analyte, blanks.get(analyte)!.blank);
      return observation === null ? [] : [digestionResult(row, observation)];
    }),
  );
  return { index, blanks, results };
}

function digestionResult(row: DigestionRecord, observation: ResultObservation): DigestionResult {
  const isBlank = row.crucibleWithPortionG === row.crucibleG;
  return {
    digestion: row.digestion,
    sample: row.sample,
    kind: row.kind,
    day: row.day,
    analyte: observation.analyte,
    run: observation.signals[0]!.calibration.run,
    value: isBlank ? null : resultValue(observation),
    amountMg: resultAmount(observation),
    observation,
  };
}

function evaluateBlank(index: StudyIndex, analyte: string): BlankEvaluation {
  const { plan, digestions } = index.records;
  const rows = digestions.filter((d) => d.kind === 'blank' && d.sample === plan.blanks.procedure);
  const excluded = rows.filter((d) => !usable(index, d.digestion, analyte)).map((d) => d.digestion);
  const amounts = rows.flatMap((d) => {
    if (excluded.includes(d.digestion)) return [];
    const observation = observe(index, d.digestion, analyte, null);
    return observation === null
      ? []
      : [
          {
            digestion: d.digestion,
            amountMg: resultAmount(observation),
            fluxG: d.fluxG,
            ...amountSources(observation),
          },
        ];
  });
  const { scaling } = plan.blank;
  return {
    analyte,
    blank: amounts.length < fewestBlanks(scaling) ? null : procedureBlank(amounts, scaling),
    amounts,
    excluded,
  };
}
