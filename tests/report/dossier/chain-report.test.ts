import { beforeAll, describe, expect, it } from 'vitest';
import type { Block, Cell, Figure, ReportDocument, Section, Table } from '../../../src/report/document.js';
import { functionTable } from '../../../src/report/dossier/chain-outcome-tables.js';
import { chainReport } from '../../../src/report/dossier/chain-report.js';
import { chainAnswer } from '../../../src/report/dossier/chain-sentences.js';
import { renderHtml } from '../../../src/report/render-html.js';
import { renderJson } from '../../../src/report/render-json.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import {
  type ChainUncertainty,
  chainUncertainty,
} from '../../../src/studies/chain-uncertainty/chain-uncertainty.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { htmlElements } from '../../support/html-elements.js';

const provenance = { issue: '', created: '', versions: {}, seed: 3, parameters: {}, notes: [] };

describe('the report on the uncertainty of the chain', () => {
  let chain: ChainUncertainty;
  let report: ReportDocument;
  beforeAll(async () => {
    const validation = validateMatrix(zirconPigmentStudy({ seed: 20260302 }).records);
    const budgets = validation.budgets.filter((b) => ['Zr', 'Al', 'Ca'].includes(b.analyte));
    chain = await chainUncertainty({ ...validation, budgets }, { seed: 3, trials: 4000 });
    report = chainReport(chain, { files: [], selfCheck: [], provenance });
  }, 120_000);

  const sections = (list: readonly Section[]): Section[] =>
    list.flatMap((section) => [section, ...sections(section.sections)]);
  const blocks = (): Block[] => sections(report.sections).flatMap((section) => section.blocks);
  const table = (id: string) => blocks().find((b): b is Table => b.kind === 'table' && b.id === id)!;
  const figure = (id: string) => blocks().find((b): b is Figure => b.kind === 'figure' && b.id === id)!;
  const named = (rows: readonly (readonly Cell[])[]) =>
    rows.map((row) =>
      row
        .slice(0, 2)
        .map((cell) => (cell.kind === 'text' ? cell.text : ''))
        .join(' '),
    );

  it('holds one row a result in every table of results', () => {
    // Figures of the oxide stand under the oxide.
    const { plan } = chain.validation.study.index.records;
    const form = (analyte: string) => plan.analytes.find((a) => a.analyte === analyte)!.oxide;
    const expected = chain.levels.map((l) => `${form(l.analyte)} ${l.level}`);
    expect(expected).toHaveLength(9);
    for (const id of ['overview', 'scatter', 'routes'].map((name) => `${name}/table`)) {
      expect(named(table(id).rows)).toEqual(expected);
    }
    for (const id of ['methods/components', 'methods/precision', 'methods/known']) {
      expect(named(table(id).rows)).toEqual(expected);
    }
  });

  it('warns that the loss in fusion is not studied, where nothing of it is known', () => {
    const cautions = (of: ReportDocument) =>
      of.sections[0]!.blocks.flatMap((b) => (b.kind === 'caution' ? [b.text] : [])).filter((text) =>
        text.startsWith('Loss in fusion'),
      );
    expect(cautions(report)).toEqual([]);
    const { study } = chain.validation;
    const { records } = study.index;
    const statedInputs = records.plan.statedInputs.filter((s) => s.name !== 'retained in fusion');
    const index = { ...study.index, records: { ...records, plan: { ...records.plan, statedInputs } } };
    const validation = { ...chain.validation, study: { ...study, index } };
    const without = chainReport({ ...chain, validation }, { files: [], selfCheck: [], provenance });
    expect(cautions(without)).toHaveLength(1);
  });

  it('tells the largest steps by the median of their shares, the mean of the middle two of an even number', () => {
    const even = { ...chain, levels: chain.levels.slice(0, 2) };
    const words = chainAnswer(even).join(' ');
    const [first, second] = even.levels.map(({ shares }) => shares.find((s) => s.step === 'emission')!.share);
    expect(words).toContain(`emission ${(50 * (first! + second!)).toFixed(0)} %`);
    expect(Math.abs(first! - second!)).toBeGreaterThan(0.02);
  });

  it('draws bars that add to 100 %', () => {
    const { traces } = figure('shares/figure-1');
    const bars = (traces[0]!.x as number[]).map((_, i) =>
      traces.reduce((sum, trace) => sum + (trace.x as number[])[i]!, 0),
    );
    expect(bars).toHaveLength(9);
    for (const total of bars) expect(total).toAgreeWithin(100, 1e-12);
  });

  it('draws both routes where the tables put them', () => {
    const marks = figure('routes/figure-1').traces.map((trace) => trace.x as number[]);
    chain.levels.forEach(({ routes }, i) => {
      const relative = [routes.componentsAlone, routes.components, routes.precision].map(
        (b) => (100 * b.standardUncertainty) / b.estimate,
      );
      relative.forEach((value, trace) => {
        expect(marks[trace]![i]).toAgreeWithin(value, 1e-12);
      });
    });
  });

  it('warns of the analyte whose budgets do not hold what was found, and hands its function on with that word', () => {
    const cautions = blocks().flatMap((b) => (b.kind === 'caution' ? [b.text] : []));
    expect(cautions.filter((words) => words.includes('QRM-1 and QRM-2'))).toHaveLength(1);
    const last = table('function/table').rows.map((row) => row.at(-1)!);
    expect(last.map((cell) => (cell.kind === 'text' ? cell.text.slice(0, 17) : ''))).toEqual([
      'yes',
      'not until settled',
      'yes',
    ]);
  });

  it('names no input by its symbol alone in the reasons for a difference', () => {
    const reasons = table('methods/reasons').rows.map((row) => (row[3]!.kind === 'text' ? row[3]!.text : ''));
    expect(reasons.length).toBeGreaterThan(9);
    expect(reasons.filter((reason) => /^\w+_\w+ has/.test(reason))).toEqual([]);
  });

  it('carries the functions and each budget once into JSON, and renders to sound HTML', () => {
    const { data } = JSON.parse(renderJson(report)) as {
      data: { uncertaintyFunctions: unknown[]; levels: { components: { lines: unknown[] } }[] };
    };
    expect(data.uncertaintyFunctions).toEqual(JSON.parse(JSON.stringify(chain.functions)));
    expect(data.levels[0]!.components.lines.length).toBe(chain.levels[0]!.routes.components.lines.length);
    expect(JSON.stringify(data)).not.toContain('histogram');
    expect(() => htmlElements(renderHtml(report, { figures: 'tables only' }))).not.toThrow();
  });
});

it('the table of functions says once why an analyte has none', () => {
  const missing = 'found 1 level of Al, expected two different ones';
  const [row] = functionTable([{ analyte: 'Al', unit: 'g/100 g', missing }]).rows;
  expect(row).toHaveLength(10);
  expect(JSON.stringify(row).split(missing)).toHaveLength(2);
  expect(row!.at(-1)).toEqual({ kind: 'text', text: `no function: ${missing}` });
});
