import { isAbsolute, join } from 'node:path';
import { readBudgetFile } from '../records/budget-file.js';
import { type Measurement, measurementOf } from '../studies/measurement/evaluate-measurement.js';
import { projectRoot } from './project-root.js';

/**
 * Opens a budget file: the measurement it describes, checked.
 *
 * @param path of the file; a relative path counts from the project's folder, wherever the notebook runs
 * @throws RecordsError with all problems of the file
 */
export async function openBudget(path: string): Promise<Measurement> {
  return measurementOf(await readBudgetFile(isAbsolute(path) ? path : join(projectRoot(), path)));
}
