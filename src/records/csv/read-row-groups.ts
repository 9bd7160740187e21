import { chunksOf } from './chunks-of.js';
import type { ColumnStore } from './column-store.js';
import { openReading, type TypedReading } from './read-typed-rows.js';
import type { TypedRows } from './typed-rows.js';

const firstCapacity = 16_384;

/**
 * Reads one CSV table part by part: each part holds the rows that follow each other with one value in `field`, such as
 * the readings of one run. Only the part at hand and the bytes just read are held. A value may come back in a later part.
 *
 * @param field a column of texts
 * @throws InputError a column of numbers; a table whose rows are judged as a whole, or that leaves columns open
 */
export async function* readRowGroups<R>(
  reading: TypedReading<R>,
  field: keyof R & string,
): AsyncGenerator<TypedRows<R>, void, undefined> {
  const open = openReading(reading, firstCapacity);
  const { store } = open;
  for await (const chunk of chunksOf(reading.path)) {
    open.push(chunk);
    const ends = groupEnds(store, field);
    for (let i = 0; i + 1 < ends.length; i++) yield store.view(ends[i - 1] ?? 0, ends[i]!);
    if (ends.length > 1) store.drop(ends.at(-2)!);
  }
  open.end();
  const ends = groupEnds(store, field);
  for (const [i, end] of ends.entries()) yield store.view(ends[i - 1] ?? 0, end);
}

/** Place after the last row of each group. */
function groupEnds<R>(store: ColumnStore<R>, field: keyof R & string): number[] {
  if (store.count === 0) return [];
  const codes = store.view(0, store.count).codes(field);
  const ends: number[] = [];
  for (let row = 1; row < codes.length; row++) if (codes[row] !== codes[row - 1]) ends.push(row);
  ends.push(codes.length);
  return ends;
}
