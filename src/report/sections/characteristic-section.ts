import { formatSignificant } from '../../quantities/rounding.js';
import type { Finding, RowReference } from '../../validation/finding.js';
import { column, countCell, degreesOfFreedomCell, empty, estimateCell, text, verdictCell } from '../cells.js';
import type { Block, Cell, Figure, Section, Table } from '../document.js';
import { listOf, sectionOf } from '../section-of.js';
import { criterionText } from './criterion-text.js';
import { analyteName, characteristicId, findingsInOrder } from './finding-order.js';

/** Row keys printed one by one; of more, the first and last and their number. */
const printedKeys = 8;

function distinct(values: readonly string[]): string[] {
  return [...new Set(values.filter((value) => value !== ''))];
}

/**
 * Rows of one table in words.
 *
 * @example
 * rowsText({ table: 'digestions', keys: ['D-1', 'D-2'] }) // => "digestions: D-1, D-2"
 */
export function rowsText({ table, keys }: RowReference): string {
  if (keys.length <= printedKeys) return `${table}: ${keys.join(', ')}`;
  return `${table}: ${keys[0]} to ${keys.at(-1)}, ${keys.length} rows in all, each in the JSON of this report`;
}

function figureRow(finding: Finding): Cell[] {
  const { limits, criterion } = finding;
  return [
    text(analyteName(finding.analyte)),
    text(finding.level === '*' ? 'all levels' : finding.level),
    estimateCell(finding.estimate),
    estimateCell(limits?.lowerOneSided ?? null),
    estimateCell(limits?.upperOneSided ?? null),
    limits === null ? empty('none') : text(intervalText(limits.low, limits.high)),
    text(finding.unit),
    degreesOfFreedomCell(finding.degreesOfFreedom, 'none'),
    countCell(finding.n),
    criterion === null ? empty('none set') : text(criterionText(criterion)),
    verdictCell(finding.verdict),
  ];
}

/** Two ends of an interval, in the digits of the limits beside it. */
function intervalText(low: number, high: number): string {
  const shown = (value: number): string =>
    (Number.isFinite(value) ? formatSignificant(value, 3) : String(value)).replace('-', '\u2212');
  return `${shown(low)} to ${shown(high)}`;
}

function figureTable(characteristic: string, findings: readonly Finding[]): Table {
  return {
    kind: 'table',
    id: `${characteristicId(characteristic)}/figures`,
    caption: `${characteristic}: estimates, limits and verdicts`,
    columns: [
      column('Analyte'),
      column('Level'),
      column('Estimate'),
      column('Lower one-sided'),
      column('Upper one-sided'),
      column('95 % interval'),
      column('Unit'),
      column('ν'),
      column('n'),
      column('Criterion'),
      column('Verdict'),
    ],
    rows: findings.map(figureRow),
    notes: [
      'ν: degrees of freedom; n: independent results behind the estimate.',
      ...(findings.some(({ limits, estimate }) => limits === null && estimate !== null)
        ? [
            'No limits: the figure has no sampling error of its own (a computed figure, the worst of single readings, a longest tested time) and is compared as it stands, or the data give none; the ground says which.',
          ]
        : []),
    ],
    groupedBy: 0,
  };
}

function groundTable(characteristic: string, findings: readonly Finding[]): Table {
  return {
    kind: 'table',
    id: `${characteristicId(characteristic)}/grounds`,
    caption: `${characteristic}: ground of each verdict and rows used`,
    columns: [
      column('Analyte'),
      column('Level'),
      column('Verdict'),
      column('Ground'),
      column('Criterion set because'),
      column('Rows used'),
    ],
    rows: findings.map((finding) => [
      text(analyteName(finding.analyte)),
      text(finding.level === '*' ? 'all levels' : finding.level),
      verdictCell(finding.verdict),
      text(finding.reason),
      finding.criterion === null
        ? empty('none set')
        : text(`${finding.criterion.reason} (${finding.criterion.owner})`),
      finding.rows.length === 0 ? empty('none') : text(finding.rows.map(rowsText).join('; ')),
    ]),
    notes: [],
    groupedBy: 0,
  };
}

/** Analytes and levels of findings in words: `Zr (low, high), Si (middle)`; no levels where all of an analyte are meant. */
function placesText(findings: readonly Finding[], all: readonly Finding[]): string {
  const analytes = distinct(findings.map(({ analyte }) => analyte));
  return analytes
    .map((analyte) => {
      const levels = findings.filter((finding) => finding.analyte === analyte).map(({ level }) => level);
      const named = distinct(levels).filter((level) => level !== '*');
      const isWhole = all.filter((finding) => finding.analyte === analyte).length === levels.length;
      return named.length === 0 || (isWhole && analyte !== '*')
        ? analyteName(analyte)
        : `${analyteName(analyte)} (${named.join(', ')})`;
    })
    .join(', ');
}

/** What the findings have in common; where it differs, each part led by the analytes and levels it speaks of. */
function factText(findings: readonly Finding[], pick: (finding: Finding) => string): string {
  const parts = distinct(findings.map(pick));
  if (parts.length < 2) return parts.join('');
  return parts
    .map((part) => {
      const own = findings.filter((finding) => pick(finding) === part);
      return `${placesText(own, findings)}: ${part}`;
    })
    .join('; ');
}

/** Every note once, led by the analytes and levels it speaks of. */
function notesByPlace(findings: readonly Finding[]): string[] {
  return distinct(findings.flatMap(({ notes }) => notes)).map((note) => {
    const own = findings.filter(({ notes }) => notes.includes(note));
    const place = own.length === findings.length && own.length > 1 ? 'All rows' : placesText(own, findings);
    return `${place}: ${note}`;
  });
}

/**
 * One performance characteristic over all analytes and levels: what was estimated and how, by which clause, figures, the
 * table of estimates with limits and verdicts, the ground of each verdict with the rows it rests on, and notes.
 *
 * @param findings all of one characteristic, at least one
 * @param figures shown before the tables
 * @param more blocks shown after them, such as a table of intermediate results
 */
export function characteristicSection(
  findings: readonly [Finding, ...Finding[]],
  figures: readonly Figure[] = [],
  more: readonly Block[] = [],
): Section {
  const { characteristic } = findings[0];
  const ordered = findingsInOrder(findings);
  const joined = (pick: (finding: Finding) => string): string => factText(ordered, pick);
  const facts = [
    { name: 'Estimated', value: joined(({ quantity }) => quantity) },
    { name: 'Method', value: joined(({ method }) => method) },
    { name: 'Source of the calculation', value: joined(({ clause }) => clause) },
  ].filter(({ value }) => value !== '');
  return sectionOf({
    id: characteristicId(characteristic),
    heading: characteristic.charAt(0).toUpperCase() + characteristic.slice(1),
    blocks: [
      { kind: 'facts', facts },
      ...figures,
      figureTable(characteristic, ordered),
      groundTable(characteristic, ordered),
      ...listOf(notesByPlace(ordered)),
      ...more,
    ],
  });
}
