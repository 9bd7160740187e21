import { InputError, requireFinite, requirePositive } from '../../errors.js';
import { coverageFactor } from '../coverage-factor.js';
import type { InputQuantity } from '../input-quantity.js';
import { described, type InputDescription } from './input-description.js';

/** A certified value with its expanded uncertainty, and either the coverage factor or the coverage probability. */
export interface CertifiedValue extends InputDescription {
  readonly value: number;
  /** In the unit of the value. */
  readonly expandedUncertainty: number;
  readonly coverageFactor?: number;
  /** Where the certificate states a level of confidence in place of a factor. */
  readonly coverageProbability?: number;
  /** `Infinity` unless the certificate says otherwise. */
  readonly degreesOfFreedom?: number;
}

/**
 * Input quantity from a calibration or reference material certificate: u = U/k. A probability in place of k stands for the
 * quantile of the t distribution, which is normal for infinite degrees of freedom.
 *
 * @throws InputError U or k not above 0; both or neither of k and a probability
 * @see JCGM 100:2008, 4.3.3 and 4.3.4; finite degrees of freedom: JCGM 101:2008, 6.4.9.7
 * @example
 * const mass = { name: 'm', description: 'mass', unit: 'g', source: 'certificate 17', step: 'weighing', value: 1000 };
 * fromCertificate({ ...mass, expandedUncertainty: 240e-6, coverageFactor: 3 }).standardUncertainty // => 80e-6
 */
export function fromCertificate(certified: CertifiedValue): InputQuantity {
  const { name, value, expandedUncertainty, degreesOfFreedom = Infinity } = certified;
  requireFinite([value], `certified value of "${name}"`);
  requirePositive(expandedUncertainty, `expanded uncertainty of "${name}"`);
  const factor = factorOf(certified, degreesOfFreedom);
  requirePositive(factor, `coverage factor of "${name}"`);
  return {
    ...described(certified),
    estimate: value,
    standardUncertainty: expandedUncertainty / factor,
    degreesOfFreedom,
    distribution: degreesOfFreedom === Infinity ? { kind: 'normal' } : { kind: 't' },
    evaluation: 'B',
    sourceKind: 'certificate',
  };
}

function factorOf(certified: CertifiedValue, degreesOfFreedom: number): number {
  const { name, coverageFactor: factor, coverageProbability: probability } = certified;
  if ((factor === undefined) === (probability === undefined)) {
    const found = factor === undefined ? 'neither' : 'both';
    throw new InputError(
      `certificate of "${name}": found ${found} of coverage factor and probability, expected one`,
    );
  }
  return factor ?? coverageFactor(degreesOfFreedom, probability);
}
