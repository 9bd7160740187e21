import type { MatrixValidation } from './validate-matrix.js';

/** Range of contents in the solid, in the unit of its analyte. */
export interface ContentRange {
  readonly low: number;
  readonly high: number;
}

/** Range of an analyte in the solid: what was tested, and apart from it what is calibrated. */
export interface WorkingRange {
  readonly analyte: string;
  readonly unit: string;
  /** Contents that digestions repeated over days were made at; null where there are fewer than two. */
  readonly tested: ContentRange | null;
  readonly calibrated: ContentRange;
  /** Limit of quantification worked out from the blanks; null where there is none. */
  readonly quantification: number | null;
  /** Whether that limit is met by its criterion. */
  readonly quantificationShown: boolean;
  /** What digestions of materials at about the limit said of it; none where no material was. */
  readonly confirmations: readonly ('confirmed' | 'contradicted' | 'open')[];
}

/** The whole of a solid, in the unit reported. */
const whole = { 'g/100 g': 100, 'mg/kg': 1e6 } as const;

/**
 * By analyte: the contents that digestions repeated over days were made at (samples of the plan's levels and reference materials),
 * cut to what calibration and limit of quantification cover, and the calibrated range apart.
 *
 * @see ISO/IEC 17025:2017, 7.2.2.4 a
 */
export function workingRanges(validation: MatrixValidation): WorkingRange[] {
  const { linearity, limits, study } = validation;
  return linearity.flatMap(({ finding: { analyte }, rangeInSolid }) => {
    const scope = study.index.scopes.get(analyte)!;
    if (rangeInSolid === null) return [];
    const own = limits.find((l) => l.analyte === analyte);
    const quantification = own?.quantification ?? null;
    const calibrated = { low: rangeInSolid.low, high: Math.min(rangeInSolid.high, whole[scope.unit]) };
    const contents = testedContents(validation, analyte);
    const low = Math.max(Math.min(...contents), calibrated.low, quantification?.value ?? 0);
    const high = Math.min(Math.max(...contents), calibrated.high);
    return [
      {
        analyte,
        unit: scope.unit,
        tested: contents.length > 0 && low < high ? { low, high } : null,
        calibrated,
        quantification: quantification?.value ?? null,
        quantificationShown: quantification?.finding.verdict === 'met',
        confirmations: quantification?.confirmations.map((c) => c.outcome) ?? [],
      },
    ];
  });
}

/**
 * Means of the samples of the levels and certified values of the reference materials. Where trueness is not met, what was found
 * tells no content, and the certified values count alone.
 */
function testedContents({ precision, trueness }: MatrixValidation, analyte: string): number[] {
  const against = trueness.filter((t) => t.finding.analyte === analyte);
  const found = against.some((t) => t.finding.verdict === 'not met')
    ? []
    : precision.filter((p) => p.analyte === analyte).map((p) => p.precision.components.mean);
  return [...found, ...against.map((t) => t.certified.value)];
}
