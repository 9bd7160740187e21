import { describe, expect, it } from 'vitest';
import type { Section, Table } from '../../../src/report/document.js';
import { recoveryBlocks, recoveryFacts } from '../../../src/report/dossier/recovery-blocks.js';
import { validationReport } from '../../../src/report/dossier/validation-report.js';
import { renderHtml } from '../../../src/report/render-html.js';
import { demonstrationSeed, zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { dossierContext } from '../../support/dossier-context.js';

const { records } = zirconPigmentStudy({ seed: demonstrationSeed });
const validation = validateMatrix({
  ...records,
  plan: {
    ...records.plan,
    recovery: [
      { analyte: 'Ti', from: 'reference materials', materials: ['QRM-1'], correct: 'always' },
      { analyte: 'Fe', from: 'additions before fusion', correct: 'where significant' },
    ],
  },
});
const { recoveries } = validation.study.index;
const report = validationReport(validation, dossierContext);
const all = (sections: readonly Section[]): Section[] =>
  sections.flatMap((section) => [section, ...all(section.sections)]);

describe('a report on corrected results', () => {
  it('says on its first page what results are divided by', () => {
    const fact = report.facts.find(({ name }) => name === 'Correction for recovery')!;
    expect(fact.value).toBe(
      `Ti (from QRM-1): divided by ${recoveries!.get('Ti')!.mean.toPrecision(5)}; Fe (from additions before fusion): not significantly different from 1, not divided`,
    );
    expect(recoveryFacts(undefined)).toEqual([]);
  });

  it('shows each recovery with its test in the section of the records it comes from', () => {
    const tables = all(report.sections).flatMap(({ blocks }) =>
      blocks.filter(
        (block): block is Table => block.kind === 'table' && block.id.endsWith('recovery-applied'),
      ),
    );
    expect(tables.map(({ id, rows }) => [id, rows.length])).toEqual(
      expect.arrayContaining([
        ['trueness/recovery-applied', 1],
        ['recovery-before-fusion/recovery-applied', 1],
      ]),
    );
    const [ti] = tables.find(({ id }) => id.startsWith('trueness'))!.rows;
    expect(ti![4]).toMatchObject({ kind: 'number', value: recoveries!.get('Ti')!.mean });
    expect([...recoveryBlocks(undefined).values()].flat()).toEqual([]);
  });

  it('prints the recovery in the equations of the budget', () => {
    expect(renderHtml(report)).toContain('recovery of Ti');
  });
});
