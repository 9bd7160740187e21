import { requirePositive } from '../errors.js';
import { type RecoveryFactor, recoveryName } from './corrections/recovery-factor.js';
import { evaporationInputs, evaporationName } from './evaporation.js';
import { retainedInputs, retainedName } from './fusion.js';
import { heterogeneityInputs, heterogeneityName } from './heterogeneity.js';
import { type LossOfMass, lossFactors, lossInputs, massOnBasis } from './mass-on-basis.js';
import type { ModelFragment, StatedFactor } from './model-fragment.js';
import { type OxideForm, oxideInputs, oxideName } from './oxide-form.js';

/** What turns an amount in the solution into the mass fraction reported. */
export interface SolidBasis {
  /** Losses of mass between the portion as weighed and the basis reported; none where both are one state. */
  readonly losses: readonly LossOfMass[];
  /** Mass of oxide per mass of element, absent where the element is reported. */
  readonly oxide: OxideForm | null;
  readonly unit: 'mg/kg' | 'g/100 g';
  /** Mass fraction in the solution at the reading relative to that at weigh-back. */
  readonly evaporation: StatedFactor | null;
  /** Fraction of the analyte that reaches the solution. */
  readonly retained: StatedFactor | null;
  /** Portion against sample: factor 1 with the uncertainty of sampling the test sample. */
  readonly heterogeneity: StatedFactor | null;
  /** R that results are divided by; absent where the study does not correct for recovery. */
  readonly recovery?: RecoveryFactor;
}

/** mg of analyte per kg of solid → unit reported. */
const perMgPerG = { 'mg/kg': 1000, 'g/100 g': 0.1 } as const;

/**
 * Amount of analyte, mg, in the solution of a digestion.
 *
 * @param contentMgPerKg mass fraction in the solution of the digestion
 * @param solutionG mass of that solution
 */
export function analyteMass(contentMgPerKg: number, solutionG: number, basis: SolidBasis): number {
  const inSolution = (contentMgPerKg * solutionG) / 1000 / (basis.evaporation?.estimate ?? 1);
  return inSolution / (basis.retained?.estimate ?? 1);
}

/**
 * Mass fraction of the analyte in the solid, in the unit and oxide form reported.
 *
 * @param analyteMg amount found in the solution, `blankMg` the blank's part of it
 * @throws InputError portion not above 0, a loss of mass that is not above −1 and below 1
 * @see IUPAC definition of mass fraction; the equation of the chain is this project's own, written out in `result-model.ts`
 */
export function massFraction(
  analyteMg: number,
  blankMg: number,
  portionG: number,
  basis: SolidBasis,
): number {
  requirePositive(portionG, 'mass of the portion in g');
  const recovery = basis.recovery?.estimate ?? 1;
  const element = (analyteMg - blankMg) / (massOnBasis(portionG, basis.losses) * recovery);
  return element * (basis.oxide?.factor ?? 1) * (basis.heterogeneity?.estimate ?? 1) * perMgPerG[basis.unit];
}

/** Last step: `w` from the content named `content`, `m_s`, `m_p` and `m_bl`. `random` names the factors the counting route adds. */
export function massFractionFragment(
  analyte: string,
  content: string,
  basis: SolidBasis,
  blanked: boolean,
  random: readonly string[],
): ModelFragment {
  const divisors = [
    basis.evaporation && evaporationName(basis.evaporation),
    basis.retained && retainedName(basis.retained),
  ].filter(Boolean);
  const factors = [
    basis.oxide && oxideName(analyte),
    basis.heterogeneity && heterogeneityName(basis.heterogeneity),
    ...random,
  ].filter(Boolean);
  const amount = [`${content} * m_s`, ...divisors].join(' / ');
  const recovery = basis.recovery === undefined ? '' : ` * ${recoveryName(analyte)}`;
  const net = blanked ? '(n_e - m_bl)' : 'n_e';
  const inputs = [
    ...evaporationInputs(basis.evaporation),
    ...retainedInputs(basis.retained),
    ...heterogeneityInputs(basis.heterogeneity),
    ...lossInputs(basis.losses),
    ...oxideInputs(analyte, basis.oxide),
  ];
  return {
    equations: [
      {
        name: 'n_e',
        description: `mass of ${analyte} brought into solution`,
        unit: 'mg',
        expression: `${amount} / 1000`,
      },
      {
        name: 'w',
        description: `mass fraction of ${basis.oxide?.formula ?? analyte}`,
        unit: basis.unit,
        expression: [
          `${net} / (m_p${lossFactors(basis.losses)}${recovery})`,
          ...factors,
          String(perMgPerG[basis.unit]),
        ].join(' * '),
      },
    ],
    inputs,
    correlations: [],
  };
}
