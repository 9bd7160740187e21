import type { StudyPlan } from '../../records/study.js';

/** What the runs of a study came to. */
export interface RunHistory {
  readonly study: string;
  readonly invented: boolean;
  readonly runs: number;
  /** Days of the first and of the last run, as they stand in the file; null without a run. */
  readonly days: readonly [first: string, last: string] | null;
  readonly results: number;
  readonly controlResults: number;
}

/** What the files of a run history are and what they are not, for whoever finds them. */
export function aboutRunHistory(
  { study, invented, runs, days, results, controlResults }: RunHistory,
  { basis, driftCheckSolution, calibration }: StudyPlan,
): string {
  const paragraphs = [
    `# Results and control results of ${study}, run by run`,
    ...(invented ? ['**Invented data: no real laboratory, sample or result.**'] : []),
    days === null ? 'No run.' : `${runs} run(s) from ${days[0]} to ${days[1]}, in the order of the readings.`,
    [
      `- \`results.csv\`: ${results} mass fractions, one a digestion and analyte, in the form and unit named beside them, on the basis "${basis}", with their standard uncertainties.`,
      `- \`history.csv\`: ${controlResults} control results in the form of the table \`history\` of a study: the mean of each reference material in a run, and of the check solution ${driftCheckSolution} by the calibration of the run, in ${calibration.basis}, without correction for drift.`,
    ].join('\n'),
    'Each run stands alone: its own calibration, blanks, check solutions and scatter of readings. Uncertainties are those of the components of the chain; what a validation observed beyond them is not in them (notebook 40 counts it). Rows that the study excludes are left out.',
    'Controls, flags, limits of quantification and specifications are not judged here, and whether solutions were read after they were fused and runs have standards enough is not checked. These files are for looking at many runs. Results that leave the laboratory come from notebook 40, and an authorised person releases them.',
  ];
  return `${paragraphs.join('\n\n')}\n`;
}
