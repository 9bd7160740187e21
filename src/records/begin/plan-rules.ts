import type { StudyPlan } from '../study.js';

/** What each rule for the blank does, as the guide and nothing else says it. */
const blankRules: Readonly<Record<StudyPlan['blank']['scaling'], string>> = {
  'per flux mass': 'the mean of the procedure blanks by mass of flux, times the flux of the digestion',
  'per digestion': 'the mean of the procedure blanks, whatever the flux',
  'per flux mass and digestion':
    'a line b_f·m_flux + b_0 fitted to the procedure blanks over their mass of flux, both coefficients with their covariance. It needs at least three usable blanks of different masses of flux, better six or more over the range of the samples; runs evaluated one after the other need three in each run',
};

const recoveryKeys: readonly (readonly [key: string, means: string])[] = [
  ['analyte', 'symbol of the element'],
  ['from', '`reference materials` or `additions before fusion`, on at least 2 days'],
  ['materials', 'names of the reference materials whose results give R; they must agree on it'],
  [
    'correct',
    '`always`, or `where significant`: only where R differs from 1 by more than its uncertainty explains (two-sided, 95 %); else R is 1, with that uncertainty',
  ],
];

/** Rules that `study.json` states and the tables do not, for the guide. */
export function planRules(): string[] {
  return [
    '## Rules in study.json',
    '',
    'The key `blank.scaling` says what is subtracted from every digestion:',
    '',
    ...Object.entries(blankRules).map(([rule, does]) => `- \`${rule}\`: ${does}.`),
    '',
    'Portions are weighed in the state `portionsWeighed` and results refer to the state `basis`, each of them `as received`, `dry` or `ignited`. The mass of the portion is brought from one to the other with the losses of the table moisture: M, "as received to dry", a fraction of the mass as received, and LOI, "dry to ignited", a fraction of the dry mass:',
    '',
    '- dry from as received: m·(1 − M); ignited from dry: m·(1 − LOI); ignited from as received: m·(1 − M)·(1 − LOI).',
    '- as received from dry: m/(1 − M); dry from ignited: m/(1 − LOI); as received from ignited: m/((1 − LOI)·(1 − M)).',
    '- one and the same state: m, and no loss is needed.',
    '',
    'Each loss that is used enters with its standard uncertainty and must be recorded for every sample and material that was digested. Where `portionsWeighed` is left out, portions are weighed as received; portions that were dried before they were weighed are `dry`, and no moisture is then needed for results on the dry basis. With the basis `ignited` the key must be stated: earlier versions took such portions as weighed dry and used no moisture.',
    '',
    'The key `recovery` may be left out: nothing is then corrected. Else it is a list with one entry for each analyte whose results are divided by a recovery R, which comes from the results of this study with its standard uncertainty, that of the reference values included:',
    '',
    ...recoveryKeys.map(([key, means]) => `- \`${key}\`: ${means}.`),
    '',
    'R corrects what is proportional to the content and the same at all levels: for an overlap or a blank it is the wrong remedy. Results that gave R prove neither trueness nor the recovery after the correction: keep another material or additions for that, and set the criterion of trueness for that material by its name. A routine run states the same `recovery` as its validation and takes R from there.',
  ];
}
