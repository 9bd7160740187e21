import { numericalTolerance } from '../numerical-tolerance.js';
import { combineMoments, momentsPerBlock } from './blocks/block-moments.js';
import { trialsPerBlock } from './draws/block-stream.js';
import { largestEigenvalue } from './largest-eigenvalue.js';
import { lowerTo } from './run-blocks.js';
import { control, figuresPerOutput, type RunPlan, type RunStore } from './run-store.js';
import { RunningMean } from './running-mean.js';

/**
 * Judges the sequences of an adaptive simulation in their order, whoever computed them when. It is stable as soon as two
 * standard deviations of the mean over the sequences are within the numerical tolerance for: estimate, standard
 * uncertainty and both ends of the interval of each output (tolerance of its standard uncertainty), and the largest
 * eigenvalue of the correlation matrix of several outputs (its own tolerance).
 *
 * @see JCGM 101:2008, 7.9.4; several outputs: JCGM 102:2011, 7.8.3, with the intervals of the outputs in place of the
 * coverage factor of a region
 */
export class StabilityJudge {
  readonly #plan: RunPlan;
  readonly #store: RunStore;
  readonly #digits: number;
  readonly #figures: readonly RunningMean[];
  readonly #variances: readonly RunningMean[];
  readonly #eigenvalue = new RunningMean();
  #judged = 0;
  #isStable = false;

  constructor(plan: RunPlan, store: RunStore, digits: number) {
    this.#plan = plan;
    this.#store = store;
    this.#digits = digits;
    this.#figures = Array.from({ length: plan.outputs * figuresPerOutput }, () => new RunningMean());
    this.#variances = Array.from({ length: plan.outputs }, () => new RunningMean());
  }

  /** Trials of the sequences judged; the result rests on these, and what was simulated beyond them is thrown away. */
  get trials(): number {
    return this.#judged * this.#plan.blocksPerUnit * trialsPerBlock;
  }

  get isStable(): boolean {
    return this.#isStable;
  }

  /** Judges what has come in since, and ends the run where all is stable. */
  advance(): void {
    const { done, control: words } = this.#store;
    while (!this.#isStable && this.#judged < done.length && Atomics.load(done, this.#judged) === 1) {
      this.#add(this.#judged++);
      this.#isStable = this.#judged >= 2 && this.#areAllStable();
    }
    if (this.#isStable) lowerTo(words, control.end, this.#judged);
  }

  #add(sequence: number): void {
    const at = sequence * this.#figures.length;
    this.#figures.forEach((figure, i) => {
      figure.add(this.#store.figures[at + i]!);
    });
    this.#variances.forEach((variance, o) => {
      variance.add(this.#store.figures[at + o * figuresPerOutput + 1]! ** 2);
    });
    if (this.#plan.outputs > 1) this.#eigenvalue.add(this.#eigenvalueOf(sequence));
  }

  #eigenvalueOf(sequence: number): number {
    const { outputs, blocksPerUnit } = this.#plan;
    const size = blocksPerUnit * momentsPerBlock(outputs);
    const moments = this.#store.moments.subarray(sequence * size, (sequence + 1) * size);
    const counts = new Array<number>(blocksPerUnit).fill(trialsPerBlock);
    const { products } = combineMoments(moments, counts, outputs);
    return largestEigenvalue(
      products.map((row, i) =>
        Array.from(row, (product, j) => {
          if (i === j) return 1;
          const squares = products[i]![i]! * products[j]![j]!;
          return squares === 0 ? 0 : product / Math.sqrt(squares);
        }),
      ),
    );
  }

  #areAllStable(): boolean {
    for (let o = 0; o < this.#plan.outputs; o++) {
      const figures = this.#figures.slice(o * figuresPerOutput, (o + 1) * figuresPerOutput);
      // u of all trials so far: within the sequences, and between them.
      const u = Math.sqrt(this.#variances[o]!.mean + figures[0]!.spread);
      if (u > 0 && !figures.every((figure) => this.#isWithin(figure, u))) return false;
    }
    return this.#plan.outputs === 1 || this.#isWithin(this.#eigenvalue, this.#eigenvalue.mean);
  }

  #isWithin(figure: RunningMean, scale: number): boolean {
    return 2 * figure.standardDeviationOfMean <= numericalTolerance(scale, this.#digits);
  }
}

/** Trials of one sequence, a whole number of blocks. */
export function trialsPerSequence(coverageProbability: number): number {
  // 100/(1 − p), with 1 − p free of its rounding: 1 − 0.95 is 0.05000000000000004.
  const least = Math.ceil(100 / Number((1 - coverageProbability).toPrecision(12)));
  return Math.ceil(Math.max(10_000, least) / trialsPerBlock) * trialsPerBlock;
}
