import { describe, expect, it } from 'vitest';
import { planReport } from '../../../src/report/dossier/plan-report.js';
import { studyPlan } from '../../../src/scenario/plan/study-plan.js';
import { planValidation } from '../../../src/studies/planning/plan-validation.js';
import { dossierContext } from '../../support/dossier-context.js';

describe('the report on a plan', () => {
  const report = planReport(planValidation(studyPlan({ stability: [], nativeCheck: [] })), dossierContext);
  const section = (id: string) => JSON.stringify(report.sections.find((s) => s.id === id));

  it('says that its numbers are the fewest, and that the plan may name larger ones', () => {
    // The demonstration plan names six additions in the reason of a criterion; fewer than six suffice for it.
    expect(section('plan')).toContain('six additions');
    expect(section('proposal')).toMatch(/"value":"[2-5] before fusion and/);
    expect(section('proposal')).toContain('what its owner wants done');
  });

  it('heads criteria and expectations by the oxide that results are reported as', () => {
    for (const id of ['power', 'expectations', 'plan']) {
      expect(section(id)).toContain('"text":"ZrO2"');
      expect(section(id)).not.toContain('"text":"Zr"');
    }
  });
});
