import { describe, expect, it } from 'vitest';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { accreditationEvidence, type EvidenceInput } from '../../src/studies/accreditation-evidence.js';

const { records } = zirconPigmentStudy({ seed: 20260302 });
const input: EvidenceInput = {
  records,
  findings: [],
  budgets: 24,
  issued: [{ number: '0001', issuedOn: '2026-04-01T00:00:00Z' }],
  selfCheck: { cases: 10, agreeing: 10 },
  auditProblems: [],
  today: '2026-04-01',
};
const item = (change: Partial<EvidenceInput>, clause: string) =>
  accreditationEvidence({ ...input, ...change }).find((e) => e.clause === clause)!;

describe('evidence by clause', () => {
  it('puts what is missing first', () => {
    const states = accreditationEvidence(input).map((e) => e.state);
    expect(states).toEqual(
      [...states].sort(
        (a, b) =>
          ['missing', 'partly held', 'held'].indexOf(a) - ['missing', 'partly held', 'held'].indexOf(b),
      ),
    );
    expect(states[0]).toBe('missing');
    expect(states.at(-1)).toBe('held');
  });

  it('names an operator without authorisation, overdue equipment and an expired standard', () => {
    expect(item({}, '6.2').state).toBe('held');
    const nobody = { ...records, plan: { ...records.plan, people: records.plan.people.slice(0, 1) } };
    expect(item({ records: nobody }, '6.2').gaps.join()).toContain('has no authorisation on record');
    expect(item({ today: '2030-01-01' }, '6.4').gaps.join()).toContain('calibration was due on');
    expect(item({ today: '2030-01-01' }, '6.5').gaps.join()).toContain('expired on');
  });

  it('carries over what the audit and the self-check found', () => {
    expect(
      item({ auditProblems: ['zircon-pigment/0001/report.html: found other bytes; expected …'] }, '8.4')
        .state,
    ).toBe('missing');
    expect(item({ selfCheck: { cases: 10, agreeing: 9 } }, '7.11').gaps[0]).toContain('9 of 10');
    expect(item({ issued: [] }, '7.8').gaps).toEqual(['no report has been issued']);
  });
});
