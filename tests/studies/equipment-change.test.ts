import { beforeAll, describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../src/records/study-records.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { equipmentChange } from '../../src/studies/equipment-change.js';
import { type MatrixValidation, validateMatrix } from '../../src/studies/matrix/validate-matrix.js';
import { characteristics } from '../../src/validation/characteristic.js';

const seed = 20260302;
const verdicts = (findings: readonly { characteristic: string; verdict: string }[], name: string) =>
  findings.filter((f) => f.characteristic === name).map((f) => f.verdict);

describe('an equipment change', () => {
  let records: StudyRecords;
  let validation: MatrixValidation;
  beforeAll(() => {
    records = zirconPigmentStudy({ seed, overlap: false }).records;
    validation = validateMatrix(records);
  });

  /** The study as if the new balance were the old one, with its control results too. */
  const unchanged = (): StudyRecords => {
    const old = records.equipment.find((e) => e.id === 'BAL-1')!;
    const equipment = records.equipment.map((e) => (e.id === 'BAL-3' ? { ...e, balance: old.balance! } : e));
    const before = records.history.filter((r) => r.equipment.includes('BAL-1'));
    const repeated = before.map((r) => ({
      ...r,
      run: `${r.run}-again`,
      equipment: r.equipment.map((id) => (id === 'BAL-1' ? 'BAL-3' : id)),
    }));
    return { ...records, equipment, history: [...before, ...repeated] };
  };

  it('that changes nothing is met, every contribution equal to the bit', () => {
    const change = equipmentChange(validateMatrix(unchanged()), 'BAL-1', 'BAL-3');
    // Analytes without control results have no comparison, whatever the change.
    const compared = change.findings.filter((f) => f.verdict !== 'not studied');
    expect(new Set(compared.map((f) => f.verdict))).toEqual(new Set(['met']));
    expect(change.findings.length).toBeGreaterThan(25);
    for (const budget of change.budgets) {
      expect(budget.changed).toEqual([]);
      expect(budget.after.standardUncertainty).toBe(budget.before.standardUncertainty);
    }
  });

  it('reaches the balance that an internal standard was weighed on', () => {
    const { internalStandard } = records.plan;
    const solution = {
      massFractionMgPerKg: 500,
      relativeStandardUncertainty: 0.002,
      densityGPerML: 1,
      source: 'Sc 500',
    };
    const added = validateMatrix({
      ...records,
      plan: {
        ...records.plan,
        internalStandard: { ...internalStandard, mode: 'added to the digestion', solution },
      },
      digestions: records.digestions.map((d) => ({
        ...d,
        internalStandardG: internalStandard.doseMgPerKg / 5,
      })),
    });
    const { budgets } = equipmentChange(added, 'BAL-1', 'BAL-3');
    const weighings = (of: 'before' | 'after') =>
      budgets.flatMap(({ [of]: { lines } }) => lines.filter((l) => l.input.name.startsWith('lin_is')));
    expect(new Set(weighings('before').map((l) => l.input.equipment))).toEqual(new Set(['BAL-1']));
    expect(new Set(weighings('after').map((l) => l.input.equipment))).toEqual(new Set(['BAL-3']));
    // One balance keeps one sensitivity: it cancels between the portion and the dose.
    const sensitivities = budgets.map(({ after }) =>
      after.lines.filter((l) => l.input.equipment === 'BAL-3' && l.input.name.startsWith('S_')),
    );
    expect(new Set(sensitivities.map((lines) => lines.length))).toEqual(new Set([1]));
  });

  it('compares each control material with itself', () => {
    const alone = equipmentChange(validation, 'BAL-1', 'BAL-3');
    // A second material of half the content, controlled in the same runs: as `meltbook history` writes them.
    const second = records.history.map((r) => ({ ...r, material: 'QCM-F3', value: r.value / 2 }));
    const both = { ...records, history: [...records.history, ...second] };
    const { controls, findings, affected } = equipmentChange(validateMatrix(both), 'BAL-1', 'BAL-3');
    const of = (material: string) => controls.filter(({ after }) => after[0]!.material === material);
    expect(alone.controls.length).toBeGreaterThan(0);
    expect(of('QCM-F2')).toEqual(alone.controls);
    const other = of('QCM-F3');
    expect(other.map((c) => c.analyte)).toEqual(alone.controls.map((c) => c.analyte));
    for (const [i, { comparison }] of other.entries()) {
      const own = alone.controls[i]!.comparison;
      expect(comparison.shift.level).toBe('QCM-F3');
      expect(comparison.difference).toAgreeWithin(own.difference / 2, 1e-9);
      expect(comparison.after.standardDeviation).toAgreeWithin(own.after.standardDeviation / 2, 1e-9);
    }
    expect(affected).toEqual(alone.affected);
    const open = (all: typeof findings) => all.filter((f) => f.verdict === 'not studied');
    expect(open(findings)).toEqual(open(alone.findings));
  });

  it('is reported on the day of the exchange too, when no control result is there yet', () => {
    const without = (history: StudyRecords['history']) =>
      equipmentChange(validateMatrix({ ...records, history }), 'BAL-1', 'BAL-3').findings;
    const before = records.history.filter((r) => r.equipment.includes('BAL-1'));
    const names = ['shift after change', 'precision after change'];
    for (const [history, analytes] of [
      [[], ['*']],
      [before, [...new Set([...before, ...records.plan.analytes].map((r) => r.analyte))]],
    ] as const) {
      const open = without(history).filter((f) => names.includes(f.characteristic));
      expect(open.map((f) => f.verdict)).toEqual(open.map(() => 'not studied'));
      expect(open.map((f) => f.analyte)).toEqual(analytes.flatMap((a) => [a, a]));
      const rows = history.filter((r) => r.analyte === analytes[0]);
      // The first analyte is Zr, which was controlled on the balance taken out.
      for (const finding of open.slice(0, 2)) {
        expect(finding.reason).toContain(`${rows.length} control results before and 0 after the exchange`);
        expect(finding.reason).toContain('a verdict needs at least 8 on each');
      }
    }
  });

  it('says how many control results a shift takes by the scatter before it, as many as a comparison then asks for', () => {
    const zr = records.history.filter((r) => r.analyte === 'Zr' && r.equipment.includes('BAL-1'));
    const centre = zr.reduce((sum, r) => sum + r.value, 0) / zr.length;
    // Ten times the scatter: more than the 8 on each side that every verdict needs.
    const before = zr.map((r) => ({ ...r, value: centre + 10 * (r.value - centre) }));
    const again = before.map((r) => ({
      ...r,
      run: `${r.run}-again`,
      equipment: r.equipment.map((id) => (id === 'BAL-1' ? 'BAL-3' : id)),
    }));
    const changeWith = (history: StudyRecords['history']) =>
      equipmentChange(validateMatrix({ ...records, history }), 'BAL-1', 'BAL-3');
    const needed = changeWith([...before, ...again]).controls[0]!.comparison.resultsNeeded!;
    expect(needed).toBeGreaterThan(8);
    const open = changeWith(before).findings.filter((f) => f.verdict === 'not studied');
    const [shift, precision] = open.filter((f) => f.analyte === 'Zr');
    expect(shift!.reason).toContain(`about ${needed} on each side show an unchanged mean with 90 % power`);
    expect(precision!.reason).not.toContain('unchanged mean');
  });

  it('that triples the repeatability of the balance is not met, and moves the inputs of the balance alone', () => {
    const tripled = validateMatrix(
      zirconPigmentStudy({ seed, newBalance: { repeatabilityFactor: 3 } }).records,
    );
    const change = equipmentChange(tripled, 'BAL-1', 'BAL-3');
    expect(verdicts(change.findings, 'weighing of the portion')).toEqual(['not met']);
    for (const { before, after, changed, untouched } of change.budgets) {
      expect(changed.map((c) => c.name).sort()).toEqual(['rep_c', 'rep_cp']);
      expect(untouched).toBe(before.lines.length - 2);
      expect(after.standardUncertainty).toBeGreaterThan(before.standardUncertainty);
      for (const line of before.lines.filter((l) => l.input.equipment !== 'BAL-1')) {
        expect(after.lines.find((l) => l.input.name === line.input.name)!.contribution).toBe(
          line.contribution,
        );
      }
    }
  });

  it('with three control results only is not shown, and says how many are needed', () => {
    const few = validateMatrix(zirconPigmentStudy({ seed, controlResultsAfter: 3 }).records);
    const { findings: all } = equipmentChange(few, 'BAL-1', 'BAL-3');
    const findings = all.filter((f) => ['Zr', 'Al', 'Fe'].includes(f.analyte));
    expect(new Set(verdicts(findings, 'shift after change'))).toEqual(new Set(['not shown']));
    expect(new Set(verdicts(findings, 'precision after change'))).toEqual(new Set(['not shown']));
    expect(findings.find((f) => f.characteristic === 'shift after change')!.reason).toContain(
      'Found 60 control results before and 3 after',
    );
  });

  it('is blocked while the certificate of the replacement is overdue', () => {
    const equipment = records.equipment.map((e) => (e.id === 'BAL-3' ? { ...e, dueOn: '2026-05-20' } : e));
    const { blocked } = equipmentChange(validateMatrix({ ...records, equipment }), 'BAL-1', 'BAL-3');
    expect(blocked[0]).toContain('its calibration was due on 2026-05-20');
    expect(equipmentChange(validation, 'BAL-1', 'BAL-3').blocked).toEqual([]);
  });

  it('of the spectrometer asks for other characteristics, and takes no contribution from a certificate', () => {
    const change = equipmentChange(validation, 'ICP-1', 'ICP-2');
    const again = (name: string) => change.affected.find((a) => a.characteristic === name)!.again;
    expect([again('interference check'), again('weighing of the portion')]).toEqual([true, false]);
    expect(change.budgets).toEqual([]);
    expect(change.controls.length).toBe(3);
  });

  it('lists every characteristic, and says for which analytes control results show it', () => {
    for (const [one, other] of [
      ['BAL-1', 'BAL-3'],
      ['ICP-1', 'ICP-2'],
    ] as const) {
      const { affected } = equipmentChange(validation, one, other);
      expect(affected.map((a) => a.characteristic).sort()).toEqual([...characteristics].sort());
      const trueness = affected.find((a) => a.characteristic === 'trueness')!;
      expect(trueness.again).toBe(true);
      // The demonstration study controls three of its eight analytes.
      expect(trueness.controls).toEqual({
        compared: ['Zr', 'Al', 'Fe'],
        notCompared: ['Si', 'Pr', 'Hf', 'Ti', 'Ca'],
      });
    }
  });

  it('claims nothing of equipment whose part in the method it does not know', () => {
    const furnace = { ...records.equipment.find((e) => e.kind === 'furnace')!, id: 'FUS-3' };
    const equipment = [...records.equipment, furnace];
    const { affected } = equipmentChange(validateMatrix({ ...records, equipment }), 'FUS-2', 'FUS-3');
    expect(new Set(affected.map((a) => a.again))).toEqual(new Set([true]));
    expect(affected[0]!.reason).toContain('what rests on a furnace is for the owner of the method to say');
  });

  it('gives an analyte without control results a finding of its own', () => {
    const { findings } = equipmentChange(validation, 'BAL-1', 'BAL-3');
    const open = findings.filter((f) => f.verdict === 'not studied');
    expect(open.map((f) => [f.analyte, f.characteristic])).toEqual(
      ['Si', 'Pr', 'Hf', 'Ti', 'Ca'].flatMap((analyte) => [
        [analyte, 'shift after change'],
        [analyte, 'precision after change'],
      ]),
    );
    expect(new Set(open.map((f) => f.reason))).toEqual(
      new Set(['Not studied: no control results of this analyte are on record.']),
    );
  });

  it('compares like with like and refuses an identifier that is not in the register', () => {
    expect(() => equipmentChange(validation, 'BAL-1', 'ICP-2')).toThrow(
      'found a spectrometer, expected a balance like BAL-1',
    );
    expect(() => equipmentChange(validation, 'BAL-1', 'BAL-9')).toThrow(
      /^replacementEquipment: found BAL-9, expected one of the register: BAL-1, .* \(--set replacementEquipment=…\)$/,
    );
    expect(() => equipmentChange(validation, 'BAL-1', 'BAL-1')).toThrow(
      'replacementEquipment: found BAL-1, which is the one that is replaced; expected another of the register (--set replacementEquipment=…)',
    );
    expect(() => equipmentChange(validation, 'BAL-9', 'BAL-3')).toThrow(
      'replacedEquipment: found BAL-9, expected one of the register: BAL-1',
    );
  });

  it('keeps every target on the condition that the validation met it on', () => {
    const change = equipmentChange(validation, 'BAL-1', 'BAL-3');
    const targetsOf = (findings: typeof change.findings) =>
      findings.filter((f) => f.characteristic === 'target uncertainty' && f.conditions !== undefined);
    const before = targetsOf(validation.findings);
    const after = targetsOf(change.findings);
    expect(new Set(before.map((f) => f.analyte))).toEqual(new Set(['Si', 'Fe', 'Ca']));
    expect(after.map((f) => f.id)).toEqual(before.map((f) => f.id));
    // The share of the blank is that of the budget before the exchange: both balances have one certificate's figures.
    expect(after.map((f) => f.conditions)).toEqual(before.map((f) => f.conditions));
    for (const finding of after) expect(finding.reason).toContain('On a condition: ');
  });

  it('leaves a target open where the validation found a bias that no budget holds', () => {
    const biased = validateMatrix(zirconPigmentStudy({ seed }).records);
    const targets = equipmentChange(biased, 'BAL-1', 'BAL-3').findings.filter(
      (f) => f.characteristic === 'target uncertainty',
    );
    const of = (analyte: string) =>
      new Set(targets.filter((f) => f.analyte === analyte).map((f) => f.verdict));
    expect([of('Al'), of('Zr')]).toEqual([new Set(['not shown']), new Set(['met'])]);
    expect(targets.find((f) => f.analyte === 'Al')!.reason).toContain('QRM-1 and QRM-2');
  });
});
