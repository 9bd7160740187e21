import { InputError } from '../../errors.js';
import type { InputQuantity } from '../input-quantity.js';
import { arcsineDistribution } from './arcsine.js';
import { curvilinearTrapezoidDistribution } from './curvilinear-trapezoid.js';
import { exponentialDistribution } from './exponential.js';
import { gammaFromCountsDistribution } from './gamma-from-counts.js';
import { lognormalDistribution } from './lognormal.js';
import { normalDistribution } from './normal.js';
import type { ProbabilityDistribution } from './probability-distribution.js';
import { rectangularDistribution } from './rectangular.js';
import { sampleDistribution } from './sample.js';
import { tDistribution } from './student-t.js';
import { trapezoidalDistribution } from './trapezoidal.js';
import { triangularDistribution } from './triangular.js';

/** The part of an input quantity that its distribution is made of. */
export type DistributedQuantity = Pick<
  InputQuantity,
  'name' | 'estimate' | 'standardUncertainty' | 'degreesOfFreedom' | 'distribution'
>;

/** Relative difference allowed between a stated standard uncertainty and the one that the parameters give. */
const allowed = 1e-6;

/**
 * Probability distribution of an input quantity. For a t distribution the stated standard uncertainty is the scale s/√n.
 *
 * @throws InputError parameters that make no distribution, or that do not give the stated estimate and standard
 * uncertainty; a quantity without uncertainty
 * @example
 * const volume = { name: 'V', estimate: 100, standardUncertainty: 0.1 / Math.sqrt(6), degreesOfFreedom: Infinity };
 * distributionOf({ ...volume, distribution: { kind: 'triangular', halfWidth: 0.1 } }).quantile(0.5) // => 100
 */
export function distributionOf(input: DistributedQuantity): ProbabilityDistribution {
  try {
    const distribution = build(input);
    requireConsistent(input, distribution);
    return distribution;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(`input "${input.name}": ${error.message}`);
  }
}

function build({
  estimate,
  standardUncertainty: u,
  degreesOfFreedom: nu,
  distribution: d,
}: DistributedQuantity): ProbabilityDistribution {
  switch (d.kind) {
    case 'normal':
      return normalDistribution(estimate, u);
    case 't':
      return tDistribution(estimate, u, nu);
    case 'rectangular':
      return rectangularDistribution(estimate, d.halfWidth);
    case 'triangular':
      return triangularDistribution(estimate, d.halfWidth);
    case 'trapezoidal':
      return trapezoidalDistribution(estimate, d.halfWidth, d.topHalfWidth);
    case 'curvilinear trapezoid':
      return curvilinearTrapezoidDistribution(estimate, d.halfWidth, d.halfWidthUncertainty);
    case 'arcsine':
      return arcsineDistribution(estimate, d.halfWidth);
    case 'exponential':
      return exponentialDistribution(estimate);
    case 'lognormal':
      return lognormalDistribution(estimate, u);
    case 'gamma from counts':
      return gammaFromCountsDistribution(estimate, d.counts);
    case 'sample':
      return sampleDistribution(d.values);
  }
}

function requireConsistent(input: DistributedQuantity, distribution: ProbabilityDistribution): void {
  const { kind } = input.distribution;
  if (kind === 't') return;
  const { mean, standardDeviation: expected } = distribution;
  const u = input.standardUncertainty;
  if (!(Math.abs(u - expected) <= allowed * expected)) {
    throw new InputError(`found standard uncertainty ${u}; the ${kind} distribution stated has ${expected}`);
  }
  if (!(Math.abs(input.estimate - mean) <= allowed * expected)) {
    throw new InputError(
      `found estimate ${input.estimate}; the ${kind} distribution stated has the mean ${mean}`,
    );
  }
}
