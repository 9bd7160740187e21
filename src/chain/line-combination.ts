import { identifier, type ModelFragment } from './model-fragment.js';

/** A result from two lines of its analyte: contents of both, in fixed shares. */
export interface LineCombination {
  /** Label of the second line's signal. */
  readonly secondLabel: string;
  /** Share of the second line in the content, above 0 and below 1; the own line has the rest. */
  readonly secondShare: number;
}

/** Content in the solution from the contents that both lines show. */
export function combinedContent(first: number, second: number, { secondShare }: LineCombination): number {
  return (1 - secondShare) * first + secondShare * second;
}

/**
 * Equation of the content that enters the result, `c_lines_<analyte>`. The shares are fixed by the plan and no estimates, so
 * that they bring no uncertainty; what both lines share, such as stock, masses and dilution, is one quantity in both terms.
 *
 * @see JCGM 100:2008, 5.1.2 and F.1.2.3: common input quantities stand once in the equation
 */
export function lineCombinationFragment(
  analyte: string,
  { secondLabel, secondShare }: LineCombination,
): ModelFragment {
  const [first, second] = [identifier(analyte), identifier(secondLabel)];
  return {
    equations: [
      {
        name: combinedName(analyte),
        description: `mass fraction of ${analyte} in the solution of the digestion, both lines`,
        unit: 'mg/kg',
        expression: `${1 - secondShare} * c_${first} + ${secondShare} * c_${second}`,
      },
    ],
    inputs: [],
    correlations: [],
  };
}

/** Name of the combined content in the equations. */
export function combinedName(analyte: string): string {
  return `c_lines_${identifier(analyte)}`;
}
