/** The one door for notebooks. */
export { describeIssue, InputError, MeltbookError, type RecordIssue, RecordsError } from './errors.js';
export { type Shown, show } from './notebook/display.js';
