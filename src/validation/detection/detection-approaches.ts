import { requirePositive } from '../../errors.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { calibrationDetection } from '../../statistics/regression/calibration-detection.js';
import { fitLine, type LineFit } from '../../statistics/regression/line.js';
import { type BackgroundEquivalent, backgroundEquivalent } from './background-equivalent.js';
import type { ContentLimit, DetectionLimits } from './detection-limits.js';
import { din32645 } from './din-32645.js';
import { hubauxVos } from './hubaux-vos.js';
import { type BatchResult, methodDetectionLimit } from './method-detection-limit.js';

/** Names of the approaches, as a plan names the one that counts. */
export const detectionApproachNames = [
  'procedure blanks',
  'calibration',
  'prediction bands',
  'calibration method',
  'spikes and blanks',
  'background of the spectrometer',
] as const;

export type DetectionApproachName = (typeof detectionApproachNames)[number];

/** One approach beside the others. Limits are null where the approach does not define them or its data are missing. */
export interface DetectionApproach {
  readonly name: DetectionApproachName;
  readonly source: string;
  readonly decisionLimit: ContentLimit | null;
  readonly detectionLimit: ContentLimit | null;
  readonly quantificationLimit: ContentLimit | null;
  /** What spread it holds and what it leaves out: why it differs from the others. */
  readonly differs: string;
  /** What is missing, where it lacks figures that it defines. */
  readonly missing: string | null;
  readonly planned: boolean;
}

export interface DetectionApproachesOptions {
  /** Limits from procedure blanks, in the unit of the solution; null where there are too few. */
  readonly fromBlanks: DetectionLimits | null;
  /** Limit of quantification by the method's own rule, in the unit of the solution; ten standard deviations at content 0 where not given. */
  readonly quantificationFromBlanks?: number | null;
  /** Calibration near content 0, as points or as a line fitted already; contents in the unit of the solution. */
  readonly calibration:
    | { readonly massFraction: readonly number[]; readonly signal: readonly number[] }
    | { readonly line: LineFit }
    | null;
  /** Readings of a calibration blank, or what they gave already. */
  readonly background: readonly number[] | BackgroundEquivalent;
  /** Results of low spikes and method blanks, in the unit of the solution. */
  readonly lowSpikes: readonly BatchResult[];
  readonly methodBlanks: readonly BatchResult[];
  /** Signals averaged for a sample, each made up like one point of the calibration. */
  readonly readings: number;
  readonly solidPerUnit: number;
  readonly planned: DetectionApproachName;
}

/**
 * All approaches to detection and quantification side by side, in solution and in the solid, with the reason why they differ.
 * They answer different questions; the one the plan names decides, the others keep a reader from comparing unlike figures.
 *
 * @throws InputError a calibration that no line can be fitted to, a factor not above 0
 * @see Currie 1995, Pure Appl. Chem. 67, 1699; ISO 11843-2:2000; DIN 32645:2008-11; 40 CFR 136 Appendix B rev. 2
 */
export function detectionApproaches(options: DetectionApproachesOptions): DetectionApproach[] {
  requirePositive(options.solidPerUnit, 'mass fraction in the solid per unit in solution');
  const fit = lineOf(options.calibration);
  return [
    blanksApproach(options),
    calibrationApproach(options, fit),
    predictionBands(options, fit),
    calibrationMethod(options, fit),
    spikesAndBlanks(options),
    background(options, fit),
  ];
}

function lineOf(calibration: DetectionApproachesOptions['calibration']): LineFit | null {
  if (calibration === null) return null;
  return 'line' in calibration ? calibration.line : fitLine(calibration.massFraction, calibration.signal);
}

type Limits = readonly [decision: number | null, detection: number | null, quantification: number | null];

const noCalibration = 'no calibration near content 0 was handed in';
const withoutScatter = 'the values do not scatter at all, for they are cut or rounded';
const tooUncertain =
  'no detection limit exists, for the calibration line is too uncertain: its lower band never reaches the decision signal';

function approach(
  options: DetectionApproachesOptions,
  name: DetectionApproachName,
  source: string,
  differs: string,
  found: Limits | null,
  missing: string | null,
): DetectionApproach {
  // A limit of 0 would call everything detected: it comes from values without scatter.
  const flat = found?.some((limit) => limit === 0) ?? false;
  const limits = flat ? null : found;
  const both = (value: number | null | undefined): ContentLimit | null =>
    value === null || value === undefined
      ? null
      : { inSolution: value, inSolid: value * options.solidPerUnit };
  return {
    name,
    source,
    decisionLimit: both(limits?.[0]),
    detectionLimit: both(limits?.[1]),
    quantificationLimit: both(limits?.[2]),
    differs,
    missing: flat ? withoutScatter : missing,
    planned: options.planned === name,
  };
}

function blanksApproach(options: DetectionApproachesOptions): DetectionApproach {
  const found = options.fromBlanks;
  return approach(
    options,
    'procedure blanks',
    'Currie 1995, Pure Appl. Chem. 67, 1699',
    'Holds the whole procedure: flux, reagents, crucible, digestion, calibration of each run. It is what a result near the limit meets; where standards begin far above the blank, approaches by calibration give larger figures.',
    found && [
      found.decisionLimit?.inSolution ?? null,
      found.detectionLimit?.inSolution ?? null,
      options.quantificationFromBlanks === undefined
        ? 10 * found.standardDeviationAtZero.inSolution
        : options.quantificationFromBlanks,
    ],
    found === null ? 'too few procedure blanks' : found.missing === null ? null : withoutScatter,
  );
}

function calibrationApproach(options: DetectionApproachesOptions, fit: LineFit | null): DetectionApproach {
  const found = fit && calibrationDetection(fit, { m: options.readings });
  return approach(
    options,
    'calibration',
    'ISO 11843-2:2000, 5 (clause from memory)',
    'Holds the scatter of clean standards about the line and the uncertainty of the line at 0; neither digestion nor blank. Grows with the range calibrated.',
    found && [found.criticalValue, found.minimumDetectable, null],
    found === null ? noCalibration : null,
  );
}

function predictionBands(options: DetectionApproachesOptions, fit: LineFit | null): DetectionApproach {
  const found = fit && hubauxVos(fit);
  return approach(
    options,
    'prediction bands',
    'Hubaux and Vos 1970, Anal. Chem. 42, 849',
    'The same scatter, for a single reading, with one t at both ends instead of the noncentral t.',
    found && [found.decisionLimit, found.detectionLimit, null],
    found === null ? noCalibration : found.detectionLimit === null ? tooUncertain : null,
  );
}

function calibrationMethod(options: DetectionApproachesOptions, fit: LineFit | null): DetectionApproach {
  const found = fit && din32645(fit, { readings: options.readings });
  return approach(
    options,
    'calibration method',
    'DIN 32645:2008-11',
    'The same scatter; the detection limit is put at twice the decision limit, the quantification limit where the interval is a third of the content.',
    found && [found.decisionLimit, found.detectionLimit, found.quantificationLimit],
    found === null ? noCalibration : null,
  );
}

function spikesAndBlanks(options: DetectionApproachesOptions): DetectionApproach {
  const found = methodDetectionLimit(options.lowSpikes, options.methodBlanks);
  return approach(
    options,
    'spikes and blanks',
    '40 CFR 136 Appendix B, revision 2',
    'Holds the procedure over batches, at 1 % false detections; it is a decision limit by this name, for missed detections are not bounded. A blank that is not subtracted adds its mean.',
    found.value === null ? null : [found.value, null, null],
    found.value === null ? found.missing.join('; ') : null,
  );
}

function background(options: DetectionApproachesOptions, fit: LineFit | null): DetectionApproach {
  const missing = fit === null ? noCalibration : missingBackground(options.background);
  const found = fit === null || missing !== null ? null : backgroundOf(options.background, fit.slope);
  return approach(
    options,
    'background of the spectrometer',
    'Boumans 1991, Spectrochim. Acta 46B, 431',
    'Holds the flicker of single readings of a clean solution within minutes: no fusion, no reagents, no averaging. Compares lines and instruments; it is no limit of the method.',
    found && [null, found.detectionLimit, null],
    missing,
  );
}

function missingBackground(background: DetectionApproachesOptions['background']): string | null {
  if ('concentration' in background) return null;
  if (background.length < 2) return 'fewer than 2 readings of a calibration blank';
  return mean(background) > 0 ? null : 'the mean signal of the calibration blank is not above 0';
}

function backgroundOf(
  background: DetectionApproachesOptions['background'],
  slope: number,
): BackgroundEquivalent {
  return 'concentration' in background ? background : backgroundEquivalent(background, slope);
}
