import { distributionOf } from '../../distributions/distribution-of.js';
import type { InputQuantity } from '../../input-quantity.js';
import { addColumns } from '../blocks/columns.js';
import { startBlock, streamKey } from './block-stream.js';
import { fillGamma } from './gamma-deviates.js';
import type { BlockDraw, StreamFill } from './lanes/stream-fills.js';
import { fillNormal, normalZiggurat } from './normal-deviates.js';
import { studentTZiggurat } from './student-t-deviates.js';
import { fillSymmetric } from './symmetric-uniforms.js';

/** Fills a column from a stream that stands at the beginning of a block. */
type Fill = (state: Uint32Array, out: Float64Array) => void;

/** A column filled with scaled deviates: streams of such are drawn from several at a time. */
type PlainFill = Pick<StreamFill, 'centre' | 'factor' | 'ziggurat'>;

/**
 * Draws of an input that depends on no other: a plain fill from one stream, or a draw of its own kind.
 *
 * @param seed seed of the simulation
 * @param column one block of values, filled at each call
 * @throws InputError a distribution that does not give the stated estimate and standard uncertainty
 * @see JCGM 101:2008, 6.4 and C.2 to C.4
 */
export function independentDraw(
  input: InputQuantity,
  seed: number,
  column: Float64Array,
): StreamFill | BlockDraw {
  if (input.standardUncertainty === 0) {
    column.fill(input.estimate);
    return () => undefined;
  }
  distributionOf(input);
  const key = streamKey(seed, input.name);
  const fill = fillOf(input, column.length);
  if (typeof fill !== 'function') return { key, column, ...fill };
  const state = new Uint32Array(4);
  return (block) => {
    startBlock(key, block, state);
    fill(state, column);
  };
}

function fillOf(input: InputQuantity, size: number): Fill | PlainFill {
  const { estimate, standardUncertainty: u, degreesOfFreedom: nu, distribution: d } = input;
  switch (d.kind) {
    case 'normal':
      return normal(estimate, u);
    case 't':
      return nu === Infinity
        ? normal(estimate, u)
        : { centre: estimate, factor: u, ziggurat: studentTZiggurat(nu) };
    case 'rectangular':
      return { centre: estimate, factor: d.halfWidth, ziggurat: null };
    case 'triangular':
      return trapezoidal(estimate, d.halfWidth / 2, d.halfWidth / 2, size);
    case 'trapezoidal':
      return trapezoidal(
        estimate,
        (d.halfWidth + d.topHalfWidth) / 2,
        (d.halfWidth - d.topHalfWidth) / 2,
        size,
      );
    case 'curvilinear trapezoid':
      return curvilinear(estimate, d.halfWidth, d.halfWidthUncertainty, size);
    case 'arcsine':
      return mapped((s) => estimate + d.halfWidth * Math.sin(Math.PI * s));
    case 'exponential':
      // The absolute value of a symmetric uniform number is uniform on (0, 1).
      return mapped((s) => -estimate * Math.log(Math.abs(s)));
    case 'lognormal':
      return lognormal(estimate, u);
    case 'gamma from counts':
      return gamma(estimate / (d.counts + 1), d.counts + 1);
    case 'sample':
      return sampled(d.values);
  }
}

function normal(estimate: number, u: number): PlainFill {
  return { centre: estimate, factor: u, ziggurat: normalZiggurat };
}

/** The sum of two rectangular quantities. */
function trapezoidal(estimate: number, first: number, second: number, size: number): Fill {
  const other = new Float64Array(size);
  return (state, out) => {
    fillSymmetric(state, out, estimate, first);
    fillSymmetric(state, other, 0, second);
    addColumns(out, other, out);
  };
}

/** A rectangular quantity whose half-width is rectangular itself. */
function curvilinear(estimate: number, halfWidth: number, halfWidthUncertainty: number, size: number): Fill {
  const width = new Float64Array(size);
  return (state, out) => {
    fillSymmetric(state, out);
    fillSymmetric(state, width);
    for (let i = 0; i < out.length; i++) {
      out[i] = estimate + (halfWidth + halfWidthUncertainty * width[i]!) * out[i]!;
    }
  };
}

function mapped(map: (symmetric: number) => number): Fill {
  return (state, out) => {
    fillSymmetric(state, out);
    for (let i = 0; i < out.length; i++) out[i] = map(out[i]!);
  };
}

function lognormal(estimate: number, u: number): Fill {
  const variance = Math.log1p((u / estimate) ** 2);
  const mu = Math.log(estimate) - variance / 2;
  const sigma = Math.sqrt(variance);
  return (state, out) => {
    fillNormal(state, out, mu, sigma);
    for (let i = 0; i < out.length; i++) out[i] = Math.exp(out[i]!);
  };
}

function gamma(factor: number, shape: number): Fill {
  return (state, out) => {
    fillGamma(state, shape, out);
    for (let i = 0; i < out.length; i++) out[i]! *= factor;
  };
}

/**
 * Fills a block with √(ν/χ²), by which a normal deviate becomes one of a t distribution: what an experimental standard
 * deviation leaves open about the true one.
 *
 * @example
 * fillStretch(streamKey(1, 'x'), 5, new Float64Array(2)) // => undefined
 */
export function fillStretch(state: Uint32Array, nu: number, out: Float64Array): void {
  fillGamma(state, nu / 2, out);
  for (let i = 0; i < out.length; i++) out[i] = Math.sqrt(nu / (2 * out[i]!));
}

function sampled(values: readonly number[]): Fill {
  const sample = Float64Array.from(values);
  return (state, out) => {
    fillSymmetric(state, out);
    pick(sample, out);
  };
}

/** Turns symmetric uniform numbers into values of a sample, all equally likely. */
export function pick(sample: Float64Array, out: Float64Array): void {
  const half = sample.length / 2;
  const last = sample.length - 1;
  for (let i = 0; i < out.length; i++) out[i] = sample[Math.min(last, Math.floor(half + half * out[i]!))]!;
}
