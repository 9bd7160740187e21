import { InputError, requireFinite } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';

/** Detection limit of the spectrometer from its background, in the unit of the calibration's contents. */
export interface BackgroundEquivalent {
  /** Content that gives as much signal as the background. */
  readonly concentration: number;
  /** Relative standard deviation of the background signal, as a fraction of 1. */
  readonly relativeStandardDeviation: number;
  /** 3·RSD·BEC. */
  readonly detectionLimit: number;
  readonly readings: number;
}

/**
 * Background-equivalent concentration × relative standard deviation: how quiet the spectrometer is on a clean solution.
 * It holds neither fusion nor reagents, so it compares instruments, lines and settings, not methods.
 *
 * @param background readings of a calibration blank
 * @param slope signal per unit of content
 * @throws InputError fewer than 2 readings, a mean or a slope not above 0
 * @see Boumans 1991, Spectrochim. Acta 46B, 431
 * @example
 * backgroundEquivalent([99, 100, 101], 1000).detectionLimit // => 0.003
 */
export function backgroundEquivalent(background: readonly number[], slope: number): BackgroundEquivalent {
  requireFinite(background, 'background readings', 2);
  const level = mean(background);
  if (!(level > 0 && slope > 0)) {
    throw new InputError(`background and slope: found ${level} and ${slope}, expected both above 0`);
  }
  const relative = standardDeviation(background) / level;
  return {
    concentration: level / slope,
    relativeStandardDeviation: relative,
    detectionLimit: (3 * relative * level) / slope,
    readings: background.length,
  };
}

/**
 * The same over several runs: mean background-equivalent concentration, and the relative standard deviation pooled within the runs.
 *
 * @param runs readings of the calibration blank and slope of each run
 * @throws InputError no run with at least 2 readings, a mean or a slope not above 0
 * @see Boumans 1991, Spectrochim. Acta 46B, 431
 * @example
 * pooledBackground([{ readings: [99, 100, 101], slope: 1000 }, { readings: [98, 100, 102], slope: 1000 }]).concentration // => 0.1
 */
export function pooledBackground(
  runs: readonly { readonly readings: readonly number[]; readonly slope: number }[],
): BackgroundEquivalent {
  const found = runs
    .filter(({ readings }) => readings.length > 1)
    .map(({ readings, slope }) => backgroundEquivalent(readings, slope));
  if (found.length === 0) {
    throw new InputError(
      `calibration blanks: found ${runs.length} run(s), expected one with at least 2 readings`,
    );
  }
  const degreesOfFreedom = found.reduce((sum, run) => sum + run.readings - 1, 0);
  const relative = Math.sqrt(
    found.reduce((sum, run) => sum + (run.readings - 1) * run.relativeStandardDeviation ** 2, 0) /
      degreesOfFreedom,
  );
  const concentration = mean(found.map((run) => run.concentration));
  return {
    concentration,
    relativeStandardDeviation: relative,
    detectionLimit: 3 * relative * concentration,
    readings: found.reduce((sum, run) => sum + run.readings, 0),
  };
}
