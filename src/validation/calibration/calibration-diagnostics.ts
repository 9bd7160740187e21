import { requireSameLength } from '../../errors.js';
import { type LackOfFit, lackOfFit } from '../../statistics/regression/lack-of-fit.js';
import { fitLine, type LineFit } from '../../statistics/regression/line.js';
import { type MandelTest, mandelTest } from '../../statistics/regression/mandel-test.js';

/** Tests of one calibration that stand beside the verdict on linearity and decide nothing. */
export interface CalibrationDiagnostics {
  readonly fit: LineFit;
  /** Null where no level has independently prepared replicates. */
  readonly lackOfFit: LackOfFit | null;
  /** Null with fewer than 4 points or fewer than 3 levels. */
  readonly mandel: MandelTest | null;
  readonly notes: readonly string[];
}

/**
 * Lack of fit and Mandel's test of one calibration. A significant test may be of no consequence (precise data) and an
 * insignificant one hide a harmful curve (noisy data): `linearity` judges what the deviation does to results.
 *
 * @param x contents and `y` signals of independently prepared solutions, `weights` as in the calibration
 * @throws InputError lists of unequal length, fewer than 3 points, a value that is not finite
 * @see ISO 8466-1:2021 (Mandel's test); ISO 11095:1996 (lack of fit; clauses not cited)
 */
export function calibrationDiagnostics(
  x: readonly number[],
  y: readonly number[],
  weights?: readonly number[],
): CalibrationDiagnostics {
  requireSameLength(x, 'contents', y, 'signals');
  const fit = weights === undefined ? fitLine(x, y) : fitLine(x, y, weights);
  const levels = new Set(x).size;
  const replicated = levels < x.length && levels > 2;
  const curved = x.length > 3 && levels > 2;
  return {
    fit,
    lackOfFit: replicated ? lackOfFit(fit) : null,
    mandel: curved ? (weights === undefined ? mandelTest(x, y) : mandelTest(x, y, weights)) : null,
    notes: [
      ...(replicated ? [] : ['No level has independent replicates: lack of fit cannot be tested.']),
      ...(curved ? [] : ['Too few levels for a test of curvature.']),
    ],
  };
}
