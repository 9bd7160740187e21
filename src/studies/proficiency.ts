import type { RoundRecord } from '../records/tables/rounds.js';

/** Scores of one proficiency-test result. */
export interface ProficiencyScore {
  readonly round: string;
  readonly material: string;
  readonly analyte: string;
  readonly difference: number;
  readonly unit: string;
  /** (x − x_pt)/σ_pt; |z| ≥ 3 asks for action, 2 to 3 is a warning. */
  readonly z: number;
  /** (x − x_pt)/√(u² + u_pt²): judged with the laboratory's own uncertainty. */
  readonly zeta: number;
}

/**
 * z and ζ scores; u is half of the expanded uncertainty stated with the result.
 *
 * @see ISO 13528:2022, 9.4 and 9.6 (clauses from memory)
 * @example
 * proficiencyScores([{ round: 'R1', material: 'M', analyte: 'Al', value: 12, unit: 'mg/kg', expandedUncertainty: 2, assignedValue: 10, assignedStandardUncertainty: 0, sigmaPt: 1 }])[0].z // => 2
 */
export function proficiencyScores(rounds: readonly RoundRecord[]): ProficiencyScore[] {
  return rounds.map((r) => {
    const difference = r.value - r.assignedValue;
    return {
      round: r.round,
      material: r.material,
      analyte: r.analyte,
      difference,
      unit: r.unit,
      z: difference / r.sigmaPt,
      zeta: difference / Math.hypot(r.expandedUncertainty / 2, r.assignedStandardUncertainty),
    };
  });
}
