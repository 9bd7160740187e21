import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/errors.js';
import { planSolutions } from '../../src/records/checks/plan-solutions.js';
import type { StudyRecords } from '../../src/records/study-records.js';
import { encodeStudy } from '../../src/records/write-study.js';
import { expectedVerdictOf } from '../../src/scenario/expected-verdicts.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';

const { records, truth } = zirconPigmentStudy({ seed: 11 });

function count<T>(rows: readonly T[], wanted: (row: T) => boolean): number {
  return rows.filter(wanted).length;
}

/** Names of the tables and files in which two studies differ. */
function differences(a: StudyRecords, b: StudyRecords): string[] {
  const [first, second] = [encodeStudy(a), encodeStudy(b)];
  return [...new Set([...Object.keys(first), ...Object.keys(second)])].filter((f) => first[f] !== second[f]);
}

describe('the invented study', () => {
  it('gives the same bytes for the same seed', () => {
    const again = zirconPigmentStudy({ seed: 11 });
    expect(encodeStudy(again.records)).toEqual(encodeStudy(records));
    expect(JSON.stringify(again.truth)).toBe(JSON.stringify(truth));
  });

  it('draws every measured table anew for another seed', () => {
    expect(differences(zirconPigmentStudy({ seed: 12 }).records, records)).toEqual([
      'study.json',
      'digestions.csv',
      'dilutions.csv',
      'readings.csv',
      'references.csv',
      'spikes.csv',
      'additions.csv',
      'comparison.csv',
      'exclusions.csv',
      'factors.csv',
      'homogeneity.csv',
      'history.csv',
      'rounds.csv',
    ]);
  });

  it('holds the design: 10 days × 2 digestions × 3 levels, reference materials, blanks and spikes', () => {
    const days = new Set(records.digestions.map((d) => d.day));
    expect(days.size).toBe(10);
    for (const day of days) {
      const today = records.digestions.filter((d) => d.day === day);
      for (const { sample } of records.plan.levels) {
        expect(count(today, (d) => d.sample === sample && d.kind === 'sample')).toBe(2);
      }
      for (const material of ['QRM-1', 'QRM-2']) {
        expect(count(today, (d) => d.sample === material && d.kind === 'reference')).toBe(1);
      }
      expect(today.map((d) => d.order)).toEqual(today.map((_, i) => i + 1));
    }
    const blanks = records.digestions.filter((d) => d.sample === records.plan.blanks.procedure);
    expect(blanks.length).toBe(12);
    expect(new Set(blanks.map((d) => d.day)).size).toBeGreaterThanOrEqual(6);
    expect(new Set(records.spikes.map((s) => `${s.stage}|${s.digestion}`)).size).toBe(12);
    expect(records.history.length).toBe((60 + 30 + 30) * 3);
    expect(new Set(records.rounds.map((r) => r.round)).size).toBe(4);
    expect(records.factors.length).toBe(12);
  });

  it('fuses each memory blank straight after the iron-rich sample in the same crucible', () => {
    const memory = records.digestions.filter((d) => d.sample === records.plan.blanks.memory);
    expect(memory.length).toBeGreaterThanOrEqual(6);
    for (const blank of memory) {
      const sameCrucible = records.digestions.filter((d) => d.crucible === blank.crucible);
      const before = sameCrucible[sameCrucible.findIndex((d) => d.digestion === blank.digestion) - 1]!;
      expect([before.sample, before.day]).toEqual(['ZP-5', blank.day]);
    }
  });

  it('reads seven levels of every analyte in every run, and the check solution at least every eighth solution', () => {
    for (const run of new Set(records.readings.map((r) => r.run))) {
      if (records.readings.some((r) => r.run === run && r.analyte === 'Sc')) continue;
      for (const { analyte } of records.plan.analytes) {
        const levels = records.calibration.filter((c) => c.run === run && c.analyte === analyte);
        expect(levels.length).toBe(7);
        expect(count(levels, (c) => c.massFractionMgPerKg === 0)).toBe(1);
      }
      const sequence = new Map(
        records.readings.filter((r) => r.run === run).map((r) => [r.position, r.solution]),
      );
      const checks = [...sequence].filter(([, s]) => s === records.plan.driftCheckSolution).map(([p]) => p);
      expect(checks.at(-1)).toBe(sequence.size);
      expect(Math.max(...checks.slice(1).map((p, i) => p - checks[i]!))).toBeLessThanOrEqual(9);
    }
  });

  it('keeps every standard and every sample within the calibrated range', () => {
    const highest = (analyte: string) =>
      Math.max(
        ...records.calibration
          .filter((c) => c.analyte === analyte && c.run === 'R-01')
          .map((c) => c.massFractionMgPerKg!),
      );
    for (const { analyte, measuredIn } of records.plan.analytes) {
      const contents = truth.digestions.map((d) => d.contentMgPerKg[analyte as 'Zr']);
      const dilution = measuredIn === 'dilution' ? 19 : 1;
      expect(Math.max(...contents) / dilution).toBeLessThan(highest(analyte));
    }
  });

  it('names existing rows only', () => {
    const digestions = new Set(records.digestions.map((d) => d.digestion));
    const dilutions = new Set(records.dilutions.map((d) => d.dilution));
    const standards = new Set(records.standards.map((s) => `${s.name}|${s.analyte}`));
    const calibration = new Set(records.calibration.map((c) => `${c.run}|${c.solution}|${c.analyte}`));
    const equipment = new Set(records.equipment.map((e) => e.id));
    const additions = new Set(records.additions.map((a) => a.solution));
    const other = planSolutions(records.plan);
    const unknown = [
      ...records.dilutions.map((d) => d.digestion).filter((d) => !digestions.has(d)),
      ...records.spikes
        .flatMap((s) => [s.digestion, ...s.unspikedPartner.split('|')])
        .filter((d) => !digestions.has(d)),
      ...records.additions.map((a) => a.base).filter((base) => !digestions.has(base) && !dilutions.has(base)),
      ...records.exclusions.map((e) => e.rowKey.split('|')[0]!).filter((d) => !digestions.has(d)),
      ...[...records.plan.stability!.digestions, ...records.plan.nativeCheckDigestions].filter(
        (d) => !digestions.has(d),
      ),
      ...records.calibration.map((c) => `${c.preparedFrom}|${c.analyte}`).filter((s) => !standards.has(s)),
      ...[...records.digestions.flatMap((d) => [d.portionBalance, d.vesselBalance])].filter(
        (id) => !equipment.has(id),
      ),
      ...records.history.flatMap((h) => h.equipment).filter((id) => !equipment.has(id)),
      ...records.readings
        .filter(
          (r) =>
            !digestions.has(r.solution) &&
            !dilutions.has(r.solution) &&
            !additions.has(r.solution) &&
            !other.includes(r.solution) &&
            !calibration.has(`${r.run}|${r.solution}|${r.analyte}`),
        )
        .map((r) => `${r.run}|${r.solution}|${r.analyte}`),
    ];
    expect(unknown).toEqual([]);
  });

  it('gives partners of the same sample and day, never spiked themselves', () => {
    const row = new Map(records.digestions.map((d) => [d.digestion, d]));
    for (const spike of records.spikes) {
      const spiked = row.get(spike.digestion)!;
      const partners = spike.unspikedPartner.split('|').map((name) => row.get(name)!);
      expect(partners.map((p) => [p.sample, p.day, p.kind])).toEqual(
        partners.map(() => [spiked.sample, spiked.day, 'sample']),
      );
    }
  });

  it('gives readings that are whole counts above zero', () => {
    expect(records.readings.every((r) => Number.isInteger(r.intensity) && r.intensity > 0)).toBe(true);
  });

  it('refuses switches out of range', () => {
    expect(() => zirconPigmentStudy({ seed: -1 })).toThrow(InputError);
    expect(() => zirconPigmentStudy({ seed: 1, controlResultsAfter: 31 })).toThrow(InputError);
    expect(() => zirconPigmentStudy({ seed: 1, newBalance: { repeatabilityFactor: 0 } })).toThrow(InputError);
    expect(() => zirconPigmentStudy({ seed: 1, calciumBlanksUsable: 5 as 4 })).toThrow(InputError);
  });
});

describe('the verdicts expected', () => {
  const trueness = { characteristic: 'trueness', analyte: 'Al', level: 'QRM-1' };
  const blank = { characteristic: 'procedure blank', analyte: 'Ca', level: '*' };

  it('follow what was planted', () => {
    expect(expectedVerdictOf(truth.expectedVerdicts, trueness)).toBe('not met');
    expect(expectedVerdictOf(truth.expectedVerdicts, { ...trueness, analyte: 'Fe' })).toBe('met');
    expect(expectedVerdictOf(truth.expectedVerdicts, blank)).toBe('not shown');
  });

  it('follow the switches', () => {
    const clean = zirconPigmentStudy({ seed: 11, overlap: false, calciumBlanksUsable: 12 }).truth;
    expect(expectedVerdictOf(clean.expectedVerdicts, trueness)).toBe('met');
    expect(expectedVerdictOf(clean.expectedVerdicts, blank)).toBe('met');
  });

  it('are of characteristics that the plan has a criterion for', () => {
    const planned = new Set(records.plan.criteria.map((c) => c.characteristic));
    const named = truth.expectedVerdicts.map((e) => e.characteristic).filter((c) => c !== '*');
    expect(named.filter((c) => !planned.has(c))).toEqual([]);
  });
});

describe('the switches', () => {
  it('overlap changes aluminium on its reported line, in control results and in rounds only', () => {
    const without = zirconPigmentStudy({ seed: 11, overlap: false }).records;
    expect(differences(without, records)).toEqual(['readings.csv', 'history.csv', 'rounds.csv']);
    const changed = records.readings.filter((r, i) => r.intensity !== without.readings[i]!.intensity);
    expect(new Set(changed.map((r) => `${r.analyte} ${r.lineNm}`))).toEqual(new Set(['Al 396.152']));
  });

  it('usable calcium blanks change calcium of eight blanks and their exclusions only', () => {
    const usable = zirconPigmentStudy({ seed: 11, calciumBlanksUsable: 12 }).records;
    expect(differences(usable, records)).toEqual(['readings.csv', 'exclusions.csv']);
    expect(usable.exclusions).toEqual([]);
    const changed = records.readings.filter((r, i) => r.intensity !== usable.readings[i]!.intensity);
    expect(new Set(changed.map((r) => `${r.solution}|${r.analyte}`))).toEqual(
      new Set(records.exclusions.map((e) => e.rowKey)),
    );
    expect(records.exclusions.length).toBe(8);
  });

  it('a new balance changes its register entry and control results after it only', () => {
    const worse = zirconPigmentStudy({ seed: 11, newBalance: { repeatabilityFactor: 3 } }).records;
    expect(differences(worse, records)).toEqual(['equipment.json', 'history.csv']);
    const changed = records.history.filter((h, i) => h.value !== worse.history[i]!.value);
    expect(changed.every((h) => h.equipment.includes('BAL-3'))).toBe(true);
    expect(changed.length).toBeGreaterThan(150);
  });

  it('fewer control results after a change leave the others as they are', () => {
    const few = zirconPigmentStudy({ seed: 11, controlResultsAfter: 3 }).records;
    expect(differences(few, records)).toEqual(['history.csv']);
    expect(few.history.length).toBe((60 + 3 + 3) * 3);
    const all = new Set(records.history.map((h) => JSON.stringify(h)));
    expect(few.history.every((h) => all.has(JSON.stringify(h)))).toBe(true);
  });
});
