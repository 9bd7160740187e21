import type { StudyPlan } from '../study.js';
import { keyLine, keyLines } from './key-lines.js';
import { type KeyMeanings, planParts } from './plan-parts.js';

const planKeys: KeyMeanings<StudyPlan> = {
  schema: 'form of the file; stays as it is',
  study:
    'name of the study, best that of its folder: reports are numbered under the name of the folder, and a routine run names its validation by this one',
  title: 'heading of the report',
  invented: '`false` for real records; `true` marks every page as made up',
  laboratory: 'name of the laboratory',
  line: 'fusion line the work is done on',
  method: 'number of the procedure that is validated',
  matrix: 'what kind of material the method is for',
  intendedUse: 'what the results serve for',
  planDate: 'date of the plan, before the first digestion',
  planOwner: 'who answers for the plan; one of the people',
  people: 'who works on the study',
  internalStandard: 'the internal standard and how it is added',
  density:
    'how densities were measured; only for a calibration in mg/L, solutions by volume or dilutions made up to a volume',
  flask: 'only where dilutions are made up to a volume',
  calibration: '`basis`: `mg/kg` or `mg/L`, the unit of the standards',
  blank: '`scaling`: what is subtracted from every digestion (next heading)',
  recovery: 'analytes whose results are divided by a recovery (next heading)',
  portionsWeighed:
    '`as received`, `dry` or `ignited`: state of the sample when its portions are weighed, and what the loss of mass of each sample is counted from (next heading); left out: as received; with the basis `ignited` it must be stated',
  basis:
    '`dry`, `as received` or `ignited`: what results refer to; every loss between `portionsWeighed` and it needs a row of each sample in the table moisture',
  nominal: 'masses as planned, g; limits in solution are turned into contents of the sample with them',
  fluxLot: 'lot of the flux; another lot asks for blanks of its own',
  route:
    '`components`: the budget adds the random parts of the steps; `precision`: the observed intermediate precision stands for them',
  resultRule: 'what a reported result is the mean of',
  driftCheckSolution:
    'name of the solution that drift is followed by, as it stands in readings; without a reading of it drift counts as none and is not studied, and without its content under this name in the table standards nobody sees whether it is found',
  blanks: 'sample names that blanks bear in digestions',
  analytes: 'one entry for each analyte that is reported',
  levels:
    'samples digested on several days for precision, from low to high content; in a routine run the list is empty, `[]`',
  stability: 'solutions that are read again later; `null` where none is',
  interferenceCheck:
    "a solution of the interferent alone, read on the analytes' lines; `null` where there is none",
  ruggedness: 'what the response of the table factors is; left out where that table is empty',
  detection: 'which approach to detection counts; left out: procedure blanks',
  secondSource:
    '`solution`: name of a solution made from a standard of another source, with its content in the table standards',
  carryOver:
    '`solution`: name of a zero solution, not one of the standards, read directly after the highest standard (or a rich sample) in at least two runs, better six; it is held against the zero standard of the same run',
  nativeCheckDigestions:
    'digestions read once more without internal standard, to find a native amount of it; the list may be empty',
  statedInputs: 'inputs of the budget that no table holds',
  criteria:
    'one entry for each requirement; without one a characteristic is estimated and gets no verdict; in a routine run only `check solution`, `second line` and `total of oxides` act, and the list may be empty, `[]`',
  planning: 'what notebook 10 plans the size of the study from',
  routine: 'only in a routine run: which validation it rests on',
  decisionRule: 'how results will be held against specifications, in words',
  evidence:
    'for the assessor: what is kept outside these records, and where; the report on accreditation evidence names it by clause',
  decimalMark: '`point` or `comma` for all tables; left out: each table must leave no doubt',
};

const mayBeLeftOut: readonly (keyof StudyPlan)[] = [
  'density',
  'flask',
  'recovery',
  'portionsWeighed',
  'ruggedness',
  'detection',
  'secondSource',
  'carryOver',
  'planning',
  'routine',
  'evidence',
  'decimalMark',
];

/** Every key of `study.json` with what it says, for the guide. */
export function planKeyGuide(): string[] {
  return [
    '## Keys of study.json',
    '',
    'The file that was begun holds the keys of the demonstration study; others are added where they are needed, and those that may be left out are taken out whole where they are not.',
    '',
    ...entriesOf(planKeys).flatMap(([key, means]) => {
      const part = planParts[key];
      return [
        keyLine('', key, mayBeLeftOut.includes(key), means),
        ...(part === undefined ? [] : keyLines(part.keys, part.optional)),
      ];
    }),
  ];
}

function entriesOf<T extends object>(
  keys: Readonly<Record<keyof T & string, string>>,
): [keyof T & string, string][] {
  return Object.entries(keys) as [keyof T & string, string][];
}
