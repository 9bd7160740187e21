import { identifier } from '../../chain/model-fragment.js';
import { type ResultObservation, resultModel } from '../../chain/result-model.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { propagate } from '../../uncertainty/propagate.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { lowestLevel, resultsOf, solidPerMg } from './matrix-context.js';

/** What the interference correction adds to the standard deviation of a result at content 0. */
export interface CorrectionAtZero {
  /** Level whose samples the interferents were read in: the lowest one of the analyte. */
  readonly level: string;
  /** Mean mass fraction of each interferent there, in the solution of the digestion, mg/kg. */
  readonly interferents: readonly { readonly interferent: string; readonly content: number }[];
  /** In the solution of the digestion, mg/kg, and in the solid at nominal masses. */
  readonly inSolution: number;
  readonly inSolid: number;
}

/**
 * Standard uncertainty of the interference correction of a sample that holds none of the analyte, with the interferents at the
 * content of its lowest level: u² = Σ (c_i·u(K_i))² + (K_i·u(c_i))². A blank holds next to no interferent, so the scatter of
 * blanks does not show it. Of two lines each coefficient counts with the share of its line.
 *
 * @returns null where nothing disturbs the analyte, or no level has results
 * @see JCGM 100:2008, 5.1.2
 */
export function correctionAtZero(study: EvaluatedStudy, analyte: string): CorrectionAtZero | null {
  const lowest = lowestLevel(study, analyte);
  if (lowest === null) return null;
  const observations = resultsOf(study, analyte, 'sample', lowest.sample).map((r) => r.observation);
  const coefficients = observations[0] === undefined ? [] : weightedCoefficients(observations[0]);
  if (coefficients.length === 0) return null;
  const interferents = [...new Set(coefficients.map((k) => k.interferent))].map((interferent) => ({
    interferent,
    ...contentOf(interferent, observations),
  }));
  const variance = interferents.reduce((sum, { interferent, content, standardUncertainty }) => {
    const own = coefficients.filter((k) => k.interferent === interferent);
    const ofCoefficients = own.reduce((part, k) => part + (content * k.standardUncertainty) ** 2, 0);
    const ofContent = own.reduce((part, k) => part + k.value, 0) * standardUncertainty;
    return sum + ofCoefficients + ofContent ** 2;
  }, 0);
  const inSolution = Math.sqrt(variance);
  const perContent = (study.index.records.plan.nominal.solutionG / 1000) * solidPerMg(study, analyte);
  return {
    level: lowest.level,
    interferents: interferents.map(({ interferent, content }) => ({ interferent, content })),
    inSolution,
    inSolid: inSolution * perContent,
  };
}

/** The same in words, for a finding that rests on it. */
export function describeCorrection({ level, interferents, inSolution }: CorrectionAtZero): string {
  const shown = (value: number, digits: number) => String(Number(value.toPrecision(digits)));
  const contents = interferents.map((i) => `${i.interferent} ${shown(i.content, 3)} mg/kg`);
  return `The standard deviation at content 0 holds the uncertainty of the interference correction at the contents in solution of the lowest level, ${level} (${contents.join(', ')}): ${shown(inSolution, 2)} mg/kg in solution.`;
}

/** Coefficients that act on the content reported, each times the share of its line. */
function weightedCoefficients({ analyte, interference, lines }: ResultObservation) {
  const share = (label: string) => {
    if (lines === undefined) return label === analyte ? 1 : 0;
    return label === analyte ? 1 - lines.secondShare : label === lines.secondLabel ? lines.secondShare : 0;
  };
  return interference.flatMap((k) => {
    const weight = share(k.analyte);
    return weight === 0
      ? []
      : [{ ...k, value: weight * k.value, standardUncertainty: weight * k.standardUncertainty }];
  });
}

/** Mean content of an interferent over digestions, and the standard uncertainty of that of one digestion (root mean square). */
function contentOf(interferent: string, observations: readonly ResultObservation[]) {
  const found = observations.map((observation) => {
    const { model, inputs, correlations } = resultModel(observation, {
      route: 'components',
      unexplained: null,
    });
    const content = { ...model, outputs: [`c_${identifier(interferent)}`] };
    return propagate(content, inputs, correlations).outputs[0]!;
  });
  return {
    content: mean(found.map((f) => f.estimate)),
    standardUncertainty: Math.sqrt(mean(found.map((f) => f.standardUncertainty ** 2))),
  };
}
