import { InputError, requireFinite } from '../errors.js';
import { mean } from '../statistics/descriptive/mean.js';
import { standardDeviation } from '../statistics/descriptive/standard-deviation.js';
import {
  type ModelFragment,
  recordedValue,
  type StatedFactor,
  statedInput,
  statedName,
} from './model-fragment.js';

/** Amount of analyte found in one procedure blank and the flux it was made with. */
export interface BlankAmount {
  readonly digestion: string;
  readonly amountMg: number;
  readonly fluxG: number;
}

/** Blank of one analyte as the chain subtracts it. */
export interface Blank {
  /** `per flux mass`: mg per g of flux; `per digestion`: mg. */
  readonly scaling: 'per flux mass' | 'per digestion';
  readonly mean: number;
  /** Standard deviation of one blank, in the unit of the mean. */
  readonly standardDeviation: number;
  readonly n: number;
  readonly digestions: readonly string[];
}

/**
 * Blank by the study's rule: the mean of n_i/m_flux,i over the usable procedure blanks, or the mean of n_i.
 *
 * @throws InputError fewer than two blanks
 * @see scaling by flux mass only where shown or declared: common practice, no source
 */
export function procedureBlank(blanks: readonly BlankAmount[], scaling: Blank['scaling']): Blank {
  if (blanks.length < 2)
    throw new InputError(`procedure blanks: found ${blanks.length}, expected at least 2`);
  const values = blanks.map((b) => (scaling === 'per flux mass' ? b.amountMg / b.fluxG : b.amountMg));
  requireFinite(values, 'procedure blanks');
  return {
    scaling,
    mean: mean(values),
    standardDeviation: standardDeviation(values),
    n: values.length,
    digestions: blanks.map((b) => b.digestion),
  };
}

/** Mass of analyte, mg, that the blank contributes to a digestion with `fluxG` of flux. */
export function blankMass(blank: Blank, fluxG: number): number {
  return blank.scaling === 'per flux mass' ? blank.mean * fluxG : blank.mean;
}

/** Step "blank": `m_bl` with the uncertainty of the mean (shared by all results) and the scatter of a single blank. */
export function blankFragment(
  blank: Blank,
  fluxG: number,
  digestion: string,
  lot: StatedFactor | null,
  stockName: string,
  analyte: string,
): ModelFragment {
  const perFlux = blank.scaling === 'per flux mass';
  const unit = perFlux ? 'mg/g' : 'mg';
  const source = `${blank.n} procedure blanks: ${blank.digestions.join(', ')}`;
  const lotTerm = lot === null ? '' : ` + ${statedName('b_lot', lot)}`;
  const typeA = {
    degreesOfFreedom: blank.n - 1,
    distribution: { kind: 't' } as const,
    evaluation: 'A' as const,
    // Both rest on one estimate of the blank's scatter, so their degrees of freedom count once.
    jointSource: `procedure blanks ${analyte}`,
  };
  return {
    equations: [
      {
        name: 'm_bl',
        description: 'mass of analyte from the blank',
        unit: 'mg',
        expression: perFlux
          ? `((b_f_${analyte}${lotTerm}) * ${stockName} + d_b_${analyte}) * m_flux`
          : `(b_0_${analyte}${lotTerm}) * ${stockName} + d_b_${analyte}`,
      },
    ],
    inputs: [
      {
        ...recordedValue(
          perFlux ? `b_f_${analyte}` : `b_0_${analyte}`,
          `mean blank ${perFlux ? 'per mass of flux' : 'per digestion'}`,
          unit,
          blank.mean,
          'blank',
          source,
        ),
        ...typeA,
        standardUncertainty: blank.standardDeviation / Math.sqrt(blank.n),
      },
      {
        ...recordedValue(
          `d_b_${analyte}`,
          'deviation of this digestion’s blank from the mean',
          unit,
          0,
          'blank',
          source,
        ),
        ...typeA,
        standardUncertainty: blank.standardDeviation,
        withinPrecision: true,
        variesWith: 'digestion',
      },
      ...(perFlux
        ? [recordedValue('m_flux', 'mass of flux', 'g', fluxG, 'blank', `digestions, row ${digestion}`)]
        : []),
      ...(lot === null
        ? []
        : [
            statedInput(
              statedName('b_lot', lot),
              'flux lot against the lot of the blanks',
              unit,
              lot,
              'blank',
            ),
          ]),
    ],
    correlations: [],
  };
}
