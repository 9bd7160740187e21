import { correlatedResult } from '../../chain/correlated-result.js';
import { massOnBasis } from '../../chain/mass-on-basis.js';
import { type ResultModel, type ResultObservation, resultModel } from '../../chain/result-model.js';
import { portionMass } from '../../chain/weighing.js';
import { InputError } from '../../errors.js';
import type { PlannedRecovery } from '../../records/study.js';
import type { StudyRecords } from '../../records/study-records.js';
import type { ReferenceRecord } from '../../records/tables/references.js';
import type { SpikeRecord } from '../../records/tables/spikes.js';
import { sumOfResults } from '../../uncertainty/correlated-results/combine-results.js';
import type { CorrelatedResult } from '../../uncertainty/correlated-results/correlated-result.js';
import { checkCertificate } from '../../validation/trueness/certificate.js';
import type { StudyIndex } from '../study-index.js';

/** What a recovery needs of the result of one digestion. */
export interface UncorrectedResult {
  readonly digestion: string;
  readonly sample: string;
  readonly kind: string;
  readonly day: string;
  readonly analyte: string;
  readonly value: number | null;
  readonly observation: ResultObservation;
}

/** Recovery found by one digestion, over its independent sources. */
export interface RecoveryRow {
  readonly key: string;
  readonly day: string;
  readonly value: number;
  readonly correlated: CorrelatedResult;
  /** The certificate or standard it is held against, and its relative standard uncertainty. */
  readonly reference: string;
  readonly referenceRelative: number;
}

/** Recoveries of one analyte with the models of the results behind them. */
export interface RecoveryExperiment {
  readonly rows: readonly RecoveryRow[];
  readonly observations: readonly ResultObservation[];
  /** In words. */
  readonly heldAgainst: string;
}

type Valued = UncorrectedResult & { readonly value: number };

/**
 * Recoveries by digestion: found over certified, or found less native over added.
 *
 * @throws InputError no result, or a certified value that the table references does not hold
 */
export function recoveryExperiment(
  index: StudyIndex,
  planned: PlannedRecovery,
  results: readonly UncorrectedResult[],
): RecoveryExperiment {
  const own = results.filter((r): r is Valued => r.analyte === planned.analyte && r.value !== null);
  const experiment =
    planned.from === 'reference materials'
      ? fromMaterials(index, planned, own)
      : fromAdditions(index, planned.analyte, own);
  if (experiment.rows.length === 0) {
    throw new InputError(
      `recovery of ${planned.analyte}: found no result from ${planned.from}, expected results of at least 2 days`,
    );
  }
  return experiment;
}

function fromMaterials(
  { records }: StudyIndex,
  { analyte, materials = [] }: PlannedRecovery,
  own: readonly Valued[],
): RecoveryExperiment {
  const { unit } = records.plan.analytes.find((a) => a.analyte === analyte)!;
  const used = own.filter((r) => r.kind === 'reference' && materials.includes(r.sample));
  for (const material of new Set(used.map((r) => r.sample))) {
    requireCertificate(
      records,
      analyte,
      used.filter((r) => r.sample === material),
    );
  }
  const rows = used.map((result): RecoveryRow => {
    const certified = certifiedValue(records, analyte, result.sample);
    const scale = certified.unit === unit ? 1 : unit === 'mg/kg' ? 1e4 : 1e-4;
    const term = { result: correlatedOf(result), coefficient: 1 / (certified.value * scale) };
    return {
      key: result.digestion,
      day: result.day,
      ...recovered(result.digestion, [term]),
      reference: `certificate ${certified.certificate} of ${result.sample}`,
      referenceRelative: certified.expandedUncertainty / certified.coverageFactor / certified.value,
    };
  });
  const heldAgainst = `against ${[...new Set(rows.map((row) => row.reference))].join(' and ')}`;
  return { rows, observations: used.map((r) => r.observation), heldAgainst };
}

function certifiedValue({ references }: StudyRecords, analyte: string, material: string): ReferenceRecord {
  const certified = references.find((r) => r.material === material && r.analyte === analyte);
  if (certified !== undefined) return certified;
  throw new InputError(
    `recovery of ${analyte}: found no certified value of ${material}, expected one in the table references`,
  );
}

/** What bars a verdict on trueness bars a correction too. */
function requireCertificate(records: StudyRecords, analyte: string, results: readonly Valued[]): void {
  const material = results[0]!.sample;
  const certified = certifiedValue(records, analyte, material);
  const days = results.map((r) => r.day).sort();
  const { faults } = checkCertificate({
    minimumPortionG: certified.minimumPortionG,
    smallestPortionG: Math.min(...results.map((r) => portionMass(r.observation.portion))),
    certifiedBasis: certified.basis,
    resultBasis: records.plan.basis,
    expiry: certified.expiry,
    lastUse: days.at(-1)!,
  });
  if (faults.length > 0) {
    throw new InputError(`recovery of ${analyte}: ${material} does not fit its use. ${faults.join(' ')}`);
  }
}

function fromAdditions({ records }: StudyIndex, analyte: string, own: readonly Valued[]): RecoveryExperiment {
  const spikes = records.spikes.filter((s) => s.analyte === analyte && s.stage === 'before fusion');
  // The additions come from one standard: the largest relative uncertainty is taken as common to all.
  const referenceRelative = Math.max(0, ...spikes.map((s) => s.standardUncertaintyMg / s.addedMg));
  const pairs = spikes.flatMap((spike) => pairOf(spike, own));
  return {
    rows: pairs.map(({ spike, spiked, partners }) => {
      const perResult = massPerResult(spiked.observation) / spike.addedMg;
      return {
        key: spiked.digestion,
        day: spiked.day,
        ...recovered(spiked.digestion, [
          { result: correlatedOf(spiked), coefficient: perResult },
          ...partners.map((p) => ({
            result: correlatedOf(p),
            coefficient: -perResult / partners.length,
          })),
        ]),
        reference: `additions of ${analyte}`,
        referenceRelative,
      };
    }),
    observations: pairs.flatMap(({ spiked, partners }) => [spiked, ...partners]).map((r) => r.observation),
    heldAgainst: 'against the amounts added before fusion',
  };
}

function pairOf(spike: SpikeRecord, own: readonly Valued[]) {
  const result = (digestion: string) => own.find((r) => r.digestion === digestion);
  const spiked = result(spike.digestion);
  const partners = spike.unspikedPartner.split('|').flatMap((name) => result(name) ?? []);
  return spiked === undefined || partners.length === 0 ? [] : [{ spike, spiked, partners }];
}

/** Analyte in the portion, mg, per unit of the result. */
function massPerResult({ basis, portion }: ResultObservation): number {
  const perMgPerG = basis.unit === 'mg/kg' ? 1000 : 0.1;
  const form = (basis.oxide?.factor ?? 1) * (basis.heterogeneity?.estimate ?? 1) * perMgPerG;
  return massOnBasis(portionMass(portion), basis.losses) / form;
}

/** The model of a result by components, nothing unexplained added: its scatter is observed. */
export function modelOf(observation: ResultObservation): ResultModel {
  return resultModel(observation, { route: 'components', unexplained: null });
}

function correlatedOf({ observation }: Valued): CorrelatedResult {
  return correlatedResult(observation, modelOf(observation));
}

function recovered(digestion: string, terms: Parameters<typeof sumOfResults>[2]) {
  const correlated = sumOfResults(`recovery by ${digestion}`, '1', terms);
  return { value: correlated.estimate, correlated };
}
