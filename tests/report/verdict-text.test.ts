import { describe, expect, it } from 'vitest';
import { verdictText } from '../../src/report/verdict-text.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../src/studies/matrix/validate-matrix.js';

describe('verdicts on a terminal', () => {
  it('add up to all findings', () => {
    const { findings } = validateMatrix(zirconPigmentStudy({ seed: 20260302 }).records);
    const lines = verdictText(findings);
    const number = (start: RegExp) => Number(start.exec(lines.join('\n'))![1]);
    const unasked = number(/^no criterion +(\d+)/m);
    expect(unasked).toBeGreaterThan(0);
    const open = lines.filter((line) => /^not (met|shown|studied) /.test(line)).length;
    expect(open).toBeGreaterThan(0);
    expect(open + number(/^met +(\d+) of/m) + unasked).toBe(findings.length);
    expect(number(/^met +\d+ of (\d+) findings/m)).toBe(findings.length);
  });

  it('say nothing where there are none, and of no criterion only where one is missing', () => {
    expect(verdictText([])).toEqual([]);
    const { findings } = validateMatrix(zirconPigmentStudy({ seed: 20260302 }).records);
    const met = findings.filter((f) => f.verdict === 'met');
    expect(verdictText(met)).toEqual([`met          ${met.length} of ${met.length} findings`]);
  });
});
