import type { Balance } from '../chain/balance.js';
import { resultModel } from '../chain/result-model.js';
import type { InternalStandardAddition, KnownInternalStandard } from '../chain/solution/internal-standard.js';
import { InputError } from '../errors.js';
import type { EquipmentRecord } from '../records/study.js';
import type { StudyRecords } from '../records/study-records.js';
import type { HistoryRecord } from '../records/tables/history.js';
import type { Budget, BudgetLine } from '../uncertainty/budget.js';
import { makeBudget } from '../uncertainty/make-budget.js';
import { propagate } from '../uncertainty/propagate.js';
import { targetUncertainty } from '../validation/acceptance/target-uncertainty.js';
import { type ControlComparison, controlComparison } from '../validation/change/control-comparison.js';
import type { Finding } from '../validation/finding.js';
import { type AffectedCharacteristic, affectedCharacteristics } from './affected-characteristics.js';
import { type CertificateGap, certificateGaps } from './certificate-gaps.js';
import { withoutControls } from './controls-missing.js';
import { portionWeighingFinding } from './matrix/acceptance-study.js';
import { type BudgetConditions, budgetConditions } from './matrix/budget-conditions.js';
import { type LevelBudget, medianResult, unexplainedVariation } from './matrix/budget-study.js';
import { criterionFor } from './matrix/matrix-context.js';
import type { MatrixValidation } from './matrix/validate-matrix.js';

/** One budget before and after, by the components of the chain: only they show what a piece of equipment contributes. */
export interface BudgetChange {
  readonly analyte: string;
  readonly level: string;
  /** What the budget does not hold, as the validation found it; null where there is nothing. */
  readonly outsideBudget: string | null;
  readonly before: Budget;
  readonly after: Budget;
  /** Inputs whose contribution differs, in order of the change. */
  readonly changed: readonly {
    readonly name: string;
    readonly before: BudgetLine;
    readonly after: BudgetLine;
  }[];
  /** Inputs that do not depend on the equipment; their contributions are equal to the bit. */
  readonly untouched: number;
}

/** What changes with an exchange of a balance, and what its control results show. */
export interface EquipmentChange {
  readonly replaced: EquipmentRecord;
  readonly replacement: EquipmentRecord;
  readonly budgets: readonly BudgetChange[];
  readonly controls: readonly {
    readonly analyte: string;
    readonly comparison: ControlComparison;
    readonly before: readonly HistoryRecord[];
    readonly after: readonly HistoryRecord[];
  }[];
  readonly affected: readonly AffectedCharacteristic[];
  /** Reasons that block the use of the replacement whatever the figures say, such as an overdue calibration. */
  readonly blocked: readonly string[];
  /** Control results compared here that are older than the calibration in the register. */
  readonly certificateGaps: readonly CertificateGap[];
  readonly findings: readonly Finding[];
}

/**
 * A balance or spectrometer replaced: budgets before and after, control results before and after, what must be shown
 * again. Only a balance brings its contributions with its certificate; those of a spectrometer are evaluated from its own
 * readings, so its budgets follow once it has been validated.
 *
 * @param replaced identifier of the equipment taken out, `replacement` of that put in its place
 * @throws InputError an identifier that the register does not hold, the same one twice, or two of different kinds
 * @see ISO/IEC 17025:2017, 6.4.4 and 7.2.2.2
 */
export function equipmentChange(
  validation: MatrixValidation,
  replaced: string,
  replacement: string,
): EquipmentChange {
  const { records } = validation.study.index;
  const before = equipmentOf(records, 'replacedEquipment', replaced);
  const after = equipmentOf(records, 'replacementEquipment', replacement);
  if (before.id === after.id) {
    throw new InputError(
      `replacementEquipment: found ${replacement}, which is the one that is replaced; expected another of the register (--set replacementEquipment=…)`,
    );
  }
  if (before.kind !== after.kind) {
    throw new InputError(
      `equipment ${replacement}: found a ${after.kind}, expected a ${before.kind} like ${replaced}`,
    );
  }
  const isBalance = before.balance !== undefined && after.balance !== undefined;
  const budgets = isBalance ? validation.budgets.map((b) => budgetChange(validation, b, before, after)) : [];
  const controls = controlsOf(records, replaced, replacement);
  // What a budget rests on that is itself open does not leave with the balance.
  const conditions = budgetConditions(validation.findings);
  const compared = [...new Set(controls.map((c) => c.analyte))];
  const targets = budgets.map((b) => targetFinding(records, b, conditions));
  return {
    replaced: before,
    replacement: after,
    budgets,
    controls,
    affected: affectedCharacteristics(before.kind, {
      compared,
      notCompared: records.plan.analytes
        .map((scope) => scope.analyte)
        .filter((analyte) => !compared.includes(analyte)),
    }),
    blocked: blockedBy(
      after,
      controls.flatMap((c) => c.after),
    ),
    certificateGaps: certificateGaps(
      records.equipment,
      controls.flatMap((c) => [...c.before, ...c.after]),
    ),
    findings: [
      ...(isBalance ? [portionWeighingFinding(records, after)] : []),
      ...targets,
      ...controls.flatMap(({ comparison }) => [comparison.shift, comparison.precision]),
      ...withoutControls(records, { replaced, replacement }, compared),
    ],
  };
}

/** @param parameter of notebook 50 that names it, for one who left the value of the demonstration study */
function equipmentOf(records: StudyRecords, parameter: string, id: string): EquipmentRecord {
  const found = records.equipment.find((e) => e.id === id);
  if (found === undefined) {
    const known = records.equipment.map((e) => e.id).join(', ');
    throw new InputError(
      `${parameter}: found ${id}, expected one of the register: ${known} (--set ${parameter}=…)`,
    );
  }
  return found;
}

function budgetChange(
  validation: MatrixValidation,
  level: LevelBudget,
  replaced: EquipmentRecord,
  replacement: EquipmentRecord,
): BudgetChange {
  const { study } = validation;
  const { plan } = study.index.records;
  const sample = plan.levels.find((l) => l.level === level.level)!.sample;
  const { observation } = medianResult(study, level.analyte, sample);
  const swap = (balance: Balance): Balance =>
    balance.id === replaced.id
      ? { id: replacement.id, certificate: replacement.certificate, specification: replacement.balance! }
      : balance;
  const swapDose = (dose: InternalStandardAddition | null) =>
    dose === null ? null : { ...dose, balance: swap(dose.balance) };
  const swapInDilution = (added: KnownInternalStandard['inDilution']) =>
    added === 'all diluent' ? added : swapDose(added);
  const swapped = {
    ...observation,
    signals: observation.signals.map((signal) =>
      signal.internalStandard == null
        ? signal
        : {
            ...signal,
            internalStandard: {
              ...signal.internalStandard,
              inDigestion: swapDose(signal.internalStandard.inDigestion),
              inDilution: swapInDilution(signal.internalStandard.inDilution),
            },
          },
    ),
    portion: { ...observation.portion, balance: swap(observation.portion.balance) },
    solution: {
      ...observation.solution,
      vesselBalance: swap(observation.solution.vesselBalance),
      crucibleBalance: swap(observation.solution.crucibleBalance),
    },
    dilutions: Object.fromEntries(
      Object.entries(observation.dilutions).map(([name, d]) => [name, { ...d, balance: swap(d.balance) }]),
    ),
  };
  const unexplained = unexplainedVariation(level.scatter, 'records with the equipment replaced');
  const budgetOf = (o: typeof observation) => {
    const { model, inputs, correlations } = resultModel(
      o,
      { route: 'components', unexplained },
      plan.resultRule.digestions,
    );
    return makeBudget(propagate(model, inputs, correlations), 'w');
  };
  return {
    analyte: level.analyte,
    level: level.level,
    outsideBudget: level.outsideBudget,
    ...compareBudgets(budgetOf(observation), budgetOf(swapped)),
  };
}

function compareBudgets(before: Budget, after: Budget) {
  const pairs = before.lines.flatMap((line) => {
    const other = after.lines.find((l) => l.input.name === line.input.name);
    return other === undefined ? [] : [{ name: line.input.name, before: line, after: other }];
  });
  const changed = pairs.filter((p) => p.before.contribution !== p.after.contribution);
  const size = (p: (typeof pairs)[number]) =>
    Math.abs(p.after.contribution ** 2 - p.before.contribution ** 2);
  return {
    before,
    after,
    changed: changed.sort((a, b) => size(b) - size(a)),
    untouched: pairs.length - changed.length,
  };
}

function targetFinding(
  records: StudyRecords,
  { analyte, level, after, outsideBudget }: BudgetChange,
  conditions: BudgetConditions,
): Finding {
  return targetUncertainty({
    analyte,
    level,
    unit: after.unit,
    criterion: criterionFor(records.plan, 'target uncertainty', analyte, level),
    result: after.estimate,
    expandedUncertainty: after.expandedUncertainty,
    coverageFactor: after.coverageFactor,
    coverageProbability: after.coverageProbability,
    effectiveDegreesOfFreedom: after.effectiveDegreesOfFreedom,
    unresolvedBias: outsideBudget,
    conditions: conditions(analyte, after),
    rows: [
      {
        table: 'equipment',
        keys: after.lines
          .flatMap((l) => l.input.equipment ?? [])
          .filter((id, i, all) => all.indexOf(id) === i),
      },
    ],
  });
}

/** Control results of each analyte and material with the one balance and, else with the same equipment, with the other. */
function controlsOf(
  records: StudyRecords,
  replaced: string,
  replacement: string,
): EquipmentChange['controls'] {
  const set = (row: HistoryRecord, without: string) =>
    row.equipment
      .filter((id) => id !== without)
      .sort()
      .join('|');
  const after = records.history.filter(
    (r) => r.equipment.includes(replacement) && !r.equipment.includes(replaced),
  );
  return controlled(after).flatMap(({ analyte, material, own }) => {
    // Later changes of other equipment must not count as effects of this one.
    const rest = set(own[0]!, replacement);
    const later = own.filter((r) => set(r, replacement) === rest);
    const earlier = records.history.filter(
      (r) =>
        r.analyte === analyte &&
        r.material === material &&
        r.equipment.includes(replaced) &&
        set(r, replaced) === rest,
    );
    if (earlier.length < 2 || later.length < 2) return [];
    const comparison = controlComparison(earlier.map(rowOf), later.map(rowOf), {
      analyte,
      level: material,
      unit: later[0]!.unit,
      shiftCriterion: criterionFor(records.plan, 'shift after change', analyte, material),
      precisionCriterion: criterionFor(records.plan, 'precision after change', analyte, material),
    });
    return [{ analyte, comparison, before: earlier, after: later }];
  });
}

/** Analyte by analyte, each with its materials: what two of them hold is no shift. */
function controlled(rows: readonly HistoryRecord[]) {
  return [...new Set(rows.map((r) => r.analyte))].flatMap((analyte) => {
    const ofAnalyte = rows.filter((r) => r.analyte === analyte);
    return [...new Set(ofAnalyte.map((r) => r.material))].map((material) => ({
      ...{ analyte, material },
      own: ofAnalyte.filter((r) => r.material === material),
    }));
  });
}

function rowOf(row: HistoryRecord) {
  return { key: `${row.run}|${row.material}|${row.analyte}`, value: row.value };
}

function blockedBy(equipment: EquipmentRecord, after: readonly HistoryRecord[]): string[] {
  const late = after.filter((r) => r.date > equipment.dueOn);
  return late.length === 0
    ? []
    : [`${equipment.id} was used on ${late[0]!.date}; its calibration was due on ${equipment.dueOn}`];
}
