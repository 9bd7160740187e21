import { describe, expect, it } from 'vitest';
import { portionMass } from '../../../src/chain/weighing.js';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { solidPerMg } from '../../../src/studies/matrix/matrix-context.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { routineResults } from '../../../src/studies/routine-results/routine-results.js';

const withLine = (records: StudyRecords): StudyRecords => ({
  ...records,
  plan: { ...records.plan, blank: { scaling: 'per flux mass and digestion' } },
});
const validation = validateMatrix(withLine(zirconPigmentStudy({ seed: 77 }).records));
const found = routineResults(withLine(zirconRoutineRun(77).records), validation);

describe('a routine run whose blank is a line over the mass of flux', () => {
  it('subtracts its own line at the flux of each digestion', () => {
    const { blank } = found.run.blanks.get('Ti')!;
    if (blank?.scaling !== 'per flux mass and digestion') throw new Error('another rule');
    const result = found.run.results.find((r) => r.sample === 'RS-05' && r.analyte === 'Ti')!;
    const { fluxG, portion, basis } = result.observation;
    const net = result.amountMg - blank.perFluxMass * fluxG - blank.perDigestion;
    const dry = portionMass(portion) * (1 - basis.losses[0]!.fraction);
    expect(result.value!).toAgreeWithin((net / dry) * 1000 * (basis.oxide?.factor ?? 1), 1e-12);
  });

  it('holds each blank against the line of the validation at its own flux', () => {
    const line = validation.study.blanks.get('Ti')!.blank!;
    if (line.scaling !== 'per flux mass and digestion') throw new Error('another rule');
    const excess = found.run.blanks
      .get('Ti')!
      .amounts.map((a) => a.amountMg - line.perFluxMass * a.fluxG - line.perDigestion);
    const control = found.controls.find((c) => c.control === 'procedure blank' && c.about === 'Ti')!;
    expect(control.found).toAgreeWithin(Math.max(...excess) * solidPerMg(found.run, 'Ti'), 1e-9);
  });
});
