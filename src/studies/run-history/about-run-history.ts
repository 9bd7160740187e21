import type { StudyPlan } from '../../records/study.js';
import type { RunHistory } from './run-history.js';

/** What the files of a run history are and what they are not, for whoever finds them. */
export function aboutRunHistory(history: RunHistory, plan: StudyPlan): string {
  const { study, invented, runs, days } = history;
  const paragraphs = [
    `# Results and control results of ${study}, run by run`,
    ...(invented ? ['**Invented data: no real laboratory, sample or result.**'] : []),
    days === null ? 'No run.' : `${runs} run(s) from ${days[0]} to ${days[1]}, in the order of the readings.`,
    aboutFiles(history, plan),
    'Each run stands alone: its own calibration, blanks, check solutions and scatter of readings. A digestion read in two runs has a result in each. Uncertainties are those of the components of the chain; what a validation observed beyond them is not in them (notebook 40 counts it). Rows that the study excludes are left out.',
    ...(history.hasStandards
      ? []
      : [
          'The table of standards has no row: the stocks count as exact, and their part is in no uncertainty.',
        ]),
    ...aboutRemarks(history),
    ...aboutMissing(history),
    'Controls, the recovery of the internal standard, limits of quantification and specifications are not judged here, and whether solutions were read after they were fused and runs have standards enough is not checked: a result without a remark is not a result that was found in order. These files are for looking at many runs. Results that leave the laboratory come from notebook 40, and an authorised person releases them.',
  ];
  return `${paragraphs.join('\n\n')}\n`;
}

function aboutFiles(
  { results, controlResults }: RunHistory,
  { basis, driftCheckSolution, calibration }: StudyPlan,
): string {
  return [
    `- \`results.csv\`: ${results} mass fractions, one for each digestion and analyte in a run, in the form and unit named beside them, on the basis "${basis}", with their standard uncertainties and remarks; the day is that of the first reading of the run.`,
    `- \`history.csv\`: ${controlResults} control results in the form of the table \`history\` of a study: the mean of each reference material in a run, in the form and unit of the plan, and of the check solution ${driftCheckSolution} by the calibration of the run, in ${calibration.basis} of the solution, without correction for drift. What \`results.csv\` remarks on digestions of a material holds for its mean too. As \`history.csv\` of a study it is what notebook 50 compares before and after an exchange.`,
  ].join('\n');
}

function aboutRemarks({ remarks, remarked }: RunHistory): string[] {
  if (remarks.size === 0) return ['No result bears a remark.'];
  const items = [...remarks].map(
    ([remark, found]) => `- ${remark}: ${found.results}, in ${namesOf(found.where)}`,
  );
  return [
    `${remarked} of the results bear a remark (last column of \`results.csv\`):\n\n${items.join('\n')}`,
  ];
}

function aboutMissing(history: RunHistory): string[] {
  const items = [...history.withoutResult].map(
    ([reason, { results, where }]) =>
      `- read, but without a result (${reason}): ${results}, of ${namesOf(where)}`,
  );
  const lists = {
    'digestions read in no run': history.notRead,
    'runs without a result': history.runsWithoutResult,
    'runs without a result of a reference material': history.runsWithoutMaterial,
  };
  for (const [what, names] of Object.entries(lists))
    if (names.length > 0) items.push(`- ${what}: ${namesOf(names)}`);
  return items.length === 0 ? [] : [`What is missing:\n\n${items.join('\n')}`];
}

const mostNames = 10;

/** The first names, and how many there are beside them. */
function namesOf(names: readonly string[]): string {
  const more = names.length - mostNames;
  return more > 0 ? `${names.slice(0, mostNames).join(', ')} and ${more} more` : names.join(', ');
}
