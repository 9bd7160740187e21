import { describe, expect, it } from 'vitest';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { routineResults } from '../../../src/studies/routine-results/routine-results.js';

const seed = 77;
const validation = validateMatrix(zirconPigmentStudy({ seed }).records);
const { records } = zirconRoutineRun(seed);
const found = routineResults(records, validation);
const flagsOf = (kind: string, of = found) =>
  of.results.flatMap((r) =>
    r.flags.filter((f) => f.kind === kind).map((f) => ({ ...f, sample: r.sample, analyte: r.analyte })),
  );

describe('a result after a richer sample in the same crucible', () => {
  const memory = validation.memory.find((m) => m.finding.analyte === 'Fe')!;
  const ironOf = (digestion: string) =>
    found.run.results.find((r) => r.digestion === digestion && r.analyte === 'Fe')?.value ?? null;

  it('is held where the iron handed on exceeds what the criterion allows', () => {
    // The scenario hands on 1.5 % of the iron; 0.6 % of the content is allowed, so that every richer sample before is one too many.
    expect(memory.finding.verdict).toBe('not met');
    const ordered = [...records.digestions].sort((a, b) => a.day.localeCompare(b.day) || a.order - b.order);
    const expected = ordered.flatMap((row, at) => {
      const before = ordered.slice(0, at).filter((p) => p.crucible === row.crucible);
      const [own, previous] = [ironOf(row.digestion), ironOf(before.at(-1)?.digestion ?? '')];
      return row.kind === 'sample' && own !== null && previous !== null && previous > own
        ? [row.digestion]
        : [];
    });
    const flags = flagsOf('after a richer sample').filter((f) => f.analyte === 'Fe');
    expect(expected.length).toBeGreaterThan(5);
    expect(flags.map((f) => f.text.split(':')[0]).sort()).toEqual([...expected].sort());
    expect(flags.every((f) => f.holds)).toBe(true);
  });

  it('says what was there before, what is handed on, and what is allowed', () => {
    const { text } = flagsOf('after a richer sample').find((f) => f.analyte === 'Fe')!;
    const [, digestion, previous] = /^(D-\d+): its crucible Pt-\d+ held [\w-]+ \((D-\d+)\) before/.exec(
      text,
    )!;
    const [, percent, handedOn, allowed] =
      /validation ([\d.]+) % of it are handed on, ([\d.]+) mg\/kg, allowed ([\d.]+) mg\/kg$/.exec(text)!;
    const fraction = memory.finding.estimate! / 100;
    expect(Number(percent)).toAgreeWithin(100 * fraction, 5e-3);
    expect(Number(handedOn)).toAgreeWithin(fraction * ironOf(previous!)!, 5e-3);
    expect(Number(allowed)).toAgreeWithin(0.006 * ironOf(digestion!)!, 5e-3);
  });

  it('is not flagged for an analyte whose memory keeps its criterion', () => {
    expect(flagsOf('after a richer sample').filter((f) => ['Zr', 'Si', 'Pr'].includes(f.analyte))).toEqual(
      [],
    );
  });
});

describe('a result after a sample without a result in the same crucible', () => {
  const [before, after] = records.digestions
    .map(
      (row) =>
        [
          row,
          records.digestions.find(
            (d) => d.crucible === row.crucible && d.day === row.day && d.order > row.order,
          ),
        ] as const,
    )
    .find(([row, next]) => row.sample === 'RS-12' && next !== undefined) as [
    (typeof records.digestions)[number],
    (typeof records.digestions)[number],
  ];
  const lost = routineResults(
    {
      ...records,
      digestions: records.digestions.map((d) => (d === before ? { ...d, vesselEmptyG: null } : d)),
    },
    validation,
  );
  const unknown = (of: typeof found) =>
    flagsOf('after a sample without a result', of).filter((f) => f.sample === after.sample);

  it('is held for the iron that it may have handed on', () => {
    expect(after.kind).toBe('sample');
    expect(unknown(found)).toEqual([]);
    // The rich sample of the validation handed on more iron than is allowed; of the others the memory keeps its criterion.
    expect(unknown(lost).map((f) => [f.analyte, f.holds])).toEqual([['Fe', true]]);
    expect(unknown(lost)[0]!.text).toBe(
      `${after.digestion}: its crucible ${after.crucible} held ${before.sample} (${before.digestion}) before, which has no result of Fe to tell what it handed on; by the validation crucible memory is not met`,
    );
  });

  it('is not after a blank', () => {
    expect(
      flagsOf('after a sample without a result', lost).filter((f) => /held procedure/.test(f.text)),
    ).toEqual([]);
  });
});

describe('a result read after the time that the validation shows', () => {
  const digestion = records.digestions.find((d) => d.sample === 'RS-02')!.digestion;
  const of = (day: string) =>
    routineResults(
      {
        ...records,
        digestions: records.digestions.map((d) => (d.digestion === digestion ? { ...d, day } : d)),
      },
      validation,
    );
  const kinds = (day: string, analyte: string) =>
    flagsOf('read late', of(day))
      .filter((f) => f.sample === 'RS-02' && f.analyte === analyte)
      .map((f) => f.holds);

  it('is held where even the latest hour of the day is too early, remarked where the earliest is', () => {
    const hours = (analyte: string) =>
      validation.stability.find((s) => s.finding.analyte === analyte)!.longestHours;
    expect([hours('Si'), hours('Zr')]).toEqual([48, 96]);
    expect(flagsOf('read late')).toEqual([]);
    // Read on the 14th between 13 and 18 h: 85 to 114 h after a fusion on the 10th, 61 to 90 h after one on the 11th.
    expect([kinds('2026-04-10', 'Si'), kinds('2026-04-10', 'Zr')]).toEqual([[true], [false]]);
    expect([kinds('2026-04-11', 'Si'), kinds('2026-04-11', 'Zr')]).toEqual([[true], []]);
    // 37 to 66 h after one on the 12th.
    expect(kinds('2026-04-12', 'Si')).toEqual([false]);
  });
});

describe('a result outside the tested working range', () => {
  it('is remarked with the range, and stays reported', () => {
    const flag = flagsOf('outside the tested range').find((f) => f.sample === 'RS-34' && f.analyte === 'Pr')!;
    expect(flag.holds).toBe(false);
    expect(flag.text).toMatch(
      /^RS-34: 6\.\d+ g\/100 g of Pr, outside the range that the validation tested, 1\.8\d+ to 5\.4\d+ g\/100 g$/,
    );
    expect(found.results.find((r) => r.sample === 'RS-34' && r.analyte === 'Pr')!.status).toBe('reported');
  });

  it('is none inside, and none where only the limit is reported', () => {
    const flagged = flagsOf('outside the tested range').map((f) => `${f.sample} ${f.analyte}`);
    expect(flagged).not.toContain('RS-05 Zr');
    expect(flagged).not.toContain('RS-28 Ca');
  });
});
