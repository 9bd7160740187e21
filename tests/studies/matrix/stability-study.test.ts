import { beforeAll, describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { memoryStudy, stabilityStudy } from '../../../src/studies/matrix/stability-study.js';

let records: StudyRecords;
beforeAll(() => {
  records = zirconPigmentStudy({ seed: 20260302 }).records;
});

const cause = { who: 'A. Example', when: '2026-03-20', technicalCause: 'spilled' };
const memoryOf = (changed: StudyRecords, analyte = 'Fe') =>
  memoryStudy(evaluateStudy(changed)).find((m) => m.finding.analyte === analyte)!;
const stabilityOf = (changed: StudyRecords, analyte = 'Si') =>
  stabilityStudy(evaluateStudy(changed)).find((s) => s.finding.analyte === analyte)!;

describe('memory of crucibles', () => {
  it('follows the digestion that the crucible held before, in order of day and work', () => {
    const { memoryBlanks } = memoryOf(records);
    expect(memoryBlanks.length).toBe(7);
    const row = new Map(records.digestions.map((d) => [d.digestion, d]));
    for (const { key, after, crucible } of memoryBlanks) {
      const [blank, rich] = [row.get(key)!, row.get(after)!];
      expect([rich.sample, rich.crucible, rich.day]).toEqual(['ZP-5', crucible, blank.day]);
      expect(rich.order).toBe(blank.order - 1);
    }
    const reversed = { ...records, digestions: [...records.digestions].reverse() };
    expect(new Set(memoryOf(reversed).memoryBlanks.map((m) => `${m.key} after ${m.after}`))).toEqual(
      new Set(memoryBlanks.map((m) => `${m.key} after ${m.after}`)),
    );
  });

  it('is of whatever was fused in between', () => {
    const { key, after, crucible } = memoryOf(records).memoryBlanks[0]!;
    const blank = records.digestions.find((d) => d.digestion === key)!;
    const between = records.digestions.find((d) => d.day === blank.day && d.sample === 'ZP-1')!;
    // Work on that day: rich sample, the other one in the same crucible, then the blank.
    const digestions = records.digestions.map((d) => {
      if (d === between) return { ...d, crucible, order: blank.order - 0.5 };
      return d;
    });
    const changed = memoryOf({ ...records, digestions }).memoryBlanks[0]!;
    expect([changed.key, changed.after]).toEqual([key, between.digestion]);
    expect(changed.after).not.toBe(after);
  });

  it('leaves out an excluded blank; an excluded rich sample still was in the crucible', () => {
    const [first, second] = memoryOf(records).memoryBlanks;
    const exclusions = [
      ...records.exclusions,
      { table: 'digestions', rowKey: first!.key, ...cause },
      { table: 'digestions', rowKey: second!.after, ...cause },
    ];
    const left = memoryOf({ ...records, exclusions }).memoryBlanks;
    expect(left.map((m) => m.key)).not.toContain(first!.key);
    expect(left.find((m) => m.key === second!.key)!.after).toBe(second!.after);
  });
});

describe('stability of solutions', () => {
  it('follows the digestions of the plan through the runs that read them again', () => {
    const { times, finding } = stabilityOf(records);
    expect(times.map((t) => t.hours)).toEqual([24, 48, 72, 96]);
    expect(finding.n).toBe(records.plan.stability!.digestions.length);
    expect(finding.verdict).toBe('not met');
    expect(stabilityOf(records, 'Ti').finding.verdict).toBe('met');
  });

  it('leaves out an excluded digestion, and one that was missed in a run', () => {
    const [first, second] = records.plan.stability!.digestions as [string, string];
    const keysOf = (changed: StudyRecords) =>
      new Set(stabilityOf(changed, 'Ti').finding.rows.flatMap((r) => r.keys));
    const exclusions = [...records.exclusions, { table: 'digestions', rowKey: `${first}|Ti`, ...cause }];
    expect(keysOf(records)).toContain(first);
    expect(keysOf({ ...records, exclusions })).not.toContain(first);
    const readings = records.readings.filter((r) => r.solution !== second || r.run !== 'R-03');
    const missed = keysOf({ ...records, readings });
    expect(missed).not.toContain(second);
    expect(missed.size).toBe(keysOf(records).size - 1);
    expect(stabilityOf({ ...records, readings }, 'Ti').times.map((t) => t.hours)).toEqual([24, 48, 72, 96]);
  });
});
