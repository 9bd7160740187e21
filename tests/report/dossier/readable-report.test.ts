import { describe, expect, it } from 'vitest';
import type { Section, Table } from '../../../src/report/document.js';
import { fitnessConditions } from '../../../src/report/dossier/fitness-conditions.js';
import { validationReport } from '../../../src/report/dossier/validation-report.js';
import { criteriaTable } from '../../../src/report/sections/plan-section.js';
import { scopeSection } from '../../../src/report/sections/scope-section.js';
import { conditionNotes } from '../../../src/report/sections/verdict-table.js';
import { demonstrationSeed, zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { workingRanges } from '../../../src/studies/matrix/working-ranges.js';
import { dossierContext } from '../../support/dossier-context.js';

const { records } = zirconPigmentStudy({ seed: demonstrationSeed });
const validation = validateMatrix(records);
const report = validationReport(validation, dossierContext);

const all = (sections: readonly Section[]): Section[] =>
  sections.flatMap((section) => [section, ...all(section.sections)]);
const tables = all(report.sections)
  .flatMap(({ blocks }) => blocks)
  .flatMap((block): Table[] =>
    block.kind === 'table' ? [block] : block.kind === 'figure' ? [block.table] : [],
  );

/** Every text that stands on the page: paragraphs, lists, facts, notes and cells. */
function textsOf(sections: readonly Section[]): string[] {
  return all(sections).flatMap(({ blocks }) =>
    blocks.flatMap((block): string[] => {
      if (block.kind === 'paragraph' || block.kind === 'caution') return [block.text];
      if (block.kind === 'list') return [...block.items];
      if (block.kind === 'facts') return block.facts.map(({ value }) => value);
      const table = block.kind === 'table' ? block : block.kind === 'figure' ? block.table : null;
      if (table === null) return [];
      const cells = table.rows.flat().flatMap((cell) => (cell.kind === 'text' ? [cell.text] : []));
      return [table.caption, ...table.notes, ...cells];
    }),
  );
}

describe('a validation report that a reader has alone', () => {
  it('names on its first page the days, the equipment and the people of the work', () => {
    const fact = (name: string) => report.facts.find((f) => f.name === name)!.value;
    const days = records.digestions.map((d) => d.day).sort();
    expect(fact('Work')).toBe(`${days[0]} to ${days.at(-1)}`);
    for (const { portionBalance } of records.digestions.slice(0, 3))
      expect(fact('On equipment')).toContain(portionBalance);
    for (const { operator } of records.digestions) expect(fact('Digestions by')).toContain(operator);
  });

  it('shows the mass balance of the fusions, sample by sample, where melts were weighed', () => {
    expect(all(report.sections).map((s) => s.id)).not.toContain('fusion');
    const { study } = validation;
    const digestions = records.digestions.map((d, i) => {
      const lossG = 0.01 + 1e-4 * ((i % 3) - 1);
      return { ...d, crucibleWithMeltG: d.crucibleWithPortionG + d.fluxG - lossG };
    });
    const index = { ...study.index, records: { ...study.index.records, digestions } };
    const weighed = validationReport({ ...validation, study: { ...study, index } }, dossierContext);
    const section = weighed.sections.find((s) => s.id === 'fusion')!;
    const found = (section.blocks[0] as Table).rows.map((row) => row.map((cell) => JSON.stringify(cell)));
    expect(found.map((row) => row[0]).join()).toContain('QRM-2');
    for (const row of found.filter((cells) => cells[0]!.includes('QRM-2'))) expect(row[6]).toContain('none');
  });

  it('heads certified values and rounds by the oxide that they are of', () => {
    const cells = tables
      .filter(({ id }) => ['traceability/references', 'proficiency/scores'].includes(id))
      .flatMap(({ rows }) => rows.flat().flatMap((cell) => (cell.kind === 'text' ? [cell.text] : [])));
    expect(cells.filter((text) => text === 'ZrO2').length).toBeGreaterThan(5);
    expect(cells).not.toContain('Zr');
  });

  it('states as working range only what was tested and calibrated, never more than the whole solid', () => {
    const ranges = workingRanges(validation);
    expect(ranges.map(({ analyte }) => analyte)).toEqual(records.plan.analytes.map((a) => a.analyte));
    for (const { analyte, unit, tested, calibrated } of ranges) {
      const means = validation.precision.filter((p) => p.analyte === analyte);
      const certified = validation.trueness.filter((t) => t.finding.analyte === analyte);
      const contents = [
        ...means.map((p) => p.precision.components.mean),
        ...certified.map((t) => t.certified.value),
      ];
      expect(tested?.low).toBeGreaterThanOrEqual(Math.min(...contents));
      expect(tested?.high).toBeLessThanOrEqual(Math.max(...contents));
      expect(tested?.low).toBeGreaterThanOrEqual(calibrated.low);
      expect(calibrated.high).toBeLessThanOrEqual(unit === 'mg/kg' ? 1e6 : 100);
    }
  });

  it('says beside the range what is to be reported and was not tested, and which limits digestions confirmed', () => {
    const ranges = workingRanges(validation);
    const [, table] = scopeSection(records.plan, ranges).blocks as [unknown, Table];
    const gaps = records.plan.analytes.filter(
      (a) => a.lowestReported < ranges.find((r) => r.analyte === a.analyte)!.tested!.low,
    );
    for (const { analyte, lowestReported } of gaps)
      expect(table.notes.join(' ')).toContain(`${analyte} ${lowestReported} to `);
    for (const row of table.rows)
      expect(JSON.stringify(row.at(-1))).toMatch(
        /confirmed|contradicted|left open|not digested at it|not shown/,
      );
  });

  it('leaves a characteristic without a criterion out of the verdicts at a glance, and names it', () => {
    const glance = tables.find(({ caption }) => caption === 'Verdicts at a glance')!;
    const judged = new Set(
      validation.findings.filter((f) => f.verdict !== 'no criterion').map((f) => f.characteristic),
    );
    expect(glance.rows.map(([cell]) => (cell as { text: string }).text).sort()).toEqual([...judged].sort());
    expect(glance.notes.join(' ')).toContain('without a verdict: trueness over the range.');
  });

  it('says of each flagged day on which side of which limit its statistic lies', () => {
    const screening = tables.find(({ caption }) => caption.startsWith('Screening of digestions'))!;
    const flags = screening.rows.map((row) => (row.at(-1) as { text: string }).text);
    const flagged = flags.filter((flag) => flag !== 'none');
    expect(flagged.length).toBeGreaterThan(0);
    for (const flag of flagged) expect(flag).toMatch(/\d, (above|below) its [\d.]+ % limit \d/);
    expect(flagged.join()).toMatch(/two highest values, [\d.]+, below its 2.5 % limit/);
  });

  it('describes every sample that a finding names', () => {
    const named = tables.find(({ id }) => id === 'scope/samples')!.rows.map((row) => JSON.stringify(row[0]));
    const samples = validation.findings
      .filter((f) => ['native internal standard', 'crucible memory', 'trueness'].includes(f.characteristic))
      .map((f) => f.level);
    expect(samples).toContain('ZP-4');
    for (const sample of samples) expect(named.join(' ')).toContain(sample);
  });

  it('says of which analytes the levels do not follow the content', () => {
    const [note] = tables.find(({ id }) => id === 'scope/samples')!.notes;
    expect(note).toContain('of Zr and Si the sample called low holds more than the one called high');
  });

  it('gives a time to reading for every analyte that was followed, also where the plan wants a longer one', () => {
    const conditions = fitnessConditions(validation).filter((line) => line.startsWith('For '));
    for (const { finding } of validation.stability)
      expect(conditions.filter((line) => line.split(':')[0]!.includes(finding.analyte)).length).toBe(1);
    expect(conditions.join(' ')).toContain(
      'For Si: the content in solution stays within the allowed change up to 48 h',
    );
  });

  it('names beside a met target uncertainty what it rests on that is not met or not shown', () => {
    const notes = conditionNotes(validation.findings).join('\n');
    const open = (characteristic: string) =>
      validation.findings
        .filter((f) => f.characteristic === characteristic && ['not met', 'not shown'].includes(f.verdict))
        .map((f) => f.analyte);
    expect(open('procedure blank')).toEqual(['Ca']);
    expect(open('crucible memory')).toEqual(['Fe']);
    expect(notes).toMatch(
      /Ca \(low\): target uncertainty .*blank of Ca is not shown, and 5\d % of the variance/,
    );
    expect(notes).toContain(
      'Fe (low, middle, high): target uncertainty is met on a condition: the crucible memory',
    );
    const table = tables.find(({ id }) => id === 'verdicts/table');
    for (const note of notes.split('\n')) expect(table?.notes).toContain(note);
    const [, glance] = tables.find(({ id }) => id === 'verdicts/matrix')!.notes;
    expect(glance).toMatch(/^Met on a condition only.*target uncertainty of (\w+, )*Fe, Ca/);
  });

  it('names the analyte where what was estimated differs between analytes', () => {
    const section = all(report.sections).find(({ id }) => id === 'characteristic/second line')!;
    const facts = section.blocks.flatMap((block) => (block.kind === 'facts' ? block.facts : []));
    const estimated = facts.find(({ name }) => name === 'Estimated')!.value.split('; ');
    for (const { finding } of validation.secondLines)
      expect(estimated.filter((part) => part.startsWith(`${finding.analyte}: `)).length).toBe(1);
  });

  it('sets each heading of every table that is gathered by a column once', () => {
    const torn = tables.filter(({ rows, groupedBy }) => {
      if (groupedBy === undefined) return false;
      const headings = rows.map((row) => {
        const cell = row[groupedBy];
        return cell?.kind === 'text' ? cell.text : JSON.stringify(cell);
      });
      const changes = headings.filter((heading, i) => heading !== headings[i - 1]);
      return changes.length > new Set(headings).size;
    });
    expect(torn.map(({ id }) => id)).toEqual([]);
  });

  it('sets each heading of the table of criteria once', () => {
    const table = criteriaTable(records.plan, validation.findings);
    const headings = table.rows.map((row) => JSON.stringify(row[0]));
    const changes = headings.filter((heading, i) => heading !== headings[i - 1]);
    expect(changes.length).toBe(new Set(headings).size);
    expect(tables).toContainEqual(table);
  });

  it('says of each criterion of the plan what became of it, or which report judges it', () => {
    const outcomes = criteriaTable(records.plan, validation.findings).rows.map((row) => {
      const [characteristic, analyte] = row;
      return [characteristic, analyte, row.at(-1)].map((cell) => (cell?.kind === 'text' ? cell.text : ''));
    });
    for (const [characteristic, , outcome] of outcomes) {
      if (characteristic!.endsWith('after change'))
        expect(outcome).toContain('report on an equipment change');
      else expect(outcome).toMatch(/^(not met|not shown|not studied|met) \(/);
    }
    const of = (name: string, analyte: string) => outcomes.find(([c, a]) => c === name && a === analyte)?.[2];
    expect(of('trueness', 'Al')).toBe('not met (Al QRM-1, Al QRM-2, Al QRM-3)');
    expect(of('trueness', 'Ti')).toBe('met (3)');
    expect(of('target uncertainty', 'Fe')).toBe('met (3, on a condition)');
    expect(of('native internal standard', 'all analytes')).toBe('not met (ZP-4); met (3)');
  });

  it('names what equipment came after the work, on the first page by what was used', () => {
    const later = records.equipment.filter((item) => item.inServiceFrom > '2026-03-13').map(({ id }) => id);
    expect(later).toEqual(['BAL-3', 'ICP-2']);
    const used = report.facts.find(({ name }) => name === 'On equipment')?.value.split(', ');
    expect(used).toEqual(records.equipment.map(({ id }) => id).filter((id) => !later.includes(id)));
    const equipment = JSON.stringify(report.sections.find(({ id }) => id === 'equipment'));
    for (const id of later) expect(equipment).toContain(`${id} (from `);
  });

  it('writes no decimal number with more than six significant digits', () => {
    const apart = ['self-check', 'records', 'provenance'];
    const texts = report.sections.filter(({ id }) => !apart.includes(id)).flatMap((s) => textsOf([s]));
    expect(texts.length).toBeGreaterThan(1000);
    const long = texts.flatMap((text) =>
      [...text.matchAll(/\d+\.\d+/g)]
        .map(([figure]) => figure)
        .filter((figure) => figure.replace('.', '').replace(/^0+/, '').length > 6),
    );
    expect(long).toEqual([]);
  });

  it('shows no measured number with more than six digits', () => {
    const shown = tables
      .filter(({ id }) => !id.startsWith('self-check'))
      .flatMap(({ id, rows }) => rows.flat().map((cell) => ({ id, cell })))
      .filter(({ cell }) => cell.kind === 'number' && cell.digits > 6 && !Number.isInteger(cell.value));
    expect(shown).toEqual([]);
  });

  it('leads every note of a characteristic by whom it speaks of', () => {
    const analytes = [...records.plan.analytes.map(({ analyte }) => analyte), 'all analytes', 'All rows'];
    const sections = report.sections.find(({ id }) => id === 'characteristics')!.sections;
    for (const { characteristic, analyte, notes } of validation.findings) {
      const section = sections.find(({ id }) => id === `characteristic/${characteristic}`)!;
      const lists = section.blocks.flatMap((block) => (block.kind === 'list' ? block.items : []));
      for (const note of notes) {
        const item = lists.find((text) => text.endsWith(`: ${note}`))!;
        expect(analytes.some((name) => item.startsWith(name))).toBe(true);
        if (!item.startsWith('All rows') && analyte !== '*') expect(item.split(': ')[0]).toContain(analyte);
      }
    }
  });
});
