import type { StudyPlan } from '../study.js';

/** What each rule for the blank does, as the guide and nothing else says it. */
const blankRules: Readonly<Record<StudyPlan['blank']['scaling'], string>> = {
  'per flux mass': 'the mean of the procedure blanks by mass of flux, times the flux of the digestion',
  'per digestion': 'the mean of the procedure blanks, whatever the flux',
  'per flux mass and digestion':
    'a line b_f·m_flux + b_0 fitted to the procedure blanks over their mass of flux, both coefficients with their covariance. It needs at least three usable blanks of different masses of flux, better six or more over the range of the samples; runs evaluated one after the other need three in each run',
};

/** Rules that `study.json` states and the tables do not, for the guide. */
export function planRules(): string[] {
  return [
    '## Rules in study.json',
    '',
    'The key `blank.scaling` says what is subtracted from every digestion:',
    '',
    ...Object.entries(blankRules).map(([rule, does]) => `- \`${rule}\`: ${does}.`),
  ];
}
