import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { describeIssue, InputError } from '../../../src/errors.js';
import { beginStudy } from '../../../src/records/begin/begin-study.js';
import { equipmentShape } from '../../../src/records/json/equipment-shape.js';
import { checkStudy } from '../../../src/records/read-study.js';
import { tableNames } from '../../../src/records/study-tables.js';
import { encodeStudy } from '../../../src/records/write-study.js';
import { temporaryFolder } from '../../support/temporary-folder.js';
import { smallStudy } from '../small-study.js';

const options = {
  example: resolve(__dirname, '../../../data/zircon-pigment'),
  cautionRule: 'Local rules come first.',
  cautions: ['Melt and water: keep them apart.'],
};

describe('a study begun', () => {
  it('holds plan, register, a guide and every table with its headings', async () => {
    const folder = join(temporaryFolder(), 'new-study');
    await beginStudy(folder, options);
    expect(readdirSync(folder).sort()).toEqual(
      ['README.md', 'equipment.json', 'study.json', ...tableNames.map((name) => `${name}.csv`)].sort(),
    );
    const guide = readFileSync(join(folder, 'README.md'), 'utf8');
    expect(guide).toContain('Melt and water: keep them apart.');
    expect(guide).toContain('**crucible with portion g**');
    expect(guide).toContain('Worked row (invented)');
    expect(readFileSync(join(folder, 'dilutions.csv'), 'utf8')).toMatch(/,internal standard g,balance\n$/);
    expect(guide).toContain(
      '- **balance** (may be empty): balance that weighed the masses of this row: its id in equipment.json; left empty, or without the column: the vessel balance of the digestion; a text.',
    );
    expect(guide).toContain('- `correct`: `always`, or `where significant`');
    for (const words of [
      '- `portionsWeighed` (may be left out): `as received`, `dry` or `ignited`: state of the sample when its portions are weighed',
      'left out: as received; with the basis `ignited` it must be stated',
      '- as received from dry: m/(1 − M); dry from ignited: m/(1 − LOI)',
      'in g/100 g of the sample as received, or loss on ignition, in g/100 g of the dry sample',
    ])
      expect(guide).toContain(words);
    expect(guide).toContain(
      '- `per flux mass and digestion`: a line b_f·m_flux + b_0 fitted to the procedure blanks',
    );
  });

  it('explains every key of study.json, those that the demonstration study does without too', async () => {
    const folder = join(temporaryFolder(), 'new-study');
    await beginStudy(folder, options);
    const guide = readFileSync(join(folder, 'README.md'), 'utf8');
    const plan = JSON.parse(readFileSync(join(options.example, 'study.json'), 'utf8')) as Record<
      string,
      unknown
    >;
    for (const key of Object.keys(plan)) expect(guide, key).toMatch(new RegExp(`^- \`${key}\``, 'm'));
    for (const key of ['density', 'flask', 'recovery', 'secondSource', 'carryOver', 'routine', 'decimalMark'])
      expect(guide, key).toContain(`- \`${key}\` (may be left out): `);
    expect(guide).toContain('  - `lowLevelSample` (may be left out): ');
    expect(guide).toContain('`carry-over`');
  });

  it('explains every key of equipment.json, with the unit and the place of a figure in a certificate', async () => {
    const folder = join(temporaryFolder(), 'new-study');
    await beginStudy(folder, options);
    const guide = readFileSync(join(folder, 'README.md'), 'utf8');
    const register = guide.slice(
      guide.indexOf('## Keys of equipment.json'),
      guide.indexOf('## digestions.csv'),
    );
    const balance = equipmentShape.keys!.filter(({ path }) => /^\[\]\.(?:balance|volume)\./.test(path));
    expect(balance).toHaveLength(8 + 4);
    for (const { path } of equipmentShape.keys!)
      expect(register, path).toMatch(
        new RegExp(`^ *- \`${path.split('.').at(-1)}\`(?: \\(may be left out\\))?: `, 'm'),
      );
    for (const words of [
      '- `inServiceTo`: date of the last day; `null` while it is in service.',
      '- `kind`: `balance`, `dispenser` (also pipettes and flasks), `spectrometer`, `furnace` or `other`.',
      'divided by the test load of that test, g/g.',
    ])
      expect(register).toContain(words);
  });

  it('says how a routine run and a blank without portion are entered, and which name counts for what', async () => {
    const folder = join(temporaryFolder(), 'new-study');
    await beginStudy(folder, options);
    const guide = readFileSync(join(folder, 'README.md'), 'utf8');
    for (const words of [
      'reports are numbered under the name of the folder',
      'in a routine run the list is empty, `[]`',
      'in a routine run only `check solution`, `second line` and `total of oxides` act, and the list may be empty, `[]`',
      'for a blank without portion the same figure as crucible g',
    ])
      expect(guide).toContain(words);
    expect(guide).not.toContain('under which its reports are numbered');
  });

  it('carries nothing over from the example but its form: the check asks for every value', async () => {
    const folder = join(temporaryFolder(), 'new-study');
    await beginStudy(folder, options);
    expect(readFileSync(join(folder, 'study.json'), 'utf8')).not.toContain('Quillmere');
    const { issues } = await checkStudy(folder);
    const columns = issues.map((issue) => `${issue.file} ${issue.column}`);
    for (const key of ['title', 'laboratory', 'basis', 'nominal.portionG', 'internalStandard.mode']) {
      expect(columns, key).toContain(`study.json ${key}`);
    }
    expect(issues.every((issue) => issue.expected !== '')).toBe(true);
  });

  it('asks in words for what is to be filled in, and says what may be left out', async () => {
    const folder = join(temporaryFolder(), 'new-study');
    await beginStudy(folder, options);
    const { issues, missingTables } = await checkStudy(folder);
    const lines = issues.map(describeIssue);
    expect(missingTables).toEqual(tableNames);
    for (const line of [
      'study.json, key "title": found ""; expected a text',
      'study.json, key "planDate": found ""; expected a calendar date such as "2025-03-14"',
      'study.json, key "analytes[0].secondLineNm": found null; expected a number above 0; or no such key',
      'study.json, key "analytes[0].lineNm": found null; expected a number above 0',
      'study.json, key "carryOver": found nothing filled in; expected an object with the keys solution; or no such key',
      'study.json, key "levels[0]": found nothing filled in; expected an object with the keys level, sample; or no such entry',
      'study.json, key "stability": found nothing filled in; expected an object with the keys digestions, wantedHours, allowedChangePercent; or null',
      'digestions.csv: found no row below the heading; expected at least one row: one digestion',
    ])
      expect(lines).toContain(line);
    expect(lines.filter((line) => line.includes('key "planning'))).toHaveLength(1);
  });

  it('asks for each value of a part as soon as one of it is filled in', async () => {
    const folder = join(temporaryFolder(), 'new-study');
    await beginStudy(folder, options);
    const path = join(folder, 'equipment.json');
    const [blank] = JSON.parse(readFileSync(path, 'utf8')) as Record<string, unknown>[];
    writeFileSync(path, JSON.stringify([{ ...blank, id: 'BAL-7' }]));
    const lines = (await checkStudy(folder)).issues.map(describeIssue);
    for (const line of [
      'equipment.json, key "[0].location": found ""; expected a text',
      'equipment.json, key "[0].inServiceTo": found ""; expected a calendar date such as "2025-03-14"; or null',
      'equipment.json, key "[0].balance": found nothing filled in; expected an object with the keys repeatabilityG, scaleIntervalG, linearityG, sensitivityRelative, eccentricityRelative, temperatureCoefficientPerK, temperatureHalfWidthK, driftRelative; or no such key',
    ])
      expect(lines).toContain(line);
  });

  it('has no problem in a table that stays empty and is not required', async () => {
    const folder = join(temporaryFolder(), 'new-study');
    await beginStudy(folder, options);
    const { issues } = await checkStudy(folder);
    const tables = new Set(issues.map(({ file }) => file).filter((file) => file.endsWith('.csv')));
    expect([...tables].sort()).toEqual(['calibration.csv', 'digestions.csv', 'readings.csv']);
  });

  it('passes the check once it holds sound records, its empty tables left as they are', async () => {
    const folder = join(temporaryFolder(), 'new-study');
    await beginStudy(folder, options);
    for (const [file, content] of Object.entries(encodeStudy({ ...smallStudy, factors: [] }))) {
      writeFileSync(join(folder, file), content);
    }
    const { issues, missingTables } = await checkStudy(folder);
    expect([issues.map(describeIssue), missingTables]).toEqual([[], ['factors']]);
  });

  it('refuses a folder that holds something, and writes nothing', async () => {
    const folder = join(temporaryFolder(), 'new-study');
    await beginStudy(folder, options);
    const before = readdirSync(folder);
    await expect(beginStudy(folder, options)).rejects.toThrow(InputError);
    expect(readdirSync(folder)).toEqual(before);
  });
});
