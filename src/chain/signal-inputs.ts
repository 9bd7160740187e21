import type { Distribution, InputQuantity } from '../uncertainty/input-quantity.js';
import { recordedValue } from './model-fragment.js';
import { type SolutionSignal, signalLabel } from './solution-signal.js';

const t: Distribution = { kind: 't' };

/** Mean ratio of the readings and the drift factor of one signal. */
export function signalInputs(signal: SolutionSignal, a: string): InputQuantity[] {
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

/** Units of a signal's calibration: of the contents, of the intercept and of the slope. */
export function calibrationUnits({ calibration, internalStandard }: SolutionSignal) {
  const content = calibration.unit ?? 'mg/kg';
  // With a known internal standard the ratio is multiplied by its content.
  if (internalStandard != null) return { content, intercept: content, slope: '1' };
  return { content, intercept: '1', slope: content === 'mg/L' ? 'L/mg' : 'kg/mg' };
}

/** Intercept and slope of the calibration that a signal is read from; estimated together, so that they share their degrees of freedom. */
export function calibrationInputs(signal: SolutionSignal, a: string): InputQuantity[] {
  const { calibration } = signal;
  const units = calibrationUnits(signal);
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
      units.intercept,
      calibration.intercept,
      calibration.varianceIntercept,
    ),
    coefficient(
      `b1_${a}`,
      `slope of the calibration of ${signalLabel(signal)}`,
      units.slope,
      calibration.slope,
      calibration.varianceSlope,
    ),
  ];
}
