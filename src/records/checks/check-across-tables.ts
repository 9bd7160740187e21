import type { DecodedStudy } from '../decoded-study.js';
import type { IssueList } from '../issue-list.js';
import { checkAdditionsAndComparison } from './additions.js';
import { checkAnalytesAndLines } from './analytes-and-lines.js';
import { checkDigestionsAreRead } from './digestions-are-read.js';
import { checkDuplicateKeys } from './duplicate-keys.js';
import { checkEnoughStandards } from './enough-standards.js';
import { checkEquipment } from './equipment.js';
import { checkExclusions } from './exclusions.js';
import { checkExpiry } from './expiry.js';
import { checkInternalStandardReadings } from './internal-standard-readings.js';
import { checkLossesOfMass } from './losses-of-mass.js';
import { checkMeasurementModes } from './measurement-modes.js';
import { checkNamesOfSamples, checkSolutionsAreRead } from './names-of-samples.js';
import { checkPlan } from './plan.js';
import { checkPossibleValues } from './possible-values.js';
import { checkRequiredTables } from './required-tables.js';
import { checkSamples } from './samples.js';
import { checkSequence } from './sequence.js';
import { checkSolutions } from './solutions.js';
import { checkSpectrometers } from './spectrometers.js';
import { checkSpikes } from './spikes.js';
import { checkStandardsChain } from './standards-chain.js';
import { StudyView } from './study-view.js';

/**
 * Holds the rows and tables of a study against each other, the plan and the equipment register. Where a table is broken,
 * nothing is concluded from a row that is not in it.
 */
export function checkAcrossTables(study: DecodedStudy, issues: IssueList): void {
  const view = new StudyView(study, issues);
  checkRequiredTables(view);
  checkPlan(view);
  checkEquipment(view);
  checkDuplicateKeys(study, issues);
  checkSamples(view);
  checkNamesOfSamples(view);
  checkLossesOfMass(view);
  checkSolutionsAreRead(view);
  checkDigestionsAreRead(view);
  checkSolutions(view);
  checkAnalytesAndLines(view);
  checkMeasurementModes(view);
  checkInternalStandardReadings(view);
  checkSequence(view);
  checkSpectrometers(view);
  checkPossibleValues(view);
  checkEnoughStandards(view);
  checkStandardsChain(view);
  checkExpiry(view);
  checkSpikes(view);
  checkAdditionsAndComparison(view);
  checkExclusions(view);
}
