import { basename, isAbsolute, join } from 'node:path';
import type { SourceFile } from '../records/decoded-study.js';
import { readPlan } from '../records/read-plan.js';
import { readStudyWithProvenance } from '../records/read-study.js';
import type { StudyPlan } from '../records/study.js';
import type { StudyRecords } from '../records/study-records.js';
import { projectRoot } from './project-root.js';

/** Checked records of a study with the files they came from. */
export interface OpenedStudy {
  readonly name: string;
  readonly folder: string;
  readonly records: StudyRecords;
  readonly files: readonly SourceFile[];
}

/**
 * Opens a study: reads and checks all its records.
 *
 * @param folder of the study; a relative path counts from the project's folder, wherever the notebook runs
 * @throws RecordsError with all problems, where the study does not pass its check
 */
export async function openStudy(folder: string): Promise<OpenedStudy> {
  const path = isAbsolute(folder) ? folder : join(projectRoot(), folder);
  const { records, provenance } = await readStudyWithProvenance(path);
  return { name: basename(path), folder: path, records, files: provenance };
}

/** The checked plan of a study, which may have no other records yet. */
export interface OpenedPlan {
  readonly name: string;
  readonly folder: string;
  readonly plan: StudyPlan;
  readonly files: readonly SourceFile[];
}

/**
 * Opens the plan of a study, `study.json` alone.
 *
 * @param folder of the study; a relative path counts from the project's folder
 * @throws RecordsError with all problems of the plan
 */
export async function openPlan(folder: string): Promise<OpenedPlan> {
  const path = isAbsolute(folder) ? folder : join(projectRoot(), folder);
  const { plan, provenance } = await readPlan(path);
  return { name: basename(path), folder: path, plan, files: provenance };
}
