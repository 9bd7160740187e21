import { blankMass } from '../../chain/blank.js';
import { portionMass } from '../../chain/weighing.js';
import type { StudyRecords } from '../../records/study-records.js';
import type { UnspikedRow } from '../../validation/trueness/shared-partners.js';
import {
  type SpikeRecovery,
  type SpikeStage,
  spikeRecovery,
} from '../../validation/trueness/spike-recovery.js';
import type { SpikeRow } from '../../validation/trueness/spike-row.js';
import { type Trueness, trueness } from '../../validation/trueness/trueness.js';
import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import { criterionFor, resultRows, resultsOf } from './matrix-context.js';

/** Bias of every analyte against every reference material that certifies it. */
export function truenessStudy(study: EvaluatedStudy): Trueness[] {
  const { records } = study.index;
  return records.plan.analytes.flatMap(({ analyte, unit }) =>
    records.references
      .filter((r) => r.analyte === analyte)
      .flatMap((reference) => {
        const results = resultsOf(study, analyte, 'reference', reference.material);
        if (results.length === 0) return [];
        // Certificates may state g/100 g where the plan reports mg/kg, or the other way round.
        const scale = reference.unit === unit ? 1 : unit === 'mg/kg' ? 1e4 : 1e-4;
        return [
          trueness(resultRows(study, results), {
            analyte,
            level: reference.material,
            unit,
            criterion: criterionFor(records.plan, 'trueness', analyte, reference.material),
            certified: {
              material: reference.material,
              value: reference.value * scale,
              standardUncertainty: (reference.expandedUncertainty / reference.coverageFactor) * scale,
              use: {
                minimumPortionG: reference.minimumPortionG,
                smallestPortionG: Math.min(...results.map((r) => portionMass(r.observation.portion))),
                certifiedBasis: reference.basis,
                resultBasis: records.plan.basis,
                expiry: reference.expiry,
                lastUse: results
                  .map((r) => r.day)
                  .sort()
                  .at(-1)!,
                ...recoveryBehind(study, analyte, reference.material),
              },
            },
          }),
        ];
      }),
  );
}

/** The recovery that this material's results gave, where the plan takes it from there. */
function recoveryBehind(study: EvaluatedStudy, analyte: string, material: string) {
  const found = study.index.recoveries?.get(analyte);
  if (found === undefined || found.planned.materials?.includes(material) !== true) return {};
  return { recovery: { value: found.mean, applied: found.applied } };
}

/** Recovery of additions, by analyte and stage. Amounts are not corrected for recovery: a note says so where results are. */
export function recoveryStudy(study: EvaluatedStudy): SpikeRecovery[] {
  const { records } = study.index;
  const stages: readonly SpikeStage[] = ['before fusion', 'after dissolution'];
  return records.plan.analytes.flatMap(({ analyte }) =>
    stages.flatMap((stage) => {
      const rows = records.spikes
        .filter((s) => s.analyte === analyte && s.stage === stage)
        .flatMap((s) => spikeRow(study, s) ?? []);
      const unspiked = unspikedRows(study, analyte, rows);
      if (rows.length === 0) return [];
      const level = [...new Set(rows.map((r) => study.index.digestions.get(r.key)!.sample))].join(', ');
      const criterion = criterionFor(records.plan, `recovery ${stage}`, analyte, level);
      const notes = correctionNotes(study, analyte, stage);
      return [spikeRecovery(rows, { analyte, level, stage, criterion, unspiked, notes })];
    }),
  );
}

function correctionNotes(study: EvaluatedStudy, analyte: string, stage: SpikeStage): string[] {
  const found = study.index.recoveries?.get(analyte);
  if (found === undefined) return [];
  const own = found.planned.from === `additions ${stage}`;
  const source = own ? 'these additions' : found.planned.from;
  if (!found.applied)
    return [
      `A recovery was taken from ${source}; it does not differ significantly from 1 and corrects nothing.`,
    ];
  return [
    `Results of ${analyte} are divided by the recovery ${found.mean.toPrecision(5)} from ${source}. What is judged here is the recovery before that correction${own ? '; nothing independent shows the recovery after it' : ''}.`,
  ];
}

/** Found and unspiked amounts on the portion as weighed, so that moisture cancels. */
function spikeRow(study: EvaluatedStudy, spike: StudyRecords['spikes'][number]) {
  const result = (digestion: string) =>
    study.results.find((r) => r.digestion === digestion && r.analyte === spike.analyte);
  const spiked = result(spike.digestion);
  const partners = spike.unspikedPartner.split('|').flatMap((name) => result(name) ?? []);
  if (spiked === undefined || partners.length === 0) return null;
  const contents = partners.map(netMgPerKg);
  return {
    key: spike.digestion,
    partners: partners.map((p) => p.digestion),
    day: spiked.day,
    foundMg: netMg(spiked),
    unspikedMgPerKg: contents.reduce((sum, w) => sum + w, 0) / contents.length,
    portionG: portionMass(spiked.observation.portion),
    addedMg: spike.addedMg,
    addedStandardUncertaintyMg: spike.standardUncertaintyMg,
  };
}

/** All digestions without addition of the samples that were spiked, as weighed. */
function unspikedRows(study: EvaluatedStudy, analyte: string, rows: readonly SpikeRow[]): UnspikedRow[] {
  const samples = new Set(rows.map((row) => study.index.digestions.get(row.key)!.sample));
  const spiked = new Set(study.index.records.spikes.map((spike) => spike.digestion));
  return study.results
    .filter((r) => r.analyte === analyte && samples.has(r.sample) && !spiked.has(r.digestion))
    .map((r) => ({ key: r.digestion, day: r.day, sample: r.sample, value: netMgPerKg(r) }));
}

function netMgPerKg(result: DigestionResult): number {
  return (1000 * netMg(result)) / portionMass(result.observation.portion);
}

function netMg(result: DigestionResult): number {
  const { blank, fluxG, fluxLot } = result.observation;
  return result.amountMg - (blank === null ? 0 : blankMass(blank, fluxG, fluxLot));
}
