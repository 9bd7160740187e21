import { describe, expect, it } from 'vitest';
import type { StudyPlan } from '../../../src/records/study.js';
import { StudyFiles } from '../broken-study.js';
import { smallStudy } from '../small-study.js';

const { plan } = smallStudy;
const [first, second] = plan.analytes;
const [criterion] = plan.criteria;
const [stated] = plan.statedInputs;

type Case = readonly [what: string, changes: Partial<Record<keyof StudyPlan, unknown>>, problem: string];

const cases: readonly Case[] = [
  [
    'an unknown key',
    { colour: 'red' } as object,
    'key "colour": found an unknown key; expected one of: schema, ',
  ],
  ['a missing key', { matrix: undefined }, 'key "matrix": found no such key; expected a text'],
  [
    'a date that is none',
    { planDate: '2025-13-01' },
    'key "planDate": found "2025-13-01"; expected a calendar date',
  ],
  [
    'a key of a nested object',
    { nominal: { ...plan.nominal, fluxG: -2 } },
    'key "nominal.fluxG": found -2; expected a number above 0',
  ],
  [
    'a key of a list',
    { analytes: [first, { ...second, measuredIn: 'beaker' }] },
    'key "analytes[1].measuredIn": found "beaker"; expected one of: "digestion", "dilution"',
  ],
  ['no analyte', { analytes: [] }, 'key "analytes": found []; expected a list of at least 1'],
  [
    'no element',
    { analytes: [{ ...first, analyte: 'Al2' }, second] },
    'key "analytes[0].analyte": found "Al2"; expected the symbol of an element',
  ],
  [
    'an analyte twice',
    { analytes: [first, second, first] },
    'key "analytes[2].analyte": found "Al"; expected each analyte once',
  ],
  [
    'the internal standard as an analyte',
    { analytes: [first, second, { ...second, analyte: 'Sc' }] },
    'key "analytes[2].analyte": found "Sc"; expected another element than the internal standard',
  ],
  [
    'an oxide of another element',
    { analytes: [{ ...first, oxide: 'AlF3' }, second] },
    'key "analytes[0].oxide": found "AlF3"; expected an oxide of Al',
  ],
  [
    'a second line that is the first',
    { analytes: [{ ...first, secondLineNm: first!.lineNm }, second] },
    'key "analytes[0].secondLineNm": found 396.152; expected another line',
  ],
  [
    'a second line that is all of the result',
    { analytes: [{ ...first, secondLineShare: 1 }, second] },
    'key "analytes[0].secondLineShare": found 1; expected a share below 1, and a secondLineNm that has it',
  ],
  [
    'a share of a second line that there is not',
    { analytes: [first, { ...second, secondLineNm: undefined, secondLineShare: 0.5 }] },
    'key "analytes[1].secondLineShare": found no secondLineNm; expected a share below 1, and a secondLineNm that has it',
  ],
  [
    'a share above all',
    { analytes: [{ ...first, secondLineShare: 1.2 }, second] },
    'key "analytes[0].secondLineShare": found 1.2; expected a number',
  ],
  [
    'a characteristic that is misspelt',
    { criteria: [{ ...criterion, characteristic: 'truness' }] },
    'key "criteria[0].characteristic": found "truness"; expected one of: "repeatability", ',
  ],
  [
    'a criterion for an unknown analyte',
    { criteria: [{ ...criterion, analyte: 'A1' }] },
    'key "criteria[0].analyte": found "A1"; expected one of: Al, Zr, *',
  ],
  [
    'two criteria for one thing',
    { criteria: [criterion, criterion] },
    'key "criteria[1]": found trueness, Al, *; expected one criterion for each',
  ],
  [
    'limits in the wrong order',
    { criteria: [{ ...criterion, lower: 7 }] },
    'key "criteria[0].limit": found 5; expected a number above the lower limit 7',
  ],
  [
    'a lower limit beside "at most"',
    { criteria: [{ ...criterion, characteristic: 'recovery before fusion', kind: 'at most' }] },
    'key "criteria[0].lower": found -4; expected no such key',
  ],
  [
    'a bias with an upper edge only',
    { criteria: [{ ...criterion, lower: undefined, kind: 'at most' }] },
    'key "criteria[0].kind": found "at most"; expected "within", as trueness lies on either side of 0 and "at most" keeps any negative value',
  ],
  [
    'a difference of methods with a lower edge only',
    { criteria: [{ ...criterion, characteristic: 'method comparison', lower: undefined, kind: 'at least' }] },
    'key "criteria[0].kind": found "at least"; expected "within", as method comparison lies on either side of 0 and "at least" keeps any positive value',
  ],
  [
    'a stated input for an unknown analyte',
    { statedInputs: [{ ...plan.statedInputs[0], analyte: 'Fe' }] },
    'key "statedInputs[0].analyte": found "Fe"; expected one of: Al, Zr, *',
  ],
  [
    'recovery limits in the wrong order',
    { internalStandard: { ...plan.internalStandard, recoveryHigh: 0.8 } },
    'key "internalStandard.recoveryHigh": found 0.8; expected a number above 0.9',
  ],
  [
    'a line through blanks of one mass of flux',
    { blank: { scaling: 'per flux mass and digestion' } },
    'key "blank.scaling": found "per flux mass and digestion" with 1 procedure blanks of 1 mass(es) of flux; expected at least 3 procedure blanks of different masses of flux',
  ],
  [
    'another rule for the blank',
    { blank: { scaling: 'per litre' } },
    'key "blank.scaling": found "per litre"; expected one of: "per flux mass", "per digestion", "per flux mass and digestion"',
  ],
  [
    'a recovery of an unknown analyte',
    { recovery: [{ analyte: 'Fe', from: 'additions before fusion', correct: 'always' }] },
    'key "recovery[0].analyte": found "Fe"; expected one of: Al, Zr',
  ],
  [
    'two recoveries of one analyte',
    {
      recovery: [
        { analyte: 'Al', from: 'additions before fusion', correct: 'always' },
        { analyte: 'Al', from: 'reference materials', materials: ['RM-1'], correct: 'always' },
      ],
    },
    'key "recovery[1].analyte": found "Al"; expected each analyte once',
  ],
  [
    'a recovery from materials without their names',
    { recovery: [{ analyte: 'Al', from: 'reference materials', correct: 'always' }] },
    'key "recovery[0].materials": found no such key; expected the materials whose results give the recovery',
  ],
  [
    'materials beside a recovery from additions',
    {
      recovery: [{ analyte: 'Al', from: 'additions before fusion', materials: ['RM-1'], correct: 'always' }],
    },
    'key "recovery[0].materials": found RM-1; expected no such key',
  ],
  [
    'a material that is not certified for the analyte',
    { recovery: [{ analyte: 'Zr', from: 'reference materials', materials: ['RM-1'], correct: 'always' }] },
    'key "recovery[0].materials[0]": found "RM-1"; expected a material that the table references certifies for Zr',
  ],
  [
    'a recovery from additions that were not made',
    { recovery: [{ analyte: 'Zr', from: 'additions before fusion', correct: 'where significant' }] },
    'key "recovery[0].from": found "additions before fusion"; expected additions of Zr before fusion in the table spikes',
  ],
  [
    'another rule for a correction',
    { recovery: [{ analyte: 'Al', from: 'additions before fusion', correct: 'never' }] },
    'key "recovery[0].correct": found "never"; expected one of: "always", "where significant"',
  ],
  [
    'an owner of the plan who is none of the people',
    { planOwner: 'A. Exemple' },
    'key "planOwner": found "A. Exemple"; expected one of the people: A. Example',
  ],
  [
    'an internal standard that is no element',
    { internalStandard: { ...plan.internalStandard, element: 'Yt' } },
    'key "internalStandard.element": found "Yt"; expected the symbol of an element such as "Al"',
  ],
  [
    'a level whose sample nobody digested',
    { levels: [{ level: 'high', sample: 'CH-9' }] },
    'key "levels[0].sample": found "CH-9"; expected a sample of the table digestions',
  ],
  [
    'a criterion for a level that is misspelt',
    { criteria: [{ ...criterion, level: 'hihg' }] },
    'key "criteria[0].level": found "hihg"; expected a level of the plan (high), a sample, material or solution of the tables, or *',
  ],
  [
    'a criterion in a unit that its characteristic cannot have',
    { criteria: [{ ...criterion, unit: 'mg' }] },
    'key "criteria[0].unit": found "mg"; expected a unit of trueness: "%", "1", "mg/kg", "g/100 g"',
  ],
  [
    'a limit of quantification in %',
    {
      criteria: [
        {
          ...criterion,
          characteristic: 'limit of quantification',
          lower: undefined,
          kind: 'at most',
          unit: '%',
        },
      ],
    },
    'key "criteria[0].unit": found "%"; expected a unit of limit of quantification: "mg/kg", "g/100 g"',
  ],
  [
    'a solution that shall be stable at most so long',
    {
      criteria: [
        { ...criterion, characteristic: 'solution stability', lower: undefined, kind: 'at most', unit: 'h' },
      ],
    },
    'key "criteria[0].kind": found "at most"; expected "at least", as the solution shall be stable so long',
  ],
  [
    'a limit below 0 of what is a size',
    {
      criteria: [
        { ...criterion, characteristic: 'repeatability', lower: undefined, kind: 'at most', limit: -1.5 },
      ],
    },
    'key "criteria[0].limit": found -1.5; expected a number of at least 0, as repeatability is a size',
  ],
  [
    'an air density in g/m³',
    { statedInputs: [{ ...stated, name: 'air density', estimate: 1200, unit: 'kg/m3' }] },
    'key "statedInputs[0].estimate": found 1200; expected a value of air density from 0.6 to 1.5',
  ],
  [
    'an air density in a unit of content',
    { statedInputs: [{ ...stated, name: 'air density', estimate: 1.2, unit: 'mg/kg' }] },
    'key "statedInputs[0].unit": found "mg/kg"; expected the unit of air density: "kg/m3" or "kg/m^3" or "kg/m³"',
  ],
  [
    'a loss in place of a factor',
    { statedInputs: [{ ...stated, name: 'evaporation before reading', estimate: 0.0002, unit: '1' }] },
    'key "statedInputs[0].estimate": found 0.0002; expected a value of evaporation before reading from 0.5 to 2',
  ],
  [
    'an uncertainty beyond all that is possible',
    { statedInputs: [{ ...stated, standardUncertainty: 5 }] },
    'key "statedInputs[0].standardUncertainty": found 5; expected at most 0.75, half of the range 0.5 to 2 of density and uptake match',
  ],
  [
    'a difference of flux lots in the unit of another blank',
    { statedInputs: [{ ...stated, name: 'flux lot blank', estimate: 0, unit: 'mg' }] },
    'key "statedInputs[0].unit": found "mg"; expected the unit of flux lot blank: "mg/g"',
  ],
  [
    'a level twice',
    { levels: [...plan.levels, ...plan.levels] },
    'key "levels[1].level": found "high"; expected each level once',
  ],
  [
    'another schema',
    { schema: 'meltbook study 2' },
    'key "schema": found "meltbook study 2"; expected one of',
  ],
];

describe('study.json', () => {
  it.each(cases)('names %s by the path of its key', async (_, changes, problem) => {
    const files = new StudyFiles().json('study.json', (document) => Object.assign(document, changes));
    expect((await files.problems()).filter((line) => line.includes(problem))).toHaveLength(1);
  });

  it.each([
    'trueness over the range',
    'linearity',
    'second line',
    'interference check',
    'check solution',
    'shift after change',
    'ruggedness',
    'second-source standard',
    'sample trend',
  ])('refuses "at most" for %s, whose estimate has a sign', async (characteristic) => {
    const criteria = [{ ...criterion, characteristic, lower: undefined, kind: 'at most' }];
    const files = new StudyFiles().json('study.json', (document) => Object.assign(document, { criteria }));
    expect(await files.problems()).toEqual([expect.stringContaining('expected "within"')]);
  });

  it('accepts one edge for what is a size or a ratio', async () => {
    const criteria = ['repeatability', 'procedure blank', 'carry-over', 'recovery before fusion'].map(
      (characteristic) => ({
        ...criterion,
        characteristic,
        lower: undefined,
        kind: 'at most',
        unit: characteristic === 'procedure blank' ? 'mg/kg' : '%',
      }),
    );
    const files = new StudyFiles().json('study.json', (document) => Object.assign(document, { criteria }));
    expect(await files.problems()).toEqual([]);
  });

  it('is no object', async () => {
    const files = new StudyFiles();
    files.files['study.json'] = '[1]';
    expect(await files.problems()).toEqual([
      expect.stringMatching(/^study\.json: found \[1\]; expected an object with the keys schema, study, /),
    ]);
  });
});
