import { nextUniform, trialsPerBlock } from './block-stream.js';
import { fillNormal, nextNormal } from './normal-deviates.js';
import { fillSymmetric } from './symmetric-uniforms.js';

let normals = new Float64Array(trialsPerBlock);
let uniforms = new Float64Array(trialsPerBlock);
let undecided = new Int32Array(trialsPerBlock);

/**
 * Fills a block with deviates of the gamma distribution of scale 1.
 *
 * @param s state of xoshiro128**, moved on
 * @param shape above 0
 * @see Marsaglia and Tsang 2000, ACM Transactions on Mathematical Software 26, 363
 * @example
 * fillGamma(streamKey(1, 'x'), 2.5, new Float64Array(2)) // => undefined
 */
export function fillGamma(s: Uint32Array, shape: number, out: Float64Array): void {
  if (out.length !== normals.length) {
    normals = new Float64Array(out.length);
    uniforms = new Float64Array(out.length);
    undecided = new Int32Array(out.length);
  }
  const d = (shape < 1 ? shape + 1 : shape) - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  fillNormal(s, normals);
  fillSymmetric(s, uniforms);
  const count = propose(normals, uniforms, d, c, out, undecided);
  decide(s, d, c, out, count);
  if (shape < 1) boost(s, shape, out);
}

/** The absolute value of a symmetric uniform number is uniform on (0, 1). */
function propose(
  x: Float64Array,
  u: Float64Array,
  d: number,
  c: number,
  out: Float64Array,
  open: Int32Array,
): number {
  let count = 0;
  for (let i = 0; i < out.length; i++) {
    const square = x[i]! * x[i]!;
    const root = 1 + c * x[i]!;
    out[i] = d * (root * root * root);
    if (root <= 0 || Math.abs(u[i]!) >= 1 - 0.0331 * (square * square)) open[count++] = i;
  }
  return count;
}

function decide(s: Uint32Array, d: number, c: number, out: Float64Array, count: number): void {
  for (let j = 0; j < count; j++) {
    const at = undecided[j]!;
    let x = normals[at]!;
    let u = Math.abs(uniforms[at]!);
    while (!isAccepted(x, u, d, c)) {
      x = nextNormal(s);
      u = nextUniform(s);
    }
    const root = 1 + c * x;
    out[at] = d * (root * root * root);
  }
}

function isAccepted(x: number, u: number, d: number, c: number): boolean {
  const root = 1 + c * x;
  if (root <= 0) return false;
  const cube = root * root * root;
  return Math.log(u) < 0.5 * x * x + d * (1 - cube + Math.log(cube));
}

/** A shape below 1 from one above: G(a) = G(a + 1)·U^(1/a). */
function boost(s: Uint32Array, shape: number, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i]! *= nextUniform(s) ** (1 / shape);
}
