import { describe, expect, it } from 'vitest';
import type { Finding, Verdict } from '../../src/validation/finding.js';
import { fitness, fitnessClause } from '../../src/validation/fitness.js';
import { notStudied } from '../../src/validation/not-studied.js';
import { criterion } from './support.js';

function finding(analyte: string, verdict: Verdict, characteristic = 'trueness'): Finding {
  return {
    id: `${characteristic}/${analyte}/low`,
    characteristic,
    analyte,
    level: 'low',
    quantity: '',
    unit: '%',
    estimate: 1,
    limits: null,
    degreesOfFreedom: null,
    n: 1,
    criterion: verdict === 'no criterion' ? null : criterion('at most', 1, '%'),
    verdict,
    reason: '',
    clause: '',
    method: '',
    rows: [],
    notes: [],
  };
}

describe('statement of fitness', () => {
  it('is fit only where every criterion is met', () => {
    expect(fitness([finding('Al', 'met'), finding('Al', 'met')])[0]!.statement).toBe('fit');
    expect(fitness([finding('Al', 'met'), finding('Al', 'not shown')])[0]!.statement).toBe('not shown');
    expect(fitness([finding('Al', 'met'), finding('Al', 'not studied')])[0]!.statement).toBe('not shown');
    expect(fitness([finding('Al', 'not met'), finding('Al', 'not shown')])[0]!.statement).toBe('not fit');
    expect(fitness([finding('Al', 'no criterion')])[0]!.statement).toBe('not shown');
  });

  it('states the fitness of the method as a whole apart, last', () => {
    const stated = fitness([
      finding('*', 'not met', 'check solution'),
      finding('Al', 'met'),
      finding('Fe', 'met'),
    ]);
    expect(stated.map((s) => [s.analyte, s.statement])).toEqual([
      ['Al', 'fit'],
      ['Fe', 'fit'],
      ['*', 'not fit'],
    ]);
    expect(stated[2]!.sentence).toContain('All analytes in common: not fit');
    expect(stated[2]!.sentence).toContain('check solution (low)');
    expect(stated[0]!.sentence).toContain('once the last statement');
    const settled = fitness([finding('*', 'met', 'check solution'), finding('Al', 'met')]);
    expect(settled[0]!.sentence).not.toContain('last statement');
  });

  it('reads as a sentence beside results', () => {
    const clause = (...findings: Finding[]) => fitnessClause(fitness(findings)[0]!);
    expect(clause(finding('Si', 'not met'))).toBe(
      'Si is not fit for the intended use; 0 of 1 findings met. Not met: trueness (low).',
    );
    expect(clause(finding('Ca', 'not shown'))).toBe(
      'Ca is not shown to be fit for the intended use; 0 of 1 findings met. Not shown: trueness (low).',
    );
    expect(clause(finding('Ti', 'no criterion'))).toBe(
      'Ti is not shown to be fit; the plan sets no criterion.',
    );
  });

  it('says of a verdict on one sample that it concerns this sample only', () => {
    const [common] = fitness([finding('*', 'not met', 'native internal standard')]);
    expect(common!.sentence).toContain('native internal standard (sample low only)');
    expect(common!.sentence).toContain('not fit for sample low');
    const [al] = fitness([finding('*', 'not met', 'native internal standard'), finding('Al', 'met')]);
    expect(al!.sentence).toContain('This does not hold for sample low');
    const both = [
      finding('*', 'not met', 'native internal standard'),
      finding('*', 'not met', 'check solution'),
    ];
    expect(fitness([...both, finding('Al', 'met')])[0]!.sentence).toContain('once the last statement');
  });

  it('counts and names what is met, not met and open', () => {
    const [al] = fitness([
      finding('Al', 'met'),
      finding('Al', 'not met'),
      finding('Al', 'not shown', 'linearity'),
    ]);
    expect(al!.sentence).toBe(
      'Al: not fit for the intended use; 1 of 3 findings met. Not met: trueness (low). Not shown: linearity (low).',
    );
  });

  it('takes what was not studied as open where the plan has a criterion for it', () => {
    const options = { analyte: 'Al', level: 'low', unit: '%', criterion: criterion('within', 3, '%') };
    const missing = notStudied('second line', options, 'no second line was read');
    expect(missing).toMatchObject({
      verdict: 'not studied',
      reason: 'Not studied: no second line was read.',
    });
    expect(fitness([missing])[0]!.open.length).toBe(1);
  });
});
