import { describe, expect, it } from 'vitest';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { budgetStudy, medianResult } from '../../../src/studies/matrix/budget-study.js';
import { precisionStudy } from '../../../src/studies/matrix/precision-study.js';

describe('budgets of levels', () => {
  it('leave out a level whose median is not above 0, for they are relative to it', () => {
    const { records } = zirconPigmentStudy({ seed: 77 });
    const study = evaluateStudy(records);
    const levels = precisionStudy(study).filter(({ analyte }) => analyte === 'Ca');
    const [low] = levels;
    const lowered = {
      ...study,
      results: study.results.map((r) =>
        r.analyte === 'Ca' && r.sample === low!.sample && r.value !== null
          ? { ...r, value: r.value - 2 * medianResult(study, 'Ca', low!.sample).value }
          : r,
      ),
    };
    const budgets = budgetStudy(lowered, levels, new Map(), () => []);
    expect(budgets.map(({ level }) => level)).toEqual(levels.slice(1).map(({ level }) => level));
    expect(budgetStudy(study, levels, new Map(), () => [])).toHaveLength(levels.length);
  });
});
