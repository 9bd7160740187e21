import { parentPort } from 'node:worker_threads';
import { IssueList } from '../../issue-list.js';
import { type ReadingRecord, readingTable } from '../../tables/readings.js';
import { readRowGroups } from '../read-row-groups.js';
import { mostWaiting, type ReadingRequest, type ReadPart, words } from './message.js';
import { memoryOf, RowSender } from './sent-rows.js';

/** Reads the table and sends one part after the other; an error ends the thread and reaches whoever started it. */
async function read({ path, file, decimalMark, limits, progress }: ReadingRequest): Promise<void> {
  const state = new Int32Array(progress);
  const issues = new IssueList();
  const sender = new RowSender<ReadingRecord>();
  const reading = { table: readingTable, path, file, decimalMark, issues };
  const all = limits === null ? reading : { ...reading, limits };
  for await (const rows of readRowGroups(all, 'run')) {
    waitForRoom(state);
    const sent = sender.send(rows);
    send({ rows: sent, issues: issues.all() }, memoryOf(sent));
    Atomics.add(state, words.sent, 1);
  }
  send({ rows: null, issues: issues.all() }, []);
}

function send(part: ReadPart, memory: readonly ArrayBufferLike[]): void {
  parentPort?.postMessage(part, memory as ArrayBuffer[]);
}

function waitForRoom(state: Int32Array): void {
  for (;;) {
    const taken = Atomics.load(state, words.taken);
    if (Atomics.load(state, words.sent) - taken < mostWaiting) return;
    Atomics.wait(state, words.taken, taken);
  }
}

parentPort?.once('message', (request: ReadingRequest) => void read(request));
