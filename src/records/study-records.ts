import type { EquipmentRecord, StudyPlan } from './study.js';
import type { AdditionRecord } from './tables/additions.js';
import type { CalibrationRecord } from './tables/calibration.js';
import type { ComparisonRecord } from './tables/comparison.js';
import type { DigestionRecord } from './tables/digestions.js';
import type { DilutionRecord } from './tables/dilutions.js';
import type { ExclusionRecord } from './tables/exclusions.js';
import type { FactorRecord } from './tables/factors.js';
import type { HistoryRecord } from './tables/history.js';
import type { HomogeneityRecord } from './tables/homogeneity.js';
import type { InterferenceRecord } from './tables/interference.js';
import type { MoistureRecord } from './tables/moisture.js';
import type { ReadingRecord } from './tables/readings.js';
import type { ReferenceRecord } from './tables/references.js';
import type { RoundRecord } from './tables/rounds.js';
import type { SpikeRecord } from './tables/spikes.js';
import type { StandardRecord } from './tables/standards.js';

/** All records of one study, decoded and checked. A table that was not given is empty and named in `missingTables`. */
export interface StudyRecords {
  readonly plan: StudyPlan;
  readonly equipment: readonly EquipmentRecord[];
  readonly digestions: readonly DigestionRecord[];
  readonly dilutions: readonly DilutionRecord[];
  readonly calibration: readonly CalibrationRecord[];
  readonly standards: readonly StandardRecord[];
  readonly readings: readonly ReadingRecord[];
  readonly references: readonly ReferenceRecord[];
  readonly spikes: readonly SpikeRecord[];
  readonly additions: readonly AdditionRecord[];
  readonly comparison: readonly ComparisonRecord[];
  readonly moisture: readonly MoistureRecord[];
  readonly interference: readonly InterferenceRecord[];
  readonly exclusions: readonly ExclusionRecord[];
  readonly factors: readonly FactorRecord[];
  readonly homogeneity: readonly HomogeneityRecord[];
  readonly history: readonly HistoryRecord[];
  readonly rounds: readonly RoundRecord[];
  readonly missingTables: readonly string[];
}
