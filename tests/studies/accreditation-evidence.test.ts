import { describe, expect, it } from 'vitest';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { accreditationEvidence } from '../../src/studies/accreditation-evidence.js';
import type { EvidenceInput } from '../../src/studies/evidence-input.js';
import type { AgreementKind } from '../../src/studies/self-check/agreement.js';
import { selfCheckSummary } from '../../src/studies/self-check/summary.js';

const figure = (agreement: AgreementKind) => ({
  source: 'JCGM 100 (GUM)',
  clause: 'H.1',
  quantity: 'u in nm',
  published: '32',
  computed: 32,
  digits: 15,
  agreement,
  figureTakenFrom: 'document read' as const,
});
const { records } = zirconPigmentStudy({ seed: 20260302 });
const input: EvidenceInput = {
  records,
  findings: [],
  budgets: [...records.plan.analytes, ...records.plan.analytes].map(({ analyte }) => ({
    analyte,
    outsideBudget: null,
  })),
  issued: [{ number: '0001', issuedOn: '2026-04-01T00:00:00Z' }],
  selfCheck: selfCheckSummary([figure('agrees'), figure('explained exception')]),
  auditProblems: [],
  today: '2026-04-01',
};
const item = (change: Partial<EvidenceInput>, clause: string) =>
  accreditationEvidence({ ...input, ...change }).find((e) => e.clause === clause)!;

describe('evidence by clause', () => {
  it('puts what is missing first', () => {
    const states = accreditationEvidence(input).map((e) => e.state);
    const order = ['missing', 'partly held', 'named elsewhere', 'held'];
    expect(states).toEqual([...states].sort((a, b) => order.indexOf(a) - order.indexOf(b)));
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
      'the decision on 1 finding(s) not met: kept outside these records; name the place under evidence in study.json',
    ]);
  });

  const withZ = (...z: readonly number[]) =>
    z.map((score, i) => ({
      ...{ round: `R-${i + 1}`, material: 'M', analyte: 'Fe', unit: 'mg/kg', value: 100 + 5 * score },
      ...{ expandedUncertainty: 10, assignedValue: 100, assignedStandardUncertainty: 0, sigmaPt: 5 },
    }));
  const watched = (rounds: ReturnType<typeof withZ>) =>
    item({ records: { ...records, rounds, history: records.history.slice(0, 3) } }, '7.7');

  it('does not call control by rounds held while their scores ask for an investigation', () => {
    const calm = watched(withZ(1.9, -1.9, 2.5, 0.1, 2.5));
    expect(calm.gaps.join()).not.toContain('z =');
    const warned = watched(withZ(0, 2.2, -2.4));
    expect(warned.state).toBe('partly held');
    // u = 10/2 = σpt, so that ζ = z.
    expect(warned.gaps[0]).toBe(
      'Fe: R-3 z = −2.4, ζ = −2.4: warning, two or more successive warnings; the investigation that this calls for is not on record',
    );
    expect(watched(withZ(0, 3)).gaps[0]).toContain('R-2 z = 3.0, ζ = 3.0: action');
  });

  it('names Al of the demonstration study, four warnings in succession, and analytes that nothing watches', () => {
    const { state, gaps } = item({}, '7.7');
    expect(state).toBe('partly held');
    // By hand from rounds.csv: (3528 − 3134)/140 = 2.81, 394/√(46.75² + 31.2²) = 7.01; and so on.
    expect(gaps[0]).toMatch(
      /^Al: QPT-2025-1 z = 2\.8, ζ = 7\.0; QPT-2025-2 z = 2\.8, ζ = 6\.9; QPT-2026-1 z = 2\.8, ζ = 6\.9; QPT-2026-2 z = 2\.9, ζ = 7\.3: /,
    );
    expect(gaps[1]).toBe('Pr, Hf, Ti, Ca: neither control results nor proficiency rounds');
  });

  it('does not call uncertainty held while a finding says that budgets lack something', () => {
    expect(item({}, '7.6').state).toBe('held');
    const bias = 'Trueness against QRM-1 is not met.';
    const budgets = input.budgets.map((b) => (b.analyte === 'Al' ? { ...b, outsideBudget: bias } : b));
    expect(item({ budgets }, '7.6')).toMatchObject({
      state: 'partly held',
      gaps: [`Al: ${bias} Its budgets do not hold this, nor do they describe its results`],
    });
    expect(item({ budgets: budgets.filter((b) => b.analyte === 'Zr') }, '7.6').gaps[0]).toBe(
      'Si, Pr, Hf, Al, Fe, Ti, Ca: no uncertainty budget',
    );
    expect(item({ budgets: [] }, '7.6').gaps).toEqual(['no uncertainty budget']);
  });

  it('says to which work the decision rule of the plan applies', () => {
    expect(item({}, '7.1.3').holds[0]).toBe(
      `${records.plan.decisionRule}. This is the rule of the validation plan; a routine run decides by the rule that its own plan names, which its report prints`,
    );
  });

  it('takes a gap as answered once the plan names where the evidence is kept, and says that it has not seen it', () => {
    const kept = { what: 'risk review', keptAt: 'quality office', namedBy: 'D. Holmcroft', on: '2026-01-07' };
    const naming = (clause: '8.5' | '8.3' | '6.2') => ({
      records: { ...records, plan: { ...records.plan, evidence: [{ clause, ...kept }] } },
    });
    expect(item({}, '8.5').state).toBe('missing');
    expect(item(naming('8.5'), '8.5')).toMatchObject({
      state: 'named elsewhere',
      elsewhere: ['risk review: quality office (D. Holmcroft, 2026-01-07)'],
      gaps: [],
    });
    expect(item({}, '8.3').state).toBe('partly held');
    expect(item(naming('8.3'), '8.3').state).toBe('named elsewhere');
    // A place does not close a gap in what the records themselves should hold.
    const nobody = { ...naming('6.2').records, plan: { ...naming('6.2').records.plan, people: [] } };
    expect(item({ records: nobody }, '6.2').state).toBe('partly held');
  });

  it('carries over what the audit and the self-check found', () => {
    expect(
      item({ auditProblems: ['zircon-pigment/0001/report.html: found other bytes; expected …'] }, '8.4')
        .state,
    ).toBe('missing');
    const wrong = selfCheckSummary([figure('agrees'), figure('differs')]);
    expect(item({ selfCheck: wrong }, '7.11').gaps[0]).toContain('of 2 published figures 1 agree');
    expect(item({ selfCheck: wrong }, '7.11').gaps[0]).toContain('1 differ');
    expect(item({ selfCheck: selfCheckSummary([]) }, '7.11').state).toBe('missing');
    expect(item({}, '7.11').holds[0]).toContain('1 known exceptions');
    expect(item({ issued: [] }, '7.8').gaps[0]).toBe('no report has been issued');
  });
});
