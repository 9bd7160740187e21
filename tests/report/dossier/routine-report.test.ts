import { beforeAll, describe, expect, it } from 'vitest';
import { formatSignificant } from '../../../src/quantities/rounding.js';
import type { StudyRecords } from '../../../src/records/study-records.js';
import type { ReportDocument, Table } from '../../../src/report/document.js';
import { fitnessConditions, routineConditions } from '../../../src/report/dossier/fitness-conditions.js';
import { routineReport } from '../../../src/report/dossier/routine-report.js';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { otherRuleText } from '../../../src/studies/decision-rule.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { type RoutineResults, routineResults } from '../../../src/studies/routine-results/routine-results.js';

const provenance = { issue: '', created: '', versions: {}, seed: 3, parameters: {}, notes: [] };
const seed = 20260302;

describe('the report of a routine run', () => {
  let results: RoutineResults;
  let report: ReportDocument;
  beforeAll(() => {
    const validation = validateMatrix(zirconPigmentStudy({ seed }).records);
    results = routineResults(zirconRoutineRun(seed).records, validation);
    report = routineReport(results, { files: [], validationFiles: [], selfCheck: [], provenance });
  }, 120_000);

  const blocks = (section: string) => report.sections.find((s) => s.id === section)!.blocks;
  const table = (section: string) => blocks(section).find((b): b is Table => b.kind === 'table')!;
  const shown = (of: Table, row: number, column: number) => {
    const cell = of.rows[row]![column]!;
    return cell.kind === 'text' ? cell.text : '';
  };

  it('marks each result that goes out of an analyte that is not fit, and says why below', () => {
    const overview = table('results');
    const marked = overview.columns.flatMap(({ heading }, c) =>
      shown(overview, 0, c).endsWith('†') ? [heading] : [],
    );
    expect(marked).toEqual(['SiO2', 'Fe2O3', 'CaO']);
    for (const analyte of ['Si is not fit', 'Fe is not fit', 'Ca is not shown to be fit'])
      expect(overview.notes).toContainEqual(expect.stringContaining(`† By the validation, ${analyte}`));
    // Held results have their flag; Zr is fit.
    const column = (name: string) => overview.columns.findIndex(({ heading }) => heading === name);
    const held = overview.rows.findIndex((_, row) => shown(overview, row, 0) === 'RS-07');
    expect(shown(overview, held, column('SiO2'))).toMatch(/^held \(.*\)$/);
    expect(overview.notes.filter((note) => note.includes('Zr'))).toEqual([]);
  });

  it('says what no result is checked for, as the validation did not study it', () => {
    const { validation, run } = results;
    const unchecked = (of: typeof validation) =>
      routineConditions(of, run.index.records).filter((text) => text.startsWith('Not checked'));
    expect(unchecked(validation)).toEqual([]);
    const memory = validation.memory
      .filter((m) => m.finding.analyte !== 'Zr')
      .map((m) => (m.finding.analyte === 'Fe' ? { ...m, finding: { ...m.finding, criterion: null } } : m));
    expect(unchecked({ ...validation, memory, stability: [] })).toEqual([
      'Not checked for Zr, Fe: what the crucible held before, as the validation did not study its memory against a criterion.',
      'Not checked for Zr, Si, Pr, Hf, Fe, Ti, Ca: the time to reading, as the validation did not follow its solutions.',
    ]);
  });

  it('lists the rows that were left out, with their cause', () => {
    expect(blocks('exclusions')).toContainEqual({ kind: 'paragraph', text: 'No row was left out.' });
    const { records } = zirconRoutineRun(seed);
    const check = records.readings.find((r) => r.solution === 'CHK')!;
    const exclusion = {
      table: 'readings',
      rowKey: [check.run, check.position, check.analyte, check.lineNm, check.repeat].join('|'),
      who: 'S. Varrendale',
      when: '2026-04-14',
      technicalCause: 'air in the line',
    };
    const without = routineResults({ ...records, exclusions: [exclusion] }, results.validation);
    const { sections } = routineReport(without, {
      files: [],
      validationFiles: [],
      selfCheck: [],
      provenance,
    });
    const rows = sections
      .find((s) => s.id === 'exclusions')!
      .blocks.find((b): b is Table => b.kind === 'table' && b.id === 'exclusions/rows')!;
    expect([0, 1, 2, 3, 4].map((column) => shown(rows, 0, column))).toEqual(Object.values(exclusion));
  });

  it('marks decisions on conformity in the same way', () => {
    const decisions = table('conformity');
    const marks = (analyte: string) =>
      new Set(
        decisions.rows.flatMap((_, row) =>
          shown(decisions, row, 0) === analyte ? [shown(decisions, row, 2).endsWith('†')] : [],
        ),
      );
    expect(marks('Fe2O3')).toEqual(new Set([true]));
    expect(marks('ZrO2')).toEqual(new Set([false]));
    expect(decisions.notes.filter((note) => note.startsWith('†'))).toEqual([
      expect.stringContaining('† By the validation, Fe is not fit'),
    ]);
  });

  it('names the samples that no decision stands for', () => {
    const notes = table('conformity').notes.filter((note) => note.startsWith('Not decided'));
    expect(notes.map((note) => /^Not decided, (\w+):/.exec(note)![1])).toEqual(['ZrO2', 'Pr6O11', 'Fe2O3']);
    for (const { reportedAs, sample, status } of results.results) {
      const note = notes.find((each) => each.startsWith(`Not decided, ${reportedAs}:`));
      if (note === undefined) continue;
      const [held, without] = [/held ([^;.]*)/, /without value ([^;.]*)/].map((part) =>
        (part.exec(note)?.[1] ?? '').split(', '),
      );
      expect(held!.includes(sample)).toBe(status === 'held');
      expect(without!.includes(sample)).toBe(status === 'no result');
    }
  });

  it('prints the acceptance limits of each decision, and no probability beyond what is known', () => {
    const decisions = table('conformity');
    const at = (heading: string) => decisions.columns.findIndex((c) => c.heading === heading);
    for (const row of decisions.rows) {
      const lowest = row[at('Lowest accepted')]!;
      if (shown(decisions, decisions.rows.indexOf(row), 0) === 'Fe2O3') expect(lowest.kind).toBe('empty');
      else expect(lowest.kind).toBe('number');
      expect(row[at('Highest accepted')]!.kind).toBe('number');
      const probability = row[at('Conformance probability')]!;
      if (probability.kind === 'number') {
        expect(probability.value).toBeGreaterThanOrEqual(0.1);
        expect(probability.value).toBeLessThanOrEqual(99.9);
      } else
        expect(shown(decisions, decisions.rows.indexOf(row), at('Conformance probability'))).toMatch(
          /^(> 99\.9|< 0\.1)$/,
        );
    }
    // At full precision in the JSON.
    const { results: data } = report.data as { results: RoutineResults['results'] };
    expect(data.find((r) => r.conformity !== null)!.conformity!.conformanceProbability).toBeGreaterThan(
      0.999,
    );
  });

  it('says on its first page what a report of results needs, and what the records do not hold', () => {
    const facts = new Map(report.facts.map(({ name, value }) => [name, value]));
    expect(facts.get('Basis')).toBe(
      'dry (without moisture), by the loss on drying recorded for each sample; portions weighed as received',
    );
    expect(facts.get('Measured')).toBe('2026-04-14');
    expect(facts.get('Fused')).toBe('2026-04-13, 2026-04-14');
    expect(facts.get('Analysts')).toBe('J. Ellesby, R. Tamworthy (fusion)');
    expect(facts.get('On equipment')).toContain('BAL-1, BAL-2');
    expect(facts.get('Customer and day of receipt')).toBe('not in these records');
  });

  it('prints the rule it decides by, and says that the rule of the validation does not apply', () => {
    const text = JSON.stringify(blocks('conformity'));
    expect(text).toContain('Decision rule of this run: Guarded acceptance with a risk of at most 5 %');
    expect(text).toContain(
      'The plan of the validation, study zircon-pigment, names another rule, which does not apply to this run: Simple acceptance',
    );
    const { plan } = results.run.index.records;
    expect(otherRuleText(plan, plan)).toBe('');
  });

  it('states the conditions of the validation, for the analytes of the run', () => {
    const items = blocks('conditions').flatMap((b) => (b.kind === 'list' ? b.items : []));
    expect(items).toContainEqual(
      expect.stringContaining('for the mean of 2 digestion(s) of one day; the plan of this run asks for 1'),
    );
    expect(items).toContainEqual(
      expect.stringMatching(/^Tested working range: Zr 61\.5 to 64\.0 g\/100 g; Si /),
    );
    expect(items).toContainEqual(expect.stringContaining('do not follow a sample with more Fe'));
    expect(items).toContainEqual(expect.stringMatching(/^For Si: .* within 48 h/));
    expect(items.find((item) => item.startsWith('Tested'))).not.toContain('Al ');
  });

  it('says among the conditions that the loss in fusion is not studied, where nothing of it is known', () => {
    const { validation, run } = results;
    const isFusion = (item: string) => item.startsWith('Loss in fusion');
    expect([
      ...fitnessConditions(validation),
      ...routineConditions(validation, run.index.records),
    ]).not.toEqual(expect.arrayContaining([expect.stringMatching(/^Loss in fusion/)]));
    const without = (records: StudyRecords) => {
      const statedInputs = records.plan.statedInputs.filter((s) => s.name !== 'retained in fusion');
      return { ...records, plan: { ...records.plan, statedInputs } };
    };
    const portions = run.index.records.digestions.filter((d) => d.kind !== 'blank').length;
    expect(routineConditions(validation, without(run.index.records)).filter(isFusion)).toEqual([
      `Loss in fusion (spitting, or what stays back before dissolution) is not studied: no mass of the crucible with melt for ${portions} of ${portions} digestions with a portion, and no stated input "retained in fusion" for Zr, Si, Pr, Hf, Fe, Ti, Ca. It counts as none with no uncertainty, and the mass of the solution would not show it.`,
    ]);
    const { study } = validation;
    const index = { ...study.index, records: without(study.index.records) };
    expect(fitnessConditions({ ...validation, study: { ...study, index } }).filter(isFusion)).toHaveLength(1);
  });

  it('shows the mass balance of the fusions where melts were weighed', () => {
    expect(report.sections.map((s) => s.id)).not.toContain('fusion');
    const { index } = results.run;
    const samples = index.records.digestions.filter((d) => d.kind === 'sample');
    const digestions = samples.map((d, i) => {
      const lossG = i === 3 ? 0.015 : 0.01 + 1e-4 * ((i % 3) - 1);
      return { ...d, crucibleWithMeltG: d.crucibleWithPortionG + d.fluxG - lossG };
    });
    const run = { ...results.run, index: { ...index, records: { ...index.records, digestions } } };
    const context = { files: [], validationFiles: [], selfCheck: [], provenance };
    const section = routineReport({ ...results, run }, context).sections.find((s) => s.id === 'fusion')!;
    const [found] = section.blocks as [Table];
    expect(found.rows).toHaveLength(1);
    expect(shown(found, 0, 0)).toBe('other samples');
    expect(shown(found, 0, 6)).toMatch(new RegExp(`^${samples[3]!.digestion} \\(0\\.6\\d %\\)$`));
  });

  it('names what limits and controls are of as it is reported, and a check solution by its element', () => {
    expect(JSON.stringify(blocks('conformity'))).toContain('"ZrO2: at least 60 and at most 65 g/100 g');
    const of = (control: string) =>
      table('controls').rows.flatMap((row) =>
        row[0]!.kind === 'text' && row[0]!.text.includes(control) && row[1]!.kind === 'text'
          ? [row[1]!.text]
          : [],
      );
    expect(of('procedure blank')).toContain('ZrO2');
    expect(of('procedure blank')).not.toContain('Zr');
    expect(of('reference material')).toContain('ZrO2');
    expect(of('check solution')).toContain('Zr');
  });

  it('says in a sentence what the validation did not find fit', () => {
    const items = blocks('flags').flatMap((b) => (b.kind === 'list' ? b.items : []));
    expect(items).toContainEqual(expect.stringMatching(/^validation: Si is not fit for the intended use; /));
  });

  it('prints the limits of totals, with both lines of the figure named', () => {
    const [limits] = blocks('totals');
    expect(limits).toMatchObject({
      kind: 'paragraph',
      text: expect.stringMatching(/^Allowed by the plan: from 97\.5 to 102\.5 g\/100 g \(/),
    });
    const figure = blocks('totals').find((b) => b.kind === 'figure')!;
    const labels = figure.layout.annotations as { text: string; y: number }[];
    expect(labels.map(({ text, y }) => [text, y])).toEqual([
      ['lowest allowed 97.5 g/100 g', 97.5],
      ['highest allowed 102.5 g/100 g', 102.5],
    ]);
    expect(table('totals').caption).toContain('allowed from 97.5 to 102.5 g/100 g');
  });

  it('rounds each total to its uncertainty', () => {
    const rows = table('totals').rows;
    for (const [i, total] of results.totals.entries()) {
      const [value, uncertainty] = [rows[i]![1]!, rows[i]![2]!].map((cell) =>
        cell.kind === 'number' ? formatSignificant(cell.value, cell.digits) : cell.kind,
      );
      // The last place of both is the second digit of U, which lies between 0.50 and 1.9 g/100 g.
      const places = total.expandedUncertainty < 0.995 ? 2 : 1;
      expect([value, uncertainty]).toEqual([
        total.value.toFixed(places),
        total.expandedUncertainty.toFixed(places),
      ]);
    }
  });

  it('names what is missing in the totals and the samples that have none, with the reasons', () => {
    const of = table('totals');
    const missing = of.columns.findIndex(({ heading }) => heading === 'Missing');
    expect(new Set(of.rows.map((_, row) => shown(of, row, missing)))).toEqual(new Set(['Al2O3']));
    const items = blocks('totals').flatMap((b) => (b.kind === 'list' ? b.items : []));
    expect(items).toEqual([
      expect.stringMatching(
        /^Missing: Al2O3, not in the plan of the run; by its validation, Al is not fit .*trueness.*0\.\d\d to 0\.\d\d g\/100 g as found there \(all totals\)\.$/,
      ),
      'Not in the total: loss on ignition, which is not recorded (all totals).',
      expect.stringMatching(/^No total of RS-19: .*no mass of the empty vessel/),
    ]);
  });
});
