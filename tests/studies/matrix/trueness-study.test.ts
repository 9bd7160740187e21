import { beforeAll, describe, expect, it } from 'vitest';
import { oxideFactor } from '../../../src/quantities/oxide.js';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { type EvaluatedStudy, evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { recoveryStudy, truenessStudy } from '../../../src/studies/matrix/trueness-study.js';

let records: StudyRecords;
let study: EvaluatedStudy;

beforeAll(() => {
  records = zirconPigmentStudy({ seed: 20260302 }).records;
  study = evaluateStudy(records);
});

const titaniumBeforeFusion = (evaluated: EvaluatedStudy) =>
  recoveryStudy(evaluated).find((r) => r.finding.id.startsWith('recovery-before-fusion/Ti/'))!;

describe('recovery of additions', () => {
  /** (w_spiked − w_unspiked)·m_p as amounts of titanium, from the reported results alone. */
  function recoveryByHand(digestion: string, partners: readonly string[], addedMg: number): number {
    const reported = (name: string) =>
      study.results.find((r) => r.digestion === name && r.analyte === 'Ti')!.value!;
    const { sample, crucibleG, crucibleWithPortionG } = study.index.digestions.get(digestion)!;
    const loss = records.moisture.find((m) => m.sample === sample)!.lossGPer100G / 100;
    // Air of 1.185 kg/m³ against steel of 8000 and a portion of 4600 kg/m³.
    const buoyancy = (1 - 1.185 / 8000) / (1 - 1.185 / 4600);
    const dryG = (crucibleWithPortionG - crucibleG) * buoyancy * (1 - loss);
    const unspiked = partners.reduce((sum, name) => sum + reported(name), 0) / partners.length;
    const mgPerUnit = dryG / 1000 / oxideFactor('TiO2').factor;
    return ((reported(digestion) - unspiked) * mgPerUnit) / addedMg;
  }

  it('is the difference from the mean of the unspiked partners, over what was added', () => {
    const rows = records.spikes.filter((s) => s.stage === 'before fusion' && s.analyte === 'Ti');
    const { spikes } = titaniumBeforeFusion(study);
    expect(spikes.map((s) => s.key)).toEqual(rows.map((s) => s.digestion));
    for (const { digestion, unspikedPartner, addedMg } of rows) {
      const partners = unspikedPartner.split('|');
      expect(partners.length).toBe(2);
      expect(spikes.find((s) => s.key === digestion)!.recovery).toAgreeWithin(
        recoveryByHand(digestion, partners, addedMg),
        1e-12,
      );
    }
  });

  it('does without a partner that is excluded, and without the spike where no partner is left', () => {
    const spike = records.spikes.find((s) => s.stage === 'before fusion' && s.analyte === 'Ti')!;
    const [first, second] = spike.unspikedPartner.split('|') as [string, string];
    const excluding = (...digestions: string[]) =>
      evaluateStudy({
        ...records,
        exclusions: [
          ...records.exclusions,
          ...digestions.map((d) => ({
            ...{ table: 'digestions', rowKey: `${d}|Ti` },
            ...{ who: 'A. Example', when: '2026-03-20', technicalCause: 'spilled' },
          })),
        ],
      });
    const one = titaniumBeforeFusion(excluding(first));
    expect(one.spikes.find((s) => s.key === spike.digestion)!.recovery).toAgreeWithin(
      recoveryByHand(spike.digestion, [second], spike.addedMg),
      1e-12,
    );
    expect(one.finding.rows.find((r) => r.table === 'digestions')!.keys).not.toContain(first);
    const none = titaniumBeforeFusion(excluding(first, second));
    expect(none.spikes.map((s) => s.key)).not.toContain(spike.digestion);
    expect(none.spikes.length).toBe(5);
  });

  it('is told apart by stage', () => {
    const stages = recoveryStudy(study).map((r) => r.finding.characteristic);
    expect(new Set(stages)).toEqual(new Set(['recovery before fusion', 'recovery after dissolution']));
    const { digestion } = records.spikes.find((s) => s.stage === 'after dissolution')!;
    expect(titaniumBeforeFusion(study).spikes.map((s) => s.key)).not.toContain(digestion);
  });
});

describe('trueness', () => {
  it('takes a certificate in the other unit of mass fraction', () => {
    const scaled = records.references.map((r) =>
      r.unit === 'mg/kg'
        ? {
            ...r,
            unit: 'g/100 g' as const,
            value: r.value / 1e4,
            expandedUncertainty: r.expandedUncertainty / 1e4,
          }
        : {
            ...r,
            unit: 'mg/kg' as const,
            value: r.value * 1e4,
            expandedUncertainty: r.expandedUncertainty * 1e4,
          },
    );
    const found = truenessStudy(evaluateStudy({ ...records, references: scaled }));
    for (const [i, was] of truenessStudy(study).entries()) {
      expect(found[i]!.certified.value).toAgreeWithin(was.certified.value, 1e-14);
      expect(found[i]!.certified.standardUncertainty).toAgreeWithin(was.certified.standardUncertainty, 1e-14);
      expect(found[i]!.finding.verdict).toBe(was.finding.verdict);
    }
  });

  it('checks minimum portion, basis and expiry of the certificate against the use', () => {
    const misused = records.references.map((r) =>
      r.material === 'QRM-1'
        ? { ...r, minimumPortionG: 0.5, basis: 'ignited' as const, expiry: '2026-03-01' }
        : r,
    );
    const found = truenessStudy(evaluateStudy({ ...records, references: misused }));
    const first = found.find((t) => t.finding.id === 'trueness/Ti/QRM-1')!;
    expect(first.certificate!.faults.length).toBe(3);
    expect(first.finding.verdict).toBe('not shown');
    expect(found.find((t) => t.finding.id === 'trueness/Ti/QRM-2')!.finding.verdict).toBe('met');
  });
});
