import { describe, expect, it } from 'vitest';
import type { SolidState } from '../../../src/chain/mass-on-basis.js';
import { StudyFiles } from '../broken-study.js';

const states = (portionsWeighed: SolidState | undefined, basis: SolidState) =>
  new StudyFiles().json('study.json', (plan) => Object.assign(plan, { portionsWeighed, basis }));
const lacks = (row: number, sample: string, step: string, weighed: string, basis: string, more = '') =>
  `digestions.csv, row ${row}, column "sample": found "${sample}"${more}; expected a sample with a row "${step}" in the table moisture that is not excluded, as study.json weighs portions ${weighed} (portionsWeighed) and reports on the basis ${basis}`;

/** The small study has two samples that are not blank, S-1 and RM-1, both with a row "as received to dry" in moisture. */
describe('a sample without a loss of mass', () => {
  it('is a problem, as its result would be on another basis', async () => {
    const files = new StudyFiles().set('digestions.csv', 2, 'sample', 'S-2');
    expect(await files.problems()).toContain(lacks(2, 'S-2', 'as received to dry', 'as received', 'dry'));
  });

  it('is a problem where no sample has one', async () => {
    const files = new StudyFiles();
    delete files.files['moisture.csv'];
    expect((await files.problems()).join('\n')).toContain(
      'row "as received to dry" in the table moisture that is not excluded, as study.json weighs portions as received',
    );
    const headingOnly = new StudyFiles();
    headingOnly.files['moisture.csv'] = headingOnly.text('moisture.csv').split('\n')[0]!;
    expect((await headingOnly.problems()).join('\n')).toContain('row "as received to dry" in the table');
  });

  it.each<[SolidState, SolidState, readonly string[]]>([
    ['as received', 'as received', []],
    ['as received', 'dry', []],
    ['as received', 'ignited', ['dry to ignited']],
    ['dry', 'as received', []],
    ['dry', 'dry', []],
    ['dry', 'ignited', ['dry to ignited']],
    ['ignited', 'as received', ['dry to ignited']],
    ['ignited', 'dry', ['dry to ignited']],
    ['ignited', 'ignited', []],
  ])('weighed %s and reported %s lacks what lies between', async (weighed, basis, lacking) => {
    const problems = (await states(weighed, basis).problems()).filter((line) => line.includes('moisture'));
    expect(problems).toHaveLength(lacking.length * 2);
    for (const step of lacking) {
      expect(problems[0]).toContain(`a row "${step}" in the table moisture`);
      expect(problems[0]).toContain(
        `weighs portions ${weighed} (portionsWeighed) and reports on the basis ${basis}`,
      );
    }
  });

  it('is none where portions are weighed in the state reported', async () => {
    const files = states('dry', 'dry');
    delete files.files['moisture.csv'];
    expect(await files.problems()).toEqual([]);
  });

  it('is one where its row is excluded', async () => {
    const files = new StudyFiles().repeat('exclusions.csv', 2, {
      table: 'moisture',
      'row key': 'RM-1|as received to dry',
    });
    expect(await files.problems()).toEqual([lacks(4, 'RM-1', 'as received to dry', 'as received', 'dry')]);
  });

  it('is none where its row is there and could not be read', async () => {
    const files = new StudyFiles().set('moisture.csv', 3, 'loss g/100 g', 'x');
    expect(await files.problems()).toEqual([expect.stringContaining('moisture.csv, row 3')]);
    const basis = new StudyFiles().set('moisture.csv', 3, 'basis', 'dried');
    expect(await basis.problems()).toEqual([expect.stringContaining('moisture.csv, row 3')]);
  });
});

describe('a loss of mass', () => {
  it.each(['-0.2', '-99', '0', '99.9'])('of %s g/100 g is taken', async (loss) => {
    expect(await new StudyFiles().set('moisture.csv', 2, 'loss g/100 g', loss).problems()).toEqual([]);
  });

  it.each(['100', '-100'])('of %s g/100 g is refused', async (loss) => {
    expect(await new StudyFiles().set('moisture.csv', 2, 'loss g/100 g', loss).problems()).toEqual([
      `moisture.csv, row 2, column "loss g/100 g": found "${loss}"; expected a number above -100 and below 100`,
    ]);
  });
});

describe('a plan with the basis ignited', () => {
  it('must state the state in which portions are weighed', async () => {
    expect(await states(undefined, 'ignited').problems()).toContain(
      'study.json, key "portionsWeighed": found no such key; expected as received, dry or ignited, as the plan reports on the basis ignited',
    );
    expect((await states('dry', 'ignited').problems()).join('\n')).not.toContain('no such key');
  });

  it('refuses another word for it', async () => {
    expect(await states('wet' as SolidState, 'dry').problems()).toEqual([
      'study.json, key "portionsWeighed": found "wet"; expected one of: "as received", "dry", "ignited"; or no such key',
    ]);
  });
});
