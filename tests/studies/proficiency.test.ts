import { describe, expect, it } from 'vitest';
import { proficiencyScores } from '../../src/studies/proficiency.js';

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
