import { describe, expect, it } from 'vitest';
import { median } from '../../src/statistics/descriptive/median.js';
import { proficiencyScores } from '../../src/studies/proficiency.js';
import { asFraction, horwitz } from '../../src/validation/precision/horwitz.js';
import { blockAt, openDataFolder, openSet } from '../support/reference-sets.js';

const round = {
  ...{ round: 'R-1', material: 'M', analyte: 'Al', unit: 'mg/kg', value: 209 },
  ...{ expandedUncertainty: 8, assignedValue: 200, assignedStandardUncertainty: 3, sigmaPt: 6 },
};

describe('scores of a proficiency round', () => {
  it('are the difference over the standard deviation for proficiency assessment, and over both uncertainties', () => {
    // Exact: 9/6, and 9/√(4² + 3²).
    expect(proficiencyScores([round])).toEqual([
      { round: 'R-1', material: 'M', analyte: 'Al', unit: 'mg/kg', difference: 9, z: 1.5, zeta: 1.8 },
    ]);
  });

  it('change sign with the difference and with nothing else', () => {
    const [above, below] = proficiencyScores([round, { ...round, value: 191 }]);
    expect([below!.z, below!.zeta]).toEqual([-above!.z, -above!.zeta]);
  });
});

describe.skipIf(!openDataFolder)('scores of five rounds on rocks (needs MELTBOOK_REFERENCE_DATA)', () => {
  // Target of the rounds: 0.01·c^0.8495, half of what Thompson 2000, Analyst 125, 385, gives from 1.2e-7 to 0.138.
  it('are those computed apart, their targets half the amended Horwitz value at the median', () => {
    const set = openSet('geopt_rounds');
    const columns = ['round', 'analyte', 'lab', 'value'].map((name) => set.text(name));
    const rows = columns[0]!.map((_, i) => columns.map((column) => column[i]!));
    let [scores, targets] = [0, 0];
    for (const [name, analytes] of Object.entries(set.results)) {
      for (const [element, block] of Object.entries(blockAt(analytes))) {
        const own = rows.filter(([r, a, , value]) => r === name && a === element && value !== '');
        const assignedValue = median(own.map(([, , , value]) => Number(value)));
        const sigmaPt = Number(blockAt(block, 'horwitz_target_sd').value);
        const unit = blockAt(block).unit === 'mg/kg' ? ('mg/kg' as const) : ('g/100 g' as const);
        const c = asFraction(assignedValue, unit);
        if (c <= 0.138) {
          expect((horwitz(c).thompsonPercent / 200) * assignedValue).toAgreeWithin(sigmaPt, 1e-12);
          targets++;
        }
        const expected = blockAt(block, 'z_scores_first_5_labs');
        const found = proficiencyScores(
          (expected.lab as readonly string[]).map((lab) => {
            const value = Number(own.find((row) => row[2] === lab)![3]);
            return { ...round, round: name, analyte: element, unit, value, assignedValue, sigmaPt };
          }),
        );
        (expected.z as readonly number[]).forEach((z, i) => {
          expect(Math.abs(found[i]!.z - z)).toBeLessThan(1e-10);
          scores++;
        });
      }
    }
    expect(scores).toBeGreaterThan(250);
    expect(targets).toBeGreaterThan(50);
  });
});
