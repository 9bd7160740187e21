import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { renderJson } from '../../src/report/render-json.js';
import { sampleReport } from '../support/sample-report.js';

const withData = (data: unknown) => ({ ...sampleReport, data });

describe('a report as JSON', () => {
  it('keeps every number at full precision', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ noNaN: true, noDefaultInfinity: true })), (values) => {
        const read = JSON.parse(renderJson(withData({ values }))) as { data: { values: number[] } };
        expect(read.data.values).toEqual(values.map((value) => (value === 0 ? 0 : value)));
      }),
    );
  });

  it('gives equal bytes for equal documents, whatever the order of keys', () => {
    expect(renderJson(withData({ b: 1, a: { d: [1, 'x'], c: null } }))).toBe(
      renderJson(withData({ a: { c: null, d: [1, 'x'] }, b: 1 })),
    );
  });

  it('carries the whole document', () => {
    const read = JSON.parse(renderJson(sampleReport)) as Record<string, unknown>;
    expect(Object.keys(read)).toEqual(['banner', 'data', 'facts', 'schema', 'sections', 'subtitle', 'title']);
    expect(read.facts).toEqual(sampleReport.facts);
  });

  it('says Infinity in words, takes number arrays and maps, leaves out what is undefined', () => {
    const data = { nu: Number.POSITIVE_INFINITY, draws: new Float64Array([1.5, 2]), gone: undefined };
    const read = JSON.parse(renderJson(withData(data))) as { data: unknown };
    expect(read.data).toEqual({ nu: 'Infinity', draws: [1.5, 2] });
    const map = JSON.parse(renderJson(withData(new Map([['a', 1]])))) as { data: unknown };
    expect(map.data).toEqual({ a: 1 });
  });

  it('names the place of a value that JSON cannot hold', () => {
    expect(() => renderJson(withData({ a: [0, Number.NaN] }))).toThrow('report.data.a[1]: found NaN');
    expect(() => renderJson(withData({ f: () => 1 }))).toThrow('report.data.f: found a function');
  });
});
