import type { Distribution, InputQuantity } from '../uncertainty/input-quantity.js';
import type { Calibration } from './calibration.js';
import type { DriftFactor } from './drift.js';
import {
  identifier,
  type ModelFragment,
  recordedValue,
  type StatedFactor,
  statedInput,
  statedName,
} from './model-fragment.js';

/** Certified content of the stock that an analyte's calibration solutions were made from. */
export interface StockStandard {
  readonly name: string;
  readonly relativeStandardUncertainty: number;
  readonly source: string;
}

/** Signal of one analyte in one measured solution, with all that turns it into a mass fraction. */
export interface SolutionSignal {
  readonly analyte: string;
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
}

/** Name of the input for a stock's content: a stock of several elements has one for each. */
export function stockInputName({ stock, analyte }: Pick<SolutionSignal, 'stock' | 'analyte'>): string {
  return `std_${identifier(stock.name)}_${identifier(analyte)}`;
}

/** Apparent mass fraction in the solution of the digestion, mg/kg, before interference correction. */
export function apparentContent(signal: SolutionSignal): number {
  const ratio = signal.meanRatio / signal.drift.factor;
  const match = signal.match?.estimate ?? 1;
  return ((ratio - signal.calibration.intercept) / signal.calibration.slope) * match * signal.dilutionFactor;
}

const t: Distribution = { kind: 't' };

/** Step "emission" and "calibration" of one analyte: `app_<analyte>`, apparent mass fraction in the digestion's solution. */
export function emissionFragment(signal: SolutionSignal): ModelFragment {
  const a = identifier(signal.analyte);
  const stock = stockInputName(signal);
  const match = signal.match === null ? '' : ` * ${statedName('match', signal.match)}`;
  const dilution = signal.dilutionName === null ? '' : ` * ${signal.dilutionName}`;
  const { calibration } = signal;
  const sigma = Math.sqrt(calibration.varianceIntercept * calibration.varianceSlope);
  return {
    equations: [
      {
        name: `app_${a}`,
        description: `apparent mass fraction of ${signal.analyte} in the solution of the digestion`,
        unit: 'mg/kg',
        expression: `(ratio_${a} / drift_${a} - b0_${a}) / b1_${a} * ${stock}${match}${dilution}`,
      },
    ],
    inputs: [
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

function signalInputs(signal: SolutionSignal, a: string): InputQuantity[] {
  const where = `readings of ${signal.solution} at ${signal.lineNm} nm, run ${signal.calibration.run}`;
  const base = (name: string, description: string, estimate: number, source: string) => ({
    ...recordedValue(name, description, '1', estimate, 'emission', source),
    evaluation: 'A' as const,
    distribution: t,
    equipment: signal.spectrometer,
    withinPrecision: true,
    variesWith: 'digestion' as const,
  });
  return [
    {
      ...base(
        `ratio_${a}`,
        `mean ratio of ${signal.analyte} to the internal standard`,
        signal.meanRatio,
        where,
      ),
      standardUncertainty: signal.ratioStandardUncertainty,
      degreesOfFreedom: signal.ratioDegreesOfFreedom,
    },
    {
      ...base(
        `drift_${a}`,
        `drift factor of ${signal.analyte} between check solutions`,
        signal.drift.factor,
        `check solutions of run ${signal.calibration.run}`,
      ),
      standardUncertainty: signal.drift.standardUncertainty,
      degreesOfFreedom: signal.driftDegreesOfFreedom,
    },
  ];
}

function calibrationInputs(signal: SolutionSignal, a: string): InputQuantity[] {
  const { calibration } = signal;
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
    jointSource: `calibration ${signal.analyte}`,
  });
  return [
    coefficient(
      `b0_${a}`,
      `intercept of the calibration of ${signal.analyte}`,
      '1',
      calibration.intercept,
      calibration.varianceIntercept,
    ),
    coefficient(
      `b1_${a}`,
      `slope of the calibration of ${signal.analyte}`,
      'kg/mg',
      calibration.slope,
      calibration.varianceSlope,
    ),
  ];
}
