import type { DecodedStudy } from '../decoded-study.js';
import type { IssueList } from '../issue-list.js';
import { checkDuplicateKeys } from './duplicate-keys.js';

/** Holds the rows and tables of a study against each other, the plan and the equipment register. */
export function checkAcrossTables(study: DecodedStudy, issues: IssueList): void {
  checkDuplicateKeys(study, issues);
}
