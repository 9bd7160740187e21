import { InputError } from '../errors.js';
import type { Distribution, InputQuantity } from '../uncertainty/input-quantity.js';
import type { Calibration } from './calibration.js';
import { dilutionFactor, dilutionMasses } from './dilution.js';
import type { DriftFactor } from './drift.js';
import {
  identifier,
  type ModelFragment,
  recordedValue,
  type StatedFactor,
  statedInput,
  statedName,
} from './model-fragment.js';
import {
  densityAt,
  densityExpression,
  densityFragment,
  expansionInputs,
  type SolutionDensity,
  temperatureInput,
} from './solution/density.js';
import {
  internalStandardContent,
  internalStandardFragment,
  type KnownInternalStandard,
  type SolutionOrigin,
  solutionBuoyancy,
  solutionSuffix,
} from './solution/internal-standard.js';

/** Certified content of the stock that an analyte's calibration solutions were made from. */
export interface StockStandard {
  readonly name: string;
  readonly relativeStandardUncertainty: number;
  readonly source: string;
}

/** Signal of one analyte in one measured solution, with all that turns it into a mass fraction. */
export interface SolutionSignal {
  readonly analyte: string;
  /** Name of the signal in the equations; absent: the analyte. A further line of one analyte has its own. */
  readonly label?: string;
  readonly lineNm: number;
  readonly solution: string;
  /** Mean of the readings' ratios to the internal standard. */
  readonly meanRatio: number;
  readonly ratioStandardUncertainty: number;
  readonly ratioDegreesOfFreedom: number;
  readonly drift: DriftFactor;
  readonly driftDegreesOfFreedom: number;
  readonly calibration: Calibration;
  readonly stock: StockStandard;
  /** Equal density and uptake of standards and samples; absent: exactly 1. */
  readonly match: StatedFactor | null;
  /** Dilution factor from this solution back to the digestion's own, 1 where it is measured itself. */
  readonly dilutionFactor: number;
  /** Name of the dilution factor in the equations, null where it is 1. */
  readonly dilutionName: string | null;
  readonly spectrometer: string;
  /** Internal standard whose content in this solution follows from masses; absent: added on line to all solutions alike. */
  readonly internalStandard?: KnownInternalStandard | null;
  /** On line: flow of internal standard per flow of solution, against that of the standards; absent: exactly 1. */
  readonly pump?: StatedFactor | null;
  /** Native amount of the internal-standard element, relative to what was added; absent: none. */
  readonly native?: StatedFactor | null;
  /** Needed where the calibration is in mg/L. */
  readonly density?: SolutionDensity | null;
}

/** What tells signals of one result apart: the analyte, for a further line of it with the line. */
export function signalLabel({ label, analyte }: Pick<SolutionSignal, 'label' | 'analyte'>): string {
  return label ?? analyte;
}

/** Name of the input for a stock's content: a stock of several elements has one for each. */
export function stockInputName({ stock, analyte }: Pick<SolutionSignal, 'stock' | 'analyte'>): string {
  return `std_${identifier(stock.name)}_${identifier(analyte)}`;
}

/**
 * Apparent mass fraction in the solution of the digestion, mg/kg, before interference correction.
 *
 * @throws InputError a calibration in mg/L of a solution whose density is not known
 */
export function apparentContent(signal: SolutionSignal, origin: SolutionOrigin): number {
  const { calibration, internalStandard, native, pump } = signal;
  const density = readingDensity(signal);
  const known =
    internalStandard == null
      ? 1
      : (internalStandardContent(internalStandard, signal.dilutionName, origin) * (density ?? 1000)) / 1000;
  const ratio =
    (signal.meanRatio * (pump?.estimate ?? 1) * (1 + (native?.estimate ?? 0)) * known) / signal.drift.factor;
  const content = (ratio - calibration.intercept) / calibration.slope;
  const perMass = density === null ? content : (content / density) * 1000;
  return perMass * (signal.match?.estimate ?? 1) * factorOf(signal, origin);
}

/** Density at the reading where the calibration is in mg/L, else null. */
function readingDensity({ calibration, density, solution }: SolutionSignal): number | null {
  if (calibration.unit !== 'mg/L') return null;
  if (density == null) {
    throw new InputError(`solution ${solution}: expected its density, as the calibration is in mg/L`);
  }
  return densityAt(density, density.measurement.readingTemperature.estimate);
}

function factorOf({ dilutionName, dilutionFactor: stated }: SolutionSignal, origin: SolutionOrigin): number {
  const dilution = dilutionName === null ? undefined : origin.dilutions[dilutionName];
  if (dilution === undefined) return stated;
  const { aliquotG, finalG } = dilutionMasses(dilution, solutionBuoyancy(origin.solution));
  return dilutionFactor(aliquotG, finalG);
}

const t: Distribution = { kind: 't' };

/** Step "emission" and "calibration" of one analyte: `app_<analyte>`, apparent mass fraction in the digestion's solution. */
export function emissionFragment(signal: SolutionSignal, origin: SolutionOrigin): ModelFragment {
  const a = identifier(signalLabel(signal));
  const stock = stockInputName(signal);
  const scaled = scaledSignal(signal, origin);
  const match = signal.match === null ? '' : ` * ${statedName('match', signal.match)}`;
  const dilution = signal.dilutionName === null ? '' : ` * ${signal.dilutionName}`;
  const { calibration } = signal;
  const sigma = Math.sqrt(calibration.varianceIntercept * calibration.varianceSlope);
  return {
    equations: [
      ...scaled.equations,
      {
        name: `app_${a}`,
        description: `apparent mass fraction of ${signalLabel(signal)} in the solution of the digestion`,
        unit: 'mg/kg',
        expression: `(ratio_${a}${scaled.factors} / drift_${a} - b0_${a}) / b1_${a} * ${stock}${scaled.perMass}${match}${dilution}`,
      },
    ],
    inputs: [
      ...scaled.inputs,
      ...signalInputs(signal, a),
      ...calibrationInputs(signal, a),
      {
        ...recordedValue(
          stock,
          `content of stock ${signal.stock.name} relative to its certificate`,
          '1',
          1,
          'standards',
          signal.stock.source,
        ),
        standardUncertainty: signal.stock.relativeStandardUncertainty,
        sourceKind: 'certificate',
      },
      ...(signal.match === null
        ? []
        : [
            statedInput(
              statedName('match', signal.match),
              'density and uptake match of standards and samples',
              '1',
              signal.match,
              'calibration',
            ),
          ]),
    ],
    correlations:
      sigma > 0 ? [{ first: `b0_${a}`, second: `b1_${a}`, coefficient: calibration.covariance / sigma }] : [],
  };
}

/** What stands between the plain ratio and the calibration: pump, native amount, internal standard, density. */
function scaledSignal(
  signal: SolutionSignal,
  origin: SolutionOrigin,
): ModelFragment & { readonly factors: string; readonly perMass: string } {
  const { internalStandard, pump, native, density, dilutionName } = signal;
  const suffix = solutionSuffix(dilutionName);
  const known =
    internalStandard == null ? null : internalStandardFragment(internalStandard, dilutionName, origin);
  const volume = readingDensity(signal) === null ? null : readingDensityFragment(suffix, density!, signal);
  const factors = [
    pump == null ? '' : ` * ${statedName('f_pump', pump)}`,
    native == null ? '' : ` * (1 + ${statedName('f_nat', native)})`,
    known === null ? '' : ` * w_is_${suffix}`,
    known === null || volume === null ? '' : ` * rho_read_${suffix} / 1000`,
  ];
  return {
    factors: factors.join(''),
    perMass: volume === null ? '' : ` / rho_read_${suffix} * 1000`,
    equations: [...(known?.equations ?? []), ...(volume?.equations ?? [])],
    inputs: [
      ...(known?.inputs ?? []),
      ...(volume?.inputs ?? []),
      ...(pump == null
        ? []
        : [
            statedInput(
              statedName('f_pump', pump),
              'flow of internal standard per flow of solution, against the standards',
              '1',
              pump,
              'internal standard',
            ),
          ]),
      ...(native == null
        ? []
        : [
            statedInput(
              statedName('f_nat', native),
              'native amount of the internal-standard element, relative to what was added',
              '1',
              native,
              'internal standard',
            ),
          ]),
    ],
    correlations: [],
  };
}

function readingDensityFragment(
  suffix: string,
  density: SolutionDensity,
  signal: SolutionSignal,
): ModelFragment {
  const own = densityFragment(suffix, density, `density of ${signal.solution}`);
  return {
    equations: [
      ...own.equations,
      {
        name: `rho_read_${suffix}`,
        description: 'density of the solution at the reading',
        unit: 'kg/m^3',
        expression: densityExpression(suffix, 't_read'),
      },
    ],
    inputs: [
      ...own.inputs,
      ...expansionInputs(density),
      temperatureInput(
        't_read',
        'temperature of the solutions at the reading',
        density.measurement.readingTemperature,
        'emission',
      ),
    ],
    correlations: [],
  };
}

function signalInputs(signal: SolutionSignal, a: string): InputQuantity[] {
  const where = `readings of ${signal.solution} at ${signal.lineNm} nm, run ${signal.calibration.run}`;
  const base = (name: string, description: string, estimate: number, source: string) => ({
    ...recordedValue(name, description, '1', estimate, 'emission', source),
    evaluation: 'A' as const,
    distribution: t,
    equipment: signal.spectrometer,
    withinPrecision: true,
  });
  return [
    {
      ...base(
        `ratio_${a}`,
        `mean ratio of ${signalLabel(signal)} to the internal standard`,
        signal.meanRatio,
        where,
      ),
      standardUncertainty: signal.ratioStandardUncertainty,
      degreesOfFreedom: signal.ratioDegreesOfFreedom,
      variesWith: 'digestion',
    },
    {
      ...base(
        `drift_${a}`,
        `drift factor of ${signalLabel(signal)} between check solutions`,
        signal.drift.factor,
        `check solutions of run ${signal.calibration.run}`,
      ),
      standardUncertainty: signal.drift.standardUncertainty,
      degreesOfFreedom: signal.driftDegreesOfFreedom,
      // Digestions of one run share the first check solution, and neighbours in the sequence those beside them too.
      variesWith: 'run',
    },
  ];
}

function calibrationInputs(signal: SolutionSignal, a: string): InputQuantity[] {
  const { calibration } = signal;
  const known = signal.internalStandard != null;
  const unit = calibration.unit ?? 'mg/kg';
  const source = `calibration of ${signal.analyte} ${signal.lineNm} nm, run ${calibration.run}, ${calibration.points.length} standards`;
  const coefficient = (
    name: string,
    description: string,
    unit: string,
    estimate: number,
    variance: number,
  ) => ({
    ...recordedValue(name, description, unit, estimate, 'calibration', source),
    standardUncertainty: Math.sqrt(variance),
    degreesOfFreedom: calibration.degreesOfFreedom,
    distribution: t,
    evaluation: 'A' as const,
    equipment: signal.spectrometer,
    withinPrecision: true,
    variesWith: 'run' as const,
    jointSource: `calibration ${signalLabel(signal)}`,
  });
  return [
    coefficient(
      `b0_${a}`,
      `intercept of the calibration of ${signalLabel(signal)}`,
      known ? unit : '1',
      calibration.intercept,
      calibration.varianceIntercept,
    ),
    coefficient(
      `b1_${a}`,
      `slope of the calibration of ${signalLabel(signal)}`,
      known ? '1' : unit === 'mg/L' ? 'L/mg' : 'kg/mg',
      calibration.slope,
      calibration.varianceSlope,
    ),
  ];
}
