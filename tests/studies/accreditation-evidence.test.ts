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

  it('asks no calibration of equipment that went out of service', () => {
    const late = item({ today: '2030-01-01' }, '6.4').gaps;
    expect(late.map((gap) => gap.split(':')[0])).toEqual(['BAL-2', 'BAL-3', 'ICP-2', 'FUS-2', 'DSP-1']);
  });

  it('names each finding that is open, and asks for the decision on what is not met', () => {
    const finding = {
      ...{ id: '', characteristic: 'trueness', analyte: 'Al', level: 'QRM-1', quantity: '', unit: '%' },
      ...{ estimate: null, limits: null, degreesOfFreedom: null, n: 0, criterion: null, reason: '' },
      ...{ clause: '', method: '', rows: [], notes: [] },
    };
    const findings = [
      { ...finding, verdict: 'not met' as const },
      { ...finding, verdict: 'not studied' as const, analyte: 'Fe' },
      { ...finding, verdict: 'met' as const, analyte: 'Ti' },
    ];
    expect(item({ findings }, '7.2.2').gaps).toEqual([
      'trueness, Al, QRM-1: not met',
      'trueness, Fe, QRM-1: not studied',
    ]);
    expect(item({ findings }, '7.10').gaps).toEqual([
      '1 finding(s) not met: the decision on them is not on record',
    ]);
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
