import { describe, expect, it } from 'vitest';
import { readRowGroups } from '../../../src/records/csv/read-row-groups.js';
import { RowReceiver, RowSender } from '../../../src/records/csv/thread/sent-rows.js';
import { IssueList } from '../../../src/records/issue-list.js';
import { type ReadingRecord, readingTable } from '../../../src/records/tables/readings.js';

const path = 'data/zircon-pigment/readings.csv';

function groups() {
  const reading = { table: readingTable, path, file: 'readings.csv', decimalMark: null };
  // More parts than runs, and of all sizes: those of one place each.
  return readRowGroups({ ...reading, issues: new IssueList() }, 'solution');
}

describe('rows sent from one thread to another', () => {
  it.each([1, 2, 7])('arrive as they were, in memory used again after %i parts', async (parts) => {
    const sender = new RowSender<ReadingRecord>(parts);
    const receiver = new RowReceiver<ReadingRecord>();
    const waiting: { readonly expected: ReadingRecord[]; readonly sent: ReturnType<typeof sender.send> }[] =
      [];
    let count = 0;
    const take = () => {
      const { expected, sent } = waiting.shift()!;
      const rows = receiver.receive(structuredClone(sent));
      expect(Array.from({ length: rows.count }, (_, i) => rows.record(i))).toEqual(expected);
      count++;
    };
    for await (const rows of groups()) {
      if (waiting.length === parts) take();
      const expected = Array.from({ length: rows.count }, (_, i) => rows.record(i));
      waiting.push({ expected, sent: sender.send(rows) });
    }
    while (waiting.length > 0) take();
    expect(count).toBeGreaterThan(50);
  });

  it('need no new memory where a part is no longer than the one before it there', async () => {
    const sender = new RowSender<ReadingRecord>(1);
    const buffers = new Set<ArrayBufferLike>();
    let [count, longest, longer] = [0, 0, 0];
    for await (const rows of groups()) {
      buffers.add(sender.send(rows).rows.buffer);
      if (rows.count > longest) longer++;
      longest = Math.max(longest, rows.count);
      count++;
    }
    expect(buffers.size).toBeLessThanOrEqual(longer);
    expect(longer).toBeLessThan(count / 5);
  });
});
