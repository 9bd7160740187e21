import { describe, expect, it } from 'vitest';
import { arePlainReadings } from '../../../src/records/checks/plain-readings.js';
import { type TypedColumn, TypedRows } from '../../../src/records/csv/typed-rows.js';
import type { ReadingRecord } from '../../../src/records/tables/readings.js';

type Reading = Omit<ReadingRecord, 'run' | 'intensity' | 'time'> & { readonly second: number };

/** Two places, two analytes read twice at each: Zr on its own line, Hf on its second one at the later place. */
const sound: readonly Reading[] = [
  { position: 1, solution: 'CAL-1', analyte: 'Zr', lineNm: 343.823, repeat: 1, second: 0 },
  { position: 1, solution: 'CAL-1', analyte: 'Zr', lineNm: 343.823, repeat: 2, second: 5 },
  { position: 1, solution: 'CAL-1', analyte: 'Hf', lineNm: 264.141, repeat: 1, second: 2 },
  { position: 3, solution: 'D-1', analyte: 'Zr', lineNm: 343.823, repeat: 1, second: 5 },
  { position: 3, solution: 'D-1', analyte: 'Hf', lineNm: 264.141, repeat: 1, second: 6 },
  { position: 3, solution: 'D-1', analyte: 'Hf', lineNm: 277.336, repeat: 1, second: 6 },
].map((reading) => ({ ...reading, internalStandardIntensity: 4e5 }));

const lines = new Map([
  ['Zr', [343.823, 343.823]],
  ['Hf', [264.141, 277.336]],
]);

function isPlain(readings: readonly Reading[]): boolean {
  return arePlainReadings(typed(readings), lines, (name) => name === 'CAL-1' || name === 'D-1');
}

function typed(readings: readonly Reading[]): TypedRows<ReadingRecord> {
  const numbers = (of: (reading: Reading) => number | null): TypedColumn<never> => ({
    kind: 'number',
    numbers: Float64Array.from(readings, (reading) => of(reading) ?? Number.NaN),
    empty: null as never,
  });
  const codes = (of: (reading: Reading) => string): TypedColumn<never> => {
    const values = [...new Set(readings.map(of))];
    return {
      kind: 'code',
      codes: Int32Array.from(readings, (row) => values.indexOf(of(row))),
      values: values as never[],
    };
  };
  return new TypedRows<ReadingRecord>(
    Int32Array.from(readings, (_, i) => i + 2),
    new Map<keyof ReadingRecord, TypedColumn<never>>([
      ['position', numbers((row) => row.position)],
      ['time', numbers((row) => row.second * 1000)],
      ['solution', codes((row) => row.solution)],
      ['analyte', codes((row) => row.analyte)],
      ['lineNm', numbers((row) => row.lineNm)],
      ['repeat', numbers((row) => row.repeat)],
      ['internalStandardIntensity', numbers((row) => row.internalStandardIntensity)],
    ]),
  );
}

/** The sound readings with one of them changed. */
function changed(row: number, change: Partial<Reading>): readonly Reading[] {
  return sound.map((reading, i) => (i === row ? { ...reading, ...change } : reading));
}

describe('readings of a run', () => {
  it('are plain where nothing is wrong with them', () => {
    expect(isPlain(sound)).toBe(true);
  });

  it.each<[what: string, row: number, change: Partial<Reading>]>([
    ['position that falls', 4, { position: 2 }],
    ['solution that nothing is known of', 0, { solution: 'CAL-9' }],
    ['second solution at a place', 4, { solution: 'CAL-1' }],
    ['reading ahead of one of an earlier place', 3, { second: 4 }],
    ['reading without its internal standard', 5, { internalStandardIntensity: null }],
    ['line that is not planned', 3, { lineNm: 339.198 }],
    ['analyte that is not planned', 3, { analyte: 'Ti' }],
    ['reading that comes twice', 1, { repeat: 1 }],
    ['reading that comes twice on a second line', 4, { lineNm: 277.336 }],
    ['repeat beyond those that are counted', 2, { repeat: 64 }],
  ])('are not plain with a %s', (_, row, change) => {
    expect(isPlain(changed(row, change))).toBe(false);
  });

  it('may be out of time within a place', () => {
    expect(isPlain(changed(2, { second: 9 }))).toBe(false);
    expect(isPlain(changed(4, { second: 5.5 }))).toBe(true);
    expect(isPlain(changed(5, { second: 5 }))).toBe(true);
  });
});
