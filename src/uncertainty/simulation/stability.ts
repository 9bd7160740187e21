import { numericalTolerance } from '../numerical-tolerance.js';
import { trialsPerBlock } from './draws/block-stream.js';
import { lowerTo } from './run-blocks.js';
import { control, figuresPerOutput, type RunPlan, type RunStore } from './run-store.js';

/**
 * Judges the sequences of an adaptive simulation in their order, whoever computed them when: stable as soon as two
 * standard deviations of the mean of each figure over the sequences are below the numerical tolerance of the standard
 * uncertainty.
 *
 * @see JCGM 101:2008, 7.9.4; several outputs: JCGM 102:2011, 7.8, with the ends of each output's interval for the
 * coverage factor of a region
 */
export class StabilityJudge {
  readonly #plan: RunPlan;
  readonly #store: RunStore;
  readonly #digits: number;
  readonly #mean: Float64Array;
  readonly #squares: Float64Array;
  readonly #variance: Float64Array;
  #judged = 0;
  #isStable = false;

  constructor(plan: RunPlan, store: RunStore, digits: number) {
    this.#plan = plan;
    this.#store = store;
    this.#digits = digits;
    this.#mean = new Float64Array(plan.outputs * figuresPerOutput);
    this.#squares = new Float64Array(plan.outputs * figuresPerOutput);
    this.#variance = new Float64Array(plan.outputs);
  }

  /** Sequences judged; the result rests on these, and what was simulated beyond them is thrown away. */
  get judged(): number {
    return this.#judged;
  }

  /** Trials of the sequences judged. */
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
    const size = this.#mean.length;
    for (let i = 0; i < size; i++) {
      const value = this.#store.figures[sequence * size + i]!;
      const shift = value - this.#mean[i]!;
      this.#mean[i]! += shift / this.#judged;
      this.#squares[i]! += shift * (value - this.#mean[i]!);
    }
    for (let o = 0; o < this.#plan.outputs; o++) {
      const u = this.#store.figures[sequence * size + o * figuresPerOutput + 1]!;
      this.#variance[o]! += (u * u - this.#variance[o]!) / this.#judged;
    }
  }

  #areAllStable(): boolean {
    const h = this.#judged;
    for (let o = 0; o < this.#plan.outputs; o++) {
      // u from all trials so far: within the sequences, and between them.
      const between = this.#squares[o * figuresPerOutput]! / h;
      const u = Math.sqrt(this.#variance[o]! + between);
      if (u === 0) continue;
      const tolerance = numericalTolerance(u, this.#digits);
      for (let i = o * figuresPerOutput; i < (o + 1) * figuresPerOutput; i++) {
        if (2 * Math.sqrt(this.#squares[i]! / (h * (h - 1))) > tolerance) return false;
      }
    }
    return true;
  }
}

/** Trials of one sequence, a whole number of blocks. */
export function trialsPerSequence(coverageProbability: number): number {
  // 100/(1 − p), with 1 − p free of its rounding: 1 − 0.95 is 0.05000000000000004.
  const least = Math.ceil(100 / Number((1 - coverageProbability).toPrecision(12)));
  return Math.ceil(Math.max(10_000, least) / trialsPerBlock) * trialsPerBlock;
}
