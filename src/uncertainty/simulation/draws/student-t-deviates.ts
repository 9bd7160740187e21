import { studentTCdf, studentTDensity } from '../../../statistics/distributions/student-t.js';
import { nextUniform } from './block-stream.js';
import { cutIntoLayers, layers, type Ziggurat } from './ziggurat.js';

/** Tables made so far; a process rarely meets more numbers of degrees of freedom. */
const made = new Map<number, Ziggurat>();
const mostKept = 100;

/** Relative tolerance of the tail start: the areas of the layers are then equal far beyond what any simulation shows. */
const tolerance = 1e-11;

/**
 * The density of Student's distribution, cut into layers of its own for each number of degrees of freedom.
 *
 * @param nu degrees of freedom, above 0
 */
export function studentTZiggurat(nu: number): Ziggurat {
  let ziggurat = made.get(nu);
  if (ziggurat === undefined) {
    if (made.size >= mostKept) made.clear();
    ziggurat = makeZiggurat(nu);
    made.set(nu, ziggurat);
  }
  return ziggurat;
}

function makeZiggurat(nu: number): Ziggurat {
  const half = (nu + 1) / 2;
  const density = (x: number): number => Math.exp(-half * Math.log1p((x * x) / nu));
  const inverse = (height: number): number =>
    height >= 1 ? 0 : Math.sqrt(nu * Math.expm1(-Math.log(height) / half));
  const peak = studentTDensity(0, nu);
  const tailArea = (x: number): number => studentTCdf(-x, nu) / peak;
  const tailStart = solveTailStart(density, inverse, tailArea);
  return {
    ...cutIntoLayers(density, inverse, tailStart, tailArea(tailStart)),
    density,
    beyond: (s) => beyond(s, nu, tailStart),
  };
}

/** The tail start for which the last layer ends at the density's peak: with a smaller one the layers go beyond it. */
function solveTailStart(
  density: (x: number) => number,
  inverse: (height: number) => number,
  tailArea: (x: number) => number,
): number {
  const isTooFar = (start: number): boolean => {
    const area = start * density(start) + tailArea(start);
    let edge = start;
    for (let layer = 2; layer <= layers; layer++) {
      const height = density(edge) + area / edge;
      if (height >= 1) return false;
      edge = inverse(height);
    }
    return true;
  };
  let [low, high] = [1, 2];
  while (!isTooFar(high)) [low, high] = [high, 2 * high];
  while (high - low > tolerance * high) {
    const middle = (low + high) / 2;
    if (isTooFar(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/**
 * A deviate given that it lies beyond a limit: y = ν/(ν + t²) has the density y^(ν/2 − 1)·(1 − y)^(−1/2), of which the
 * first factor is inverted and the second decides.
 */
function beyond(s: Uint32Array, nu: number, limit: number): number {
  const log = -Math.log1p((limit * limit) / nu);
  const least = -Math.expm1(log);
  for (;;) {
    const logOfY = log + (2 / nu) * Math.log(nextUniform(s));
    const rest = -Math.expm1(logOfY);
    if (nextUniform(s) ** 2 * rest <= least) return Math.sqrt((nu * rest) / Math.exp(logOfY));
  }
}
