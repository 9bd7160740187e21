import { InputError, requirePositive } from '../../errors.js';
import { type Balance, sensitivityFactor } from '../balance.js';
import { buoyancyEquation, buoyancyFactor } from '../buoyancy.js';
import { type Dilution, dilutionMasses, netReading, weighedScale } from '../dilution.js';
import { type SolutionWeighing, solutionMass } from '../dissolution.js';
import type { SolidBasis } from '../mass-fraction.js';
import { identifier, type ModelFragment, recordedValue, statedInput, statedName } from '../model-fragment.js';

/** The solution that the internal standard is added as; that of the standards and that of the samples are one. */
export interface InternalStandardSolution {
  readonly massFractionMgPerKg: number;
  /** Of its content against that of the solution which the standards hold: 0 where it is the same. */
  readonly relativeStandardUncertainty: number;
  readonly densityKgPerM3: number;
  readonly source: string;
}

/** A mass of internal-standard solution and the balance it was weighed on. */
export interface InternalStandardAddition {
  readonly addedG: number;
  readonly balance: Balance;
}

/**
 * Where the internal standard of one measured solution comes from, so that its content follows from masses: added to the
 * digestion, to the further dilution, or both. `all diluent`: the diluent is the internal-standard solution.
 */
export interface KnownInternalStandard {
  readonly solution: InternalStandardSolution;
  readonly inDigestion: InternalStandardAddition | null;
  readonly inDilution: InternalStandardAddition | 'all diluent' | null;
}

/** The solution of a digestion and its further dilutions, as far as the internal standard's content rests on them. */
export interface SolutionOrigin {
  readonly solution: SolutionWeighing;
  readonly dilutions: Readonly<Record<string, Dilution>>;
  readonly evaporation: SolidBasis['evaporation'];
}

/** Suffix of the names that belong to one measured solution: `s` for the digestion's own, else its dilution factor. */
export function solutionSuffix(dilutionName: string | null): string {
  return dilutionName ?? 's';
}

/** Name of the sensitivity of a balance within one digestion: one name a balance. */
export function sensitivityName(balance: Balance, solution: SolutionWeighing): string {
  if (balance.id === solution.crucibleBalance.id) return 'S_p';
  return balance.id === solution.vesselBalance.id ? 'S_v' : `S_${identifier(balance.id)}`;
}

/** Buoyancy factor of the digestion's solution, `B_s` in the equations. */
export function solutionBuoyancy(solution: SolutionWeighing): number {
  return buoyancyFactor(solution.airDensity.estimate, solution.solutionDensityKgPerM3);
}

/**
 * Mass fraction of the internal standard in a measured solution, mg/kg, from the masses that made it.
 *
 * @throws InputError no addition, or one to a dilution where the digestion's own solution is measured
 * @see weighing in of an internal standard: common practice, no source
 */
export function internalStandardContent(
  known: KnownInternalStandard,
  dilutionName: string | null,
  origin: SolutionOrigin,
): number {
  const { solution, inDigestion, inDilution } = known;
  requirePositive(solution.massFractionMgPerKg, 'content of the internal-standard solution in mg/kg');
  const buoyancy = buoyancyFactor(origin.solution.airDensity.estimate, solution.densityKgPerM3);
  const dilution = dilutionName === null ? null : dilutionNamed(origin, dilutionName);
  if (inDigestion === null && (inDilution === null || dilution === null)) {
    throw new InputError(
      `digestion ${origin.solution.digestion}: expected the mass of internal-standard solution added to what is measured`,
    );
  }
  const own =
    inDigestion === null
      ? 0
      : ((inDigestion.addedG * buoyancy * solution.massFractionMgPerKg) / solutionMass(origin.solution)) *
        (origin.evaporation?.estimate ?? 1);
  if (dilution === null) return own;
  const { aliquotG, finalG } = dilutionMasses(dilution, solutionBuoyancy(origin.solution));
  const scale = 'aliquotG' in dilution ? 1 : buoyancy;
  const added =
    inDilution === null ? 0 : inDilution === 'all diluent' ? finalG - aliquotG : inDilution.addedG * scale;
  return (own * aliquotG) / finalG + (added * solution.massFractionMgPerKg) / finalG;
}

function dilutionNamed(origin: SolutionOrigin, name: string): Dilution {
  const dilution = origin.dilutions[name];
  if (dilution === undefined)
    throw new InputError(`digestion ${origin.solution.digestion}: expected a dilution named ${name}`);
  return dilution;
}

/** `w_is_<suffix>`, the internal standard's mass fraction in one measured solution. */
export function internalStandardFragment(
  known: KnownInternalStandard,
  dilutionName: string | null,
  origin: SolutionOrigin,
): ModelFragment {
  const { solution, inDigestion, inDilution } = known;
  const dilution = dilutionName === null ? null : dilutionNamed(origin, dilutionName);
  const own = inDigestion === null ? null : additionToDigestion(inDigestion, origin);
  const added =
    dilution === null || inDilution === null
      ? null
      : additionToDilution(inDilution, dilutionName!, dilution, origin);
  const terms = [
    ...(own === null ? [] : [dilution === null ? own.expression : `${own.expression} / ${dilutionName}`]),
    ...(added === null ? [] : [`${added.expression} / m_fi_${dilutionName}`]),
  ];
  return {
    equations: [
      buoyancyEquation('B_is', 'buoyancy factor of the internal-standard solution', 'rho_is'),
      ...(own?.equations ?? []),
      ...(added?.equations ?? []),
      {
        name: `w_is_${solutionSuffix(dilutionName)}`,
        description: 'mass fraction of the internal standard in the solution measured',
        unit: 'mg/kg',
        expression: `w_isl * (${terms.join(' + ')})`,
      },
    ],
    inputs: [
      {
        ...recordedValue(
          'w_isl',
          'content of the internal-standard solution against that in the standards',
          'mg/kg',
          solution.massFractionMgPerKg,
          'internal standard',
          solution.source,
        ),
        standardUncertainty: solution.relativeStandardUncertainty * solution.massFractionMgPerKg,
        sourceKind: 'certificate',
      },
      recordedValue(
        'rho_is',
        'density of the internal-standard solution',
        'kg/m^3',
        solution.densityKgPerM3,
        'internal standard',
        solution.source,
      ),
      ...(own?.inputs ?? []),
      ...(added?.inputs ?? []),
    ],
    correlations: [],
  };
}

type Term = Pick<ModelFragment, 'equations' | 'inputs'> & { readonly expression: string };

/** Mass added per mass of the digestion's solution; what evaporates later leaves the internal standard behind. */
function additionToDigestion(
  addition: InternalStandardAddition,
  { solution, evaporation }: SolutionOrigin,
): Term {
  const source = `digestions, row ${solution.digestion}`;
  const net = netReading(
    'is',
    'internal-standard solution',
    addition.addedG,
    addition.balance,
    'internal standard',
    source,
  );
  const sensitivity = sensitivityName(addition.balance, solution);
  return {
    equations: [
      ...net.equations,
      {
        name: 'm_isl',
        description: 'mass of internal-standard solution added to the digestion',
        unit: 'g',
        expression: `${net.expression} * ${sensitivity} * B_is`,
      },
    ],
    inputs: [
      ...net.inputs,
      { ...sensitivityFactor(addition.balance, sensitivity), step: 'internal standard' },
      ...(evaporation === null
        ? []
        : [
            {
              ...statedInput(
                statedName('f_evap', evaporation),
                'evaporation between weigh-back and reading',
                '1',
                evaporation,
                'dissolution',
              ),
              withinPrecision: true,
              variesWith: 'digestion' as const,
            },
          ]),
    ],
    expression: `m_isl / m_s${evaporation === null ? '' : ` * ${statedName('f_evap', evaporation)}`}`,
  };
}

function additionToDilution(
  addition: InternalStandardAddition | 'all diluent',
  name: string,
  dilution: Dilution,
  { solution }: SolutionOrigin,
): Term {
  if (addition === 'all diluent') {
    return { equations: [], inputs: [], expression: `(m_fi_${name} - m_al_${name})` };
  }
  const sensitivity = sensitivityName(addition.balance, solution);
  const net = netReading(
    `is_${name}`,
    'internal-standard solution in the dilution',
    addition.addedG,
    addition.balance,
    'internal standard',
    `dilutions, row ${dilution.dilution}`,
  );
  const scale = weighedScale(dilution, sensitivity) === '' ? '' : ` * ${sensitivity} * B_is`;
  return {
    equations: net.equations,
    inputs: [
      ...net.inputs,
      ...(scale === ''
        ? []
        : [{ ...sensitivityFactor(addition.balance, sensitivity), step: 'internal standard' }]),
    ],
    expression: `${net.expression}${scale}`,
  };
}
