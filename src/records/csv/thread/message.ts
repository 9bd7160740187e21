import type { RecordIssue } from '../../../errors.js';
import type { SizeLimits } from '../../size-limits.js';
import type { DecimalMark } from '../../table-form/number-reader.js';
import type { SentRows } from './sent-rows.js';

/** Words of the memory that both threads see: parts sent, and parts the reader has taken up. */
export const words = { sent: 0, taken: 1 } as const;

/** Parts that wait at most: enough to read ahead while the other tables are worked on, few enough to hold. */
export const mostWaiting = 32;

/** A reader that had to stop goes on when no more than these wait: threads that wake each other at every part lose time. */
export const goesOn = mostWaiting / 2;

/** What a thread is asked to read: readings, one part a run. */
export interface ReadingRequest {
  readonly path: string;
  readonly file: string;
  readonly decimalMark: DecimalMark | null;
  readonly limits: SizeLimits | null;
  readonly progress: SharedArrayBuffer;
}

/** One part, with all problems found up to it; the last message holds no rows. */
export interface ReadPart {
  readonly rows: SentRows | null;
  readonly issues: readonly RecordIssue[];
}
