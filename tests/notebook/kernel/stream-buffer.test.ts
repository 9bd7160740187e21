import { setTimeout as delay } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { StreamBuffer } from '../../../src/notebook/kernel/stream-buffer.js';

function buffer(milliseconds: number) {
  const sent: string[] = [];
  return { sent, stream: new StreamBuffer((name, text) => sent.push(`${name} ${text}`), milliseconds) };
}

describe('printed text held back', () => {
  it('is joined and keeps the order of the two streams', () => {
    const { sent, stream } = buffer(60_000);
    stream.write('stdout', 'a');
    stream.write('stdout', 'b');
    stream.write('stderr', 'c');
    stream.write('stdout', 'd');
    expect(sent).toEqual([]);
    stream.flush();
    stream.flush();
    expect(sent).toEqual(['stdout ab', 'stderr c', 'stdout d']);
  });

  it('leaves after the set time by itself', async () => {
    const { sent, stream } = buffer(20);
    stream.write('stdout', 'a');
    await delay(200);
    expect(sent).toEqual(['stdout a']);
  });

  it('leaves during a synchronous stretch, where no timer fires', () => {
    const { sent, stream } = buffer(20);
    // A busy machine may stall the loop: what counts is that text leaves before the stretch ends.
    const end = performance.now() + 10_000;
    while (sent.length < 3 && performance.now() < end) stream.write('stdout', '.');
    expect(sent.length).toBe(3);
  });
});
