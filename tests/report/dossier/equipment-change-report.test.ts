import { beforeAll, describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import type { Figure, Section, Table } from '../../../src/report/document.js';
import { equipmentChangeReport } from '../../../src/report/dossier/equipment-change-report.js';
import { figureWidth } from '../../../src/report/figures/figure-style.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { equipmentChange } from '../../../src/studies/equipment-change.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';

const provenance = { issue: '', created: '', versions: {}, seed: 3, parameters: {}, notes: [] };

describe('the report of an exchange', () => {
  const { records } = zirconPigmentStudy({ seed: 20260302 });
  const balance = (id: string) => records.equipment.find((e) => e.id === id)!.balance!;
  const sectionsWith = (changed: StudyRecords): Map<string, string> => {
    const validation = validateMatrix(changed);
    const change = equipmentChange(validation, 'BAL-1', 'BAL-3');
    const report = equipmentChangeReport(validation, change, { files: [], selfCheck: [], provenance });
    return new Map(report.sections.map((s: Section) => [s.id, JSON.stringify(s)]));
  };
  let same: Map<string, string>;
  let other: Map<string, string>;
  beforeAll(() => {
    same = sectionsWith(records);
    const coarse = { ...balance('BAL-3'), repeatabilityG: 3 * balance('BAL-3').repeatabilityG };
    const equipment = records.equipment.map((e) => (e.id === 'BAL-3' ? { ...e, balance: coarse } : e));
    other = sectionsWith({ ...records, equipment, history: [] });
  }, 120_000);

  it('speaks of the largest change and of what differs only where something does', () => {
    expect(balance('BAL-3')).toEqual(balance('BAL-1'));
    expect(same.get('budgets')).not.toContain('where the change is largest');
    expect(same.get('budgets')).not.toContain('contributions that differ');
    expect(same.get('budgets')).toContain('No contribution differs');
    expect(other.get('budgets')).toContain('where the change is largest');
    expect(other.get('budgets')).toContain('contributions that differ');
    expect(other.get('budgets')).not.toContain('No contribution differs');
  });

  it('says on what condition a target is met after the exchange, and what no budget holds', () => {
    expect(same.get('characteristics')).toContain(
      'it holds for digestions that do not follow a sample with more Fe in the same crucible',
    );
    expect(same.get('verdicts')).toContain('Met on a condition only');
    expect(same.get('budgets')).toContain(
      'Al2O3: Trueness against QRM-1 and QRM-2 and QRM-3 is not met. Its budgets, before and after, do not hold this',
    );
  });

  it('says for which analytes control results show what rests on the balance, and for which they do not', () => {
    expect(same.get('affected')).toContain('ZrO2, Al2O3, Fe2O3');
    expect(same.get('affected')).toContain(
      'SiO2, Pr6O11, HfO2, TiO2, CaO: not studied: no control results of these analytes before and after.',
    );
    expect(other.get('affected')).toContain('Not studied: no control results before and after.');
    expect(other.get('affected')).not.toContain('ZrO2, Al2O3, Fe2O3');
  });

  it('draws a chart of its own for each control material', () => {
    const second = records.history.map((r) => ({ ...r, material: 'QCM-F3', value: r.value / 2 }));
    const both = sectionsWith({ ...records, history: [...records.history, ...second] });
    // The table behind a figure bears its id.
    const charts = new Set(both.get('characteristics')!.match(/"id":"control\/[^"]+"/g));
    expect([...charts]).toEqual([
      ...['"id":"control/ZrO2"', '"id":"control/ZrO2/2"'],
      ...['"id":"control/Al2O3"', '"id":"control/Al2O3/2"'],
      ...['"id":"control/Fe2O3"', '"id":"control/Fe2O3/2"'],
    ]);
    expect(both.get('characteristics')).toContain('ZrO2 in QCM-F3: control results before and after');
  }, 120_000);

  it('flags control results beyond the lines of their chart, and says by what rule', () => {
    const charts = same.get('characteristics')!;
    // Counted from history.csv apart from this code: beyond mean ± 2 s of the period, none beyond ± 3 s.
    for (const [analyte, before, after] of [
      ['ZrO2', 4, 1],
      ['Al2O3', 3, 1],
      ['Fe2O3', 4, 2],
    ] as const) {
      const chart = charts.slice(charts.indexOf(`"id":"control/${analyte}"`));
      const notes = chart.slice(chart.indexOf('"notes"'));
      expect(notes).toMatch(new RegExp(`BAL-1: [^"]*; ${before} of 60 results flagged`));
      expect(notes).toMatch(new RegExp(`BAL-3: [^"]*; ${after} of 30 results flagged`));
    }
    expect(charts).toContain('± 2 s (warning) and ± 3 s (action)');
    expect(charts).toContain('"text":"2025-09-08 C1-15"');
    expect(charts).toContain('"text":"beyond the warning line"');
  });

  it('keeps the title of the axis of contributions within the figure, with its unit', () => {
    const section = JSON.parse(same.get('budgets')!) as Section;
    const figure = section.blocks.find((b) => b.kind === 'figure') as Figure;
    const [{ title }, { ticktext }] = [figure.layout.xaxis, figure.layout.yaxis] as [
      { title: { text: string } },
      { ticktext: string[] },
    ];
    // Widths of a letter on the screen: 6.1 px in labels of 12 px, 7.2 px in titles of 14 px. The title stands centred below
    // what the labels leave of the width, and may reach over it by the margin on the right, 16 px, on either side.
    const room = figureWidth - 6.1 * Math.max(...ticktext.map((label) => label.length)) - 16;
    expect(title.text).toContain('g/100 g');
    expect(7.2 * title.text.length).toBeLessThan(room + 2 * 16);
  });

  it('heads figures in g/100 g of the oxide by the oxide, not by the element', () => {
    expect(same.get('budgets')).toContain('ZrO2, low level');
    const table = (JSON.parse(same.get('budgets')!) as Section).blocks.find(
      (b) => b.kind === 'table',
    ) as Table;
    expect(new Set(table.rows.map(([cell]) => (cell!.kind === 'text' ? cell!.text : '')))).toEqual(
      new Set(['ZrO2', 'SiO2', 'Pr6O11', 'HfO2', 'Al2O3', 'Fe2O3', 'TiO2', 'CaO']),
    );
    expect(same.get('verdicts')).not.toMatch(/"text":"(Zr|Si|Al|Fe)"/);
  });

  it('calls no calibration valid on days of control results that there are not', () => {
    const due = records.equipment.find((e) => e.id === 'BAL-3')!.dueOn;
    expect(same.get('blocked')).toContain('was valid on every day');
    expect(other.get('blocked')).not.toContain('was valid');
    expect(other.get('blocked')).toContain(`it is due on ${due}`);
    expect(other.get('blocked')).not.toContain('not in the register');
  });

  it('covers the days of all control results compared, and names the certificates of them that it lacks', () => {
    const days = records.history
      .filter((r) => r.equipment.includes('BAL-1'))
      .map((r) => r.date)
      .sort();
    // The demonstration records: 60 control runs on BAL-1 from 2025-06-30 on, its one certificate of 2026-01-19.
    const older = new Set(days.filter((day) => day < '2026-01-19'));
    expect([days[0], older.size]).toEqual(['2025-06-30', 41]);
    expect(same.get('blocked')).toContain(
      'BAL-1: 41 of its 60 control runs, 2025-06-30 to 2026-01-16, are from before 2026-01-19, the day of its calibration QC-2026-0114; the certificate of BAL-1 of that time is not in the register.',
    );
    expect(same.get('equipment')).toContain('work from 2025-06-30 to 2026-07-30');
    expect(same.get('equipment')).toContain('of that time is not in the register: before 2026-01-19');
    expect(other.get('equipment')).toContain('work from 2026-03-02');
  });
});
