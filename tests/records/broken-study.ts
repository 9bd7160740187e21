import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describeIssue, type RecordIssue } from '../../src/errors.js';
import { checkStudy } from '../../src/records/read-study.js';
import { encodeStudy } from '../../src/records/write-study.js';
import { temporaryFolder } from '../support/temporary-folder.js';
import { smallStudy } from './small-study.js';

/** Files of the small study, to be broken. */
export class StudyFiles {
  readonly files: Record<string, string | Uint8Array> = encodeStudy(smallStudy);

  text(file: string): string {
    return String(this.files[file]);
  }

  /** Puts a text into one cell; `row` as a spreadsheet counts. */
  set(file: string, row: number, heading: string, value: string): this {
    const rows = this.rows(file);
    const column = rows[0]!.indexOf(heading);
    if (column < 0) throw new Error(`no column ${heading}`);
    rows[row - 1]![column] = value;
    return this.put(file, rows);
  }

  /** Repeats a row at the end of its table, with some cells changed. */
  repeat(file: string, row: number, changes: Readonly<Record<string, string>> = {}): this {
    const rows = this.rows(file);
    rows.push([...rows[row - 1]!]);
    this.put(file, rows);
    for (const [heading, value] of Object.entries(changes)) this.set(file, rows.length, heading, value);
    return this;
  }

  rename(file: string, heading: string, other: string): this {
    const rows = this.rows(file);
    rows[0] = rows[0]!.map((each) => (each === heading ? other : each));
    return this.put(file, rows);
  }

  dropColumn(file: string, heading: string): this {
    const rows = this.rows(file);
    const column = rows[0]!.indexOf(heading);
    return this.put(
      file,
      rows.map((row) => row.filter((_, i) => i !== column)),
    );
  }

  /** Changes a JSON document. */
  json(file: string, change: (document: Record<string, never> & Record<string, unknown>) => void): this {
    const document = JSON.parse(this.text(file));
    change(document);
    this.files[file] = JSON.stringify(document);
    return this;
  }

  async check(): Promise<readonly RecordIssue[]> {
    return (await checkStudy(this.write())).issues;
  }

  /** Each problem as people read it. */
  async problems(): Promise<string[]> {
    return (await this.check()).map(describeIssue);
  }

  write(): string {
    const folder = join(temporaryFolder(), 'study');
    mkdirSync(folder);
    for (const [file, content] of Object.entries(this.files)) writeFileSync(join(folder, file), content);
    return folder;
  }

  private rows(file: string): string[][] {
    return this.text(file).trimEnd().split('\n').map(splitLine);
  }

  private put(file: string, rows: readonly (readonly string[])[]): this {
    this.files[file] = rows.map((row) => `${row.join(',')}\n`).join('');
    return this;
  }
}

/** Cells of one line, quotation marks kept. */
export function splitLine(line: string): string[] {
  const cells = [''];
  let isQuoted = false;
  for (const character of line) {
    if (character === '"') isQuoted = !isQuoted;
    if (character === ',' && !isQuoted) cells.push('');
    else cells[cells.length - 1] += character;
  }
  return cells;
}
