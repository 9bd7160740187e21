import { describe, expect, it } from 'vitest';
import type { EquipmentRecord, PersonRecord } from '../../../src/records/study.js';
import { equipmentSection, overdue } from '../../../src/report/sections/equipment-section.js';
import { peopleSection, workDone } from '../../../src/report/sections/people-section.js';
import { planSection } from '../../../src/report/sections/plan-section.js';
import { traceabilitySection } from '../../../src/report/sections/traceability-section.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';

const { records } = zirconPigmentStudy({ seed: 1 });
const period = { firstDay: '2026-03-02', lastDay: '2026-03-13' };
const item = (change: Partial<EquipmentRecord>): EquipmentRecord => ({
  id: 'BAL-9',
  kind: 'balance',
  description: 'invented',
  location: 'F2',
  inServiceFrom: '2025-01-01',
  inServiceTo: null,
  certificate: 'C-9',
  calibratedOn: '2025-03-10',
  dueOn: '2026-03-10',
  ...change,
});
const person: PersonRecord = {
  name: 'A. Analyst',
  role: 'analyst',
  authorisedFor: 'fusion',
  authorisedBy: 'S. Varrendale',
  since: '2026-03-05',
};

describe('due dates', () => {
  it('finds equipment used beyond its due date, and only that', () => {
    expect(overdue([item({})], period)).toHaveLength(1);
    expect(overdue([item({ dueOn: '2026-03-13' })], period)).toEqual([]);
    expect(overdue([item({ inServiceTo: '2026-03-09' })], period)).toEqual([]);
    expect(
      overdue([item({ inServiceTo: '2026-03-01' }), item({ inServiceFrom: '2026-04-01' })], period),
    ).toEqual([]);
  });

  it('says so in the section of equipment', () => {
    expect(JSON.stringify(equipmentSection([item({})], period))).toContain(
      'BAL-9 was used until 2026-03-13, its calibration was due on 2026-03-10.',
    );
    expect(JSON.stringify(equipmentSection([], period))).not.toContain('was due');
  });

  it('names equipment that was in service before its calibration in the register', () => {
    const textOf = (change: Partial<EquipmentRecord>) =>
      JSON.stringify(equipmentSection([item({ dueOn: '2027-03-10', ...change })], period));
    const gap =
      'BAL-9 was in service during this work from 2026-03-02 on; the certificate of BAL-9 of that time is not in the register: before 2026-03-04.';
    expect(textOf({ calibratedOn: '2026-03-04' })).toContain(gap);
    expect(textOf({ calibratedOn: '2026-03-02' })).not.toContain('not in the register');
    // It came into service with its calibration, within the work.
    expect(textOf({ calibratedOn: '2026-03-04', inServiceFrom: '2026-03-05' })).not.toContain(
      'not in the register',
    );
    expect(textOf({ calibratedOn: '2026-03-14', inServiceFrom: '2026-03-14' })).not.toContain(
      'not in the register',
    );
  });

  it('names standards and materials that had expired, each once', () => {
    const text = JSON.stringify(
      traceabilitySection(
        records.standards
          .slice(0, 1)
          .map((standard) => ({ ...standard, name: 'S-old', expiry: '2026-03-01' })),
        records.references.map((reference) => ({ ...reference, expiry: '2026-03-12' })),
        'LM-1',
        period.lastDay,
      ),
    );
    expect(text).toContain('S-old expired on 2026-03-01');
    expect(text.split('QRM-1 expired on 2026-03-12')).toHaveLength(2);
  });

  it('names work that no authorisation covers', () => {
    const work = workDone([
      { operator: 'A. Analyst', day: '2026-03-04' },
      { operator: 'A. Analyst', day: '2026-03-02' },
      { operator: 'B. Unknown', day: '2026-03-03' },
    ]);
    expect(work[0]).toEqual({
      name: 'A. Analyst',
      digestions: 2,
      firstDay: '2026-03-02',
      lastDay: '2026-03-04',
    });
    const text = JSON.stringify(peopleSection([person], work));
    expect(text).toContain('A. Analyst worked from 2026-03-02; authorised since 2026-03-05.');
    expect(text).toContain('B. Unknown did digestions; no authorisation is recorded.');
  });

  it('says whether the plan is older than the work', () => {
    const planned = JSON.stringify(planSection(records.plan, '2026-03-02'));
    expect(planned).toContain(`dated ${records.plan.planDate}, before the first digestion`);
    expect(JSON.stringify(planSection(records.plan, '2026-01-02'))).toContain('not set before the work');
  });
});
