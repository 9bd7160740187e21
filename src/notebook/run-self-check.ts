import { join } from 'node:path';
import { readPublishedFiles } from '../records/published-cases.js';
import { gatherCases, selfCheckTopics } from '../studies/self-check/gather-cases.js';
import { type SelfCheckFigure, selfCheck } from '../studies/self-check/self-check.js';
import { projectRoot } from './project-root.js';

/** Computes the published examples of `data/reference` on this machine. */
export async function runSelfCheck(): Promise<SelfCheckFigure[]> {
  const files = await readPublishedFiles(join(projectRoot(), 'data', 'reference'), selfCheckTopics);
  return selfCheck(gatherCases(files));
}
