import { beforeAll, describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import type { Block } from '../../../src/report/document.js';
import { driftBlocks } from '../../../src/report/dossier/drift-blocks.js';
import { factorBlocks } from '../../../src/report/dossier/factor-blocks.js';
import { unstudiedBlocks } from '../../../src/report/dossier/unstudied-blocks.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { driftStudy } from '../../../src/studies/matrix/drift-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';

let records: StudyRecords;

beforeAll(() => {
  records = zirconPigmentStudy({ seed: 20260302 }).records;
});

const wordsOf = (blocks: readonly Block[]) => JSON.stringify(blocks);

describe('drift over a run', () => {
  it('is the last check solution against the first, run by run', () => {
    const [zirconium] = driftStudy(evaluateStudy(records));
    expect(zirconium!.runs).toHaveLength(10);
    const own = records.readings.filter(
      (r) => r.run === 'R-04' && r.solution === records.plan.driftCheckSolution && r.lineNm === 343.823,
    );
    const places = [...new Set(own.map((r) => r.position))].sort((a, b) => a - b);
    const ratio = (position: number) => {
      const at = own.filter((r) => r.position === position);
      return at.reduce((sum, r) => sum + r.intensity / r.internalStandardIntensity!, 0) / at.length;
    };
    const found = zirconium!.runs.find((r) => r.run === 'R-04')!;
    expect(found.change).toAgreeWithin(ratio(places.at(-1)!) / ratio(places[0]!) - 1, 1e-9);
    expect(found.points.map((p) => p.position)).toEqual(places);
  });

  it('has no limits in a single run, and nothing to draw without check solutions', () => {
    const one = { ...records, readings: records.readings.filter((r) => r.run === 'R-01') };
    expect(driftStudy(evaluateStudy(one)).map((d) => d.limits)).toEqual(
      records.plan.analytes.map(() => null),
    );
    const readings = records.readings.filter((r) => r.solution !== records.plan.driftCheckSolution);
    expect(driftBlocks(validateMatrix({ ...records, readings }))).toEqual([]);
  });
});

describe('components by factor', () => {
  it('names the factors that changed, and says where an arrangement does not tell them apart', () => {
    const validation = validateMatrix(records);
    const [table] = factorBlocks(validation);
    if (table?.kind !== 'table') throw new Error('expected a table');
    expect(table.rows).toHaveLength(24);
    expect(table.columns.map((c) => c.heading).join()).toContain('operator');
    const aliased = validation.precision.map((level) => ({
      ...level,
      rows: level.rows.map((row) => ({ ...row, operator: row.day, place: row.day, crucible: 'one' })),
    }));
    const [bare] = factorBlocks({ ...validation, precision: aliased });
    if (bare?.kind !== 'table') throw new Error('expected a table');
    expect(bare.columns.map((c) => c.heading).join()).not.toContain('operator');
  });
});

describe('what a study did not look at', () => {
  it('is named with what would show it, unless a finding speaks of it', () => {
    const whole = wordsOf(unstudiedBlocks(validateMatrix(records)));
    expect(whole).toBe('[]');
    const asked = ['ruggedness', 'carry-over'];
    const criteria = records.plan.criteria.filter((c) => !asked.includes(c.characteristic));
    const { carryOver: _, ...plan } = records.plan;
    const bare = wordsOf(
      unstudiedBlocks(validateMatrix({ ...records, factors: [], plan: { ...plan, criteria } })),
    );
    expect(bare).toContain('ruggedness: a two-level design');
    expect(bare).toContain('carry-over: a zero solution read directly after the highest standard');
  });
});
