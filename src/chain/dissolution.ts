import { InputError, requireFinite } from '../errors.js';
import { type Balance, readingErrorEquation, readingErrors, sensitivityFactor } from './balance.js';
import { buoyancyEquation, buoyancyFactor, referenceDensityInput } from './buoyancy.js';
import { type ModelFragment, recordedValue, type StatedFactor, statedInput } from './model-fragment.js';
import { type DensityMeasurement, densityFragment } from './solution/density.js';

/** Readings that give the mass of the solution: the crucible lies in the vessel and was weighed with the portion's balance. */
export interface SolutionWeighing {
  readonly digestion: string;
  readonly vesselBalance: Balance;
  readonly crucibleBalance: Balance;
  readonly crucibleG: number;
  readonly vesselEmptyG: number;
  readonly vesselWithSolutionAndCrucibleG: number;
  /** kg/m³ */
  readonly airDensity: StatedFactor;
  /** Density of the solution, kg/m³. */
  readonly solutionDensityKgPerM3: number;
  /** How it was measured, where the chain rests on it (mg/L, volumes); its error then counts. */
  readonly densityMeasurement?: DensityMeasurement;
}

/**
 * Mass of the solution, g: (vessel with solution and crucible − vessel − crucible), corrected for buoyancy.
 *
 * @throws InputError a mass that is not above 0
 */
export function solutionMass(weighing: SolutionWeighing): number {
  const { crucibleG, vesselEmptyG, vesselWithSolutionAndCrucibleG } = weighing;
  requireFinite([crucibleG, vesselEmptyG, vesselWithSolutionAndCrucibleG], 'solution weighing');
  const net = vesselWithSolutionAndCrucibleG - vesselEmptyG - crucibleG;
  if (!(net > 0))
    throw new InputError(
      `digestion ${weighing.digestion}: mass of the solution is ${net} g, expected above 0`,
    );
  return net * buoyancyFactor(weighing.airDensity.estimate, weighing.solutionDensityKgPerM3);
}

/** Step "dissolution": `m_s` from three readings; the crucible's reading is the one that also enters `m_p`. */
export function solutionFragment(weighing: SolutionWeighing): ModelFragment {
  const { vesselBalance, crucibleBalance, digestion } = weighing;
  const source = `digestions, row ${digestion}`;
  const sensitivity = vesselBalance.id === crucibleBalance.id ? 'S_p' : 'S_v';
  const vessel = `((m_vs + e_vs) - (m_v + e_v)) * ${sensitivity}`;
  const crucible = '(m_c + e_c) * S_p';
  const density = densityOf(weighing, source);
  return {
    equations: [
      ...density.equations,
      buoyancyEquation('B_s', 'buoyancy factor of the solution', 'rho_s'),
      readingErrorEquation('vs', 'vessel with solution and crucible'),
      readingErrorEquation('v', 'vessel'),
      {
        name: 'm_s',
        description: 'mass of the solution',
        unit: 'g',
        expression: `(${vessel} - ${crucible}) * B_s`,
      },
    ],
    inputs: [
      recordedValue(
        'm_vs',
        'reading: vessel with solution and crucible',
        'g',
        weighing.vesselWithSolutionAndCrucibleG,
        'dissolution',
        source,
      ),
      ...inStep(
        readingErrors(
          vesselBalance,
          'vs',
          'vessel with solution and crucible',
          weighing.vesselWithSolutionAndCrucibleG,
        ),
      ),
      recordedValue('m_v', 'reading: vessel', 'g', weighing.vesselEmptyG, 'dissolution', source),
      ...inStep(readingErrors(vesselBalance, 'v', 'vessel', weighing.vesselEmptyG)),
      ...inStep([sensitivityFactor(vesselBalance, sensitivity)]),
      referenceDensityInput(),
      statedInput('rho_a', 'density of air', 'kg/m^3', weighing.airDensity, 'weighing'),
      ...density.inputs,
    ],
    correlations: [],
  };
}

/** `rho_s`: an input taken as exact, for buoyancy alone; an equation with its error where more rests on it. */
function densityOf(weighing: SolutionWeighing, source: string): Pick<ModelFragment, 'equations' | 'inputs'> {
  const { solutionDensityKgPerM3: kgPerM3, densityMeasurement: measurement } = weighing;
  if (measurement !== undefined) return densityFragment('s', { kgPerM3, measurement }, source);
  const density = 'density of the solution';
  return {
    equations: [],
    inputs: [recordedValue('rho_s', density, 'kg/m^3', kgPerM3, 'dissolution', source)],
  };
}

function inStep<T extends { readonly step: string }>(inputs: readonly T[]): T[] {
  return inputs.map((input) => ({ ...input, step: 'dissolution' }));
}
