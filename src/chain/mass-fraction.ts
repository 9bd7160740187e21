import { InputError, requirePositive } from '../errors.js';
import type { InputQuantity } from '../uncertainty/input-quantity.js';
import { type RecoveryFactor, recoveryName } from './corrections/recovery-factor.js';
import {
  type ModelFragment,
  recordedValue,
  type StatedFactor,
  statedInput,
  statedName,
} from './model-fragment.js';

/** What turns an amount in the solution into the mass fraction reported. */
export interface SolidBasis {
  /** Loss of mass from the portion as weighed to the basis reported, as a fraction, with its standard uncertainty. */
  readonly loss: {
    readonly fraction: number;
    readonly standardUncertainty: number;
    readonly source: string;
  } | null;
  /** Mass of oxide per mass of element, absent where the element is reported. */
  readonly oxide: {
    readonly formula: string;
    readonly factor: number;
    readonly standardUncertainty: number;
  } | null;
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
  return (
    (contentMgPerKg * solutionG) / 1000 / (basis.evaporation?.estimate ?? 1) / (basis.retained?.estimate ?? 1)
  );
}

/**
 * Mass fraction of the analyte in the solid, in the unit and oxide form reported.
 *
 * @param analyteMg amount found in the solution, `blankMg` the blank's part of it
 * @throws InputError portion not above 0, a loss outside 0 to below 1
 * @see IUPAC definition of mass fraction; the equation of the chain is this project's own, written out in `result-model.ts`
 */
export function massFraction(
  analyteMg: number,
  blankMg: number,
  portionG: number,
  basis: SolidBasis,
): number {
  requirePositive(portionG, 'mass of the portion in g');
  const loss = basis.loss?.fraction ?? 0;
  if (!(loss >= 0 && loss < 1))
    throw new InputError(`loss as a fraction: found ${loss}, expected at least 0 and below 1`);
  const recovery = basis.recovery?.estimate ?? 1;
  const element = (analyteMg - blankMg) / (portionG * (1 - loss) * recovery);
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
    basis.evaporation && statedName('f_evap', basis.evaporation),
    basis.retained && statedName('f_ret', basis.retained),
  ].filter(Boolean);
  const factors = [
    basis.oxide && `f_ox_${analyte}`,
    basis.heterogeneity && statedName('f_het', basis.heterogeneity),
    ...random,
  ].filter(Boolean);
  const amount = [`${content} * m_s`, ...divisors].join(' / ');
  const loss = basis.loss === null ? '' : ' * (1 - loss)';
  const recovery = basis.recovery === undefined ? '' : ` * ${recoveryName(analyte)}`;
  const net = blanked ? '(n_e - m_bl)' : 'n_e';
  const inputs = [
    ...(basis.evaporation
      ? [
          perDigestion(
            statedInput(
              statedName('f_evap', basis.evaporation),
              'evaporation between weigh-back and reading',
              '1',
              basis.evaporation,
              'dissolution',
            ),
          ),
        ]
      : []),
    ...(basis.retained
      ? [
          statedInput(
            statedName('f_ret', basis.retained),
            'fraction of the analyte that reaches the solution',
            '1',
            basis.retained,
            'fusion',
          ),
        ]
      : []),
    ...(basis.heterogeneity
      ? [
          perDigestion(
            statedInput(
              statedName('f_het', basis.heterogeneity),
              'portion against sample',
              '1',
              basis.heterogeneity,
              'sample',
            ),
          ),
        ]
      : []),
    ...(basis.loss
      ? [
          {
            ...recordedValue(
              'loss',
              'loss of mass to the basis reported',
              '1',
              basis.loss.fraction,
              'sample',
              basis.loss.source,
            ),
            standardUncertainty: basis.loss.standardUncertainty,
          },
        ]
      : []),
    ...(basis.oxide
      ? [
          {
            ...recordedValue(
              `f_ox_${analyte}`,
              `mass of ${basis.oxide.formula} per mass of ${analyte}`,
              '1',
              basis.oxide.factor,
              'oxide form',
              'CIAAW standard atomic weights',
            ),
            standardUncertainty: basis.oxide.standardUncertainty,
            sourceKind: 'definition' as const,
          },
        ]
      : []),
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
        expression: [`${net} / (m_p${loss}${recovery})`, ...factors, String(perMgPerG[basis.unit])].join(
          ' * ',
        ),
      },
    ],
    inputs,
    correlations: [],
  };
}

/** Comes anew with each digestion, so that the scatter of digestions of one sample holds it. */
function perDigestion(input: InputQuantity): InputQuantity {
  return { ...input, withinPrecision: true, variesWith: 'digestion' };
}
