import { parentPort } from 'node:worker_threads';
import { IssueList } from '../../issue-list.js';
import { type ReadingRecord, readingTable } from '../../tables/readings.js';
import { readRowGroups } from '../read-row-groups.js';
import { goesOn, mostWaiting, type ReadingRequest, type ReadPart, words } from './message.js';
import { RowSender } from './sent-rows.js';

/** Reads the table and sends one part after the other; an error ends the thread and reaches whoever started it. */
async function read({ path, file, decimalMark, limits, progress }: ReadingRequest): Promise<void> {
  const state = new Int32Array(progress);
  const issues = new IssueList();
  const sender = new RowSender<ReadingRecord>(mostWaiting);
  const reading = { table: readingTable, path, file, decimalMark, issues };
  const all = limits === null ? reading : { ...reading, limits };
  for await (const rows of readRowGroups(all, 'run')) {
    waitForRoom(state);
    send({ rows: sender.send(rows), issues: issues.all() });
    Atomics.add(state, words.sent, 1);
  }
  send({ rows: null, issues: issues.all() });
}

function send(part: ReadPart): void {
  parentPort?.postMessage(part);
}

/** Returns when fewer than `mostWaiting` parts wait: the memory of the oldest of so many is free then. */
function waitForRoom(state: Int32Array): void {
  const sent = Atomics.load(state, words.sent);
  let taken = Atomics.load(state, words.taken);
  if (sent - taken < mostWaiting) return;
  while (sent - taken > goesOn) {
    Atomics.wait(state, words.taken, taken);
    taken = Atomics.load(state, words.taken);
  }
}

parentPort?.once('message', (request: ReadingRequest) => void read(request));
