import { InputError, requireFinite } from '../errors.js';
import { type Balance, readingErrorEquation, readingErrors, sensitivityFactor } from './balance.js';
import { buoyancyEquation, buoyancyFactor, referenceDensityInput } from './buoyancy.js';
import { type ModelFragment, recordedValue, type StatedFactor, statedInput } from './model-fragment.js';

/** Readings of one portion, g in air, and the balance they were taken on. */
export interface PortionWeighing {
  readonly digestion: string;
  readonly balance: Balance;
  readonly crucibleG: number;
  readonly crucibleWithPortionG: number;
  /** kg/m³ */
  readonly airDensity: StatedFactor;
  /** Density of the portion, kg/m³. */
  readonly portionDensity: StatedFactor;
}

/**
 * Mass of the portion, g: difference of two readings, corrected for buoyancy. 0 for a blank.
 *
 * @throws InputError the crucible lighter with the portion than without
 */
export function portionMass(weighing: PortionWeighing): number {
  requireFinite([weighing.crucibleG, weighing.crucibleWithPortionG], 'portion weighing');
  const net = weighing.crucibleWithPortionG - weighing.crucibleG;
  if (net < 0) {
    throw new InputError(
      `digestion ${weighing.digestion}: crucible with portion is ${-net} g lighter than the crucible`,
    );
  }
  return net * buoyancyFactor(weighing.airDensity.estimate, weighing.portionDensity.estimate);
}

/** Step "weighing": `m_p` from two readings with their errors, the balance's sensitivity and buoyancy. */
export function portionFragment(weighing: PortionWeighing): ModelFragment {
  const { balance, digestion } = weighing;
  const source = `digestions, row ${digestion}`;
  return {
    equations: [
      buoyancyEquation('B_p', 'buoyancy factor of the portion', 'rho_p'),
      readingErrorEquation('cp', 'crucible with portion'),
      readingErrorEquation('c', 'crucible'),
      {
        name: 'm_p',
        description: 'mass of the portion',
        unit: 'g',
        expression: '((m_cp + e_cp) - (m_c + e_c)) * S_p * B_p',
      },
    ],
    inputs: [
      recordedValue(
        'm_cp',
        'reading: crucible with portion',
        'g',
        weighing.crucibleWithPortionG,
        'weighing',
        source,
      ),
      ...readingErrors(balance, 'cp', 'crucible with portion', weighing.crucibleWithPortionG),
      recordedValue('m_c', 'reading: crucible', 'g', weighing.crucibleG, 'weighing', source),
      ...readingErrors(balance, 'c', 'crucible', weighing.crucibleG),
      sensitivityFactor(balance, 'S_p'),
      referenceDensityInput(),
      statedInput('rho_a', 'density of air', 'kg/m^3', weighing.airDensity, 'weighing'),
      statedInput('rho_p', 'density of the portion', 'kg/m^3', weighing.portionDensity, 'weighing'),
    ],
    correlations: [],
  };
}
