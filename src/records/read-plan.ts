import { RecordsError } from '../errors.js';
import { checkPlan } from './checks/plan.js';
import { StudyView } from './checks/study-view.js';
import { decodePlan } from './decode-study.js';
import type { SourceFile } from './decoded-study.js';
import { IssueList } from './issue-list.js';
import type { StudyPlan } from './study.js';

/** The plan of a study with the file it came from. */
export interface PlanWithProvenance {
  readonly plan: StudyPlan;
  readonly provenance: readonly SourceFile[];
}

/**
 * Reads and checks `study.json` alone: before the work there is nothing else to read.
 *
 * @throws RecordsError with all problems of the plan
 * @throws InputError there is no such folder
 */
export async function readPlan(folder: string): Promise<PlanWithProvenance> {
  const issues = new IssueList();
  const { plan, files } = await decodePlan(folder, issues);
  checkPlan(new StudyView({ plan, equipment: null, tables: {}, files }, issues));
  const problems = issues.all();
  if (problems.length > 0 || plan === null) throw new RecordsError(problems);
  return { plan, provenance: files };
}
