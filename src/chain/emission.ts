import { InputError } from '../errors.js';
import { contentOfRatio } from './calibration.js';
import { dilutionFactor, dilutionMasses } from './dilution.js';
import { identifier, type ModelFragment, recordedValue, statedInput, statedName } from './model-fragment.js';
import { calibrationInputs, signalInputs } from './signal-inputs.js';
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
  type SolutionOrigin,
  solutionBuoyancy,
  solutionSuffix,
} from './solution/internal-standard.js';
import { type SolutionSignal, signalLabel, stockInputName } from './solution-signal.js';

/**
 * Apparent mass fraction in the solution of the digestion, mg/kg, before interference correction.
 *
 * @throws InputError a calibration in mg/L of a solution whose density is not known
 */
export function apparentContent(signal: SolutionSignal, origin: SolutionOrigin): number {
  return apparentOf(contentMeasured(signal, origin), signal, origin);
}

/**
 * Apparent mass fraction, mg/kg, by the content of the solution that was read, in the unit of its calibration.
 *
 * @throws InputError a calibration in mg/L of a solution whose density is not known
 */
export function apparentPerContent(signal: SolutionSignal, origin: SolutionOrigin): number {
  return apparentOf(1, signal, origin);
}

function apparentOf(content: number, signal: SolutionSignal, origin: SolutionOrigin): number {
  const density = readingDensity(signal);
  const perMass = density === null ? content : (content / density) * 1000;
  return perMass * (signal.match?.estimate ?? 1) * factorOf(signal, origin);
}

/**
 * Content of the solution that was read, in the unit of the calibration and as its line gives it: what its range is held against.
 *
 * @throws InputError a calibration in mg/L of a solution whose density is not known
 */
export function contentMeasured(signal: SolutionSignal, origin: SolutionOrigin): number {
  return contentOfRatio(signal.calibration, scaledRatio(signal.meanRatio, signal, origin));
}

/**
 * Content of the solution that was read by the ratio that was read, in the unit of the calibration.
 *
 * @throws InputError a calibration in mg/L of a solution whose density is not known
 */
export function contentPerRatio(signal: SolutionSignal, origin: SolutionOrigin): number {
  return scaledRatio(1, signal, origin) / signal.calibration.slope;
}

/** A ratio as the calibration takes it. */
function scaledRatio(ratio: number, signal: SolutionSignal, origin: SolutionOrigin): number {
  const { internalStandard, native, pump } = signal;
  const known =
    internalStandard == null
      ? 1
      : (internalStandardContent(internalStandard, signal.dilutionName, origin) *
          (readingDensity(signal) ?? 1000)) /
        1000;
  return (ratio * (pump?.estimate ?? 1) * (1 + (native?.estimate ?? 0)) * known) / signal.drift.factor;
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
