import type { StudyRecords } from './study-records.js';
import type { Table } from './table-form/table.js';
import { additionTable } from './tables/additions.js';
import { calibrationTable } from './tables/calibration.js';
import { comparisonTable } from './tables/comparison.js';
import { digestionTable } from './tables/digestions.js';
import { dilutionTable } from './tables/dilutions.js';
import { exclusionTable } from './tables/exclusions.js';
import { factorTable } from './tables/factors.js';
import { historyTable } from './tables/history.js';
import { homogeneityTable } from './tables/homogeneity.js';
import { interferenceTable } from './tables/interference.js';
import { moistureTable } from './tables/moisture.js';
import { readingTable } from './tables/readings.js';
import { referenceTable } from './tables/references.js';
import { roundTable } from './tables/rounds.js';
import { spikeTable } from './tables/spikes.js';
import { standardTable } from './tables/standards.js';

/** Names of the tables of a study: each is a field of `StudyRecords`, a file and a sheet. */
export type TableName = Exclude<keyof StudyRecords, 'plan' | 'equipment' | 'missingTables'>;

/** Record of a table, by its name. */
export type RecordOf<N extends TableName> = StudyRecords[N][number];

/** All tables, in the order of work: the order of files, sheets and guide. */
export const studyTables: { readonly [N in TableName]: Table<RecordOf<N>> } = {
  digestions: digestionTable,
  dilutions: dilutionTable,
  calibration: calibrationTable,
  standards: standardTable,
  readings: readingTable,
  references: referenceTable,
  spikes: spikeTable,
  additions: additionTable,
  comparison: comparisonTable,
  moisture: moistureTable,
  interference: interferenceTable,
  exclusions: exclusionTable,
  factors: factorTable,
  homogeneity: homogeneityTable,
  history: historyTable,
  rounds: roundTable,
};

export const tableNames = Object.keys(studyTables) as readonly TableName[];
