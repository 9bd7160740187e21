import { requireFinite } from '../../errors.js';
import { welchTTest } from '../../statistics/comparison/welch-t-test.js';
import { mean } from '../../statistics/descriptive/mean.js';
import { standardDeviation } from '../../statistics/descriptive/standard-deviation.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { noScatter } from '../no-scatter.js';
import { rowsOf } from '../result-row.js';
import { scaleOf } from '../scale.js';

/** A blank fused in a crucible straight after a sample rich in the analyte. */
export interface MemoryBlankRow {
  readonly key: string;
  readonly crucible: string;
  /** Digestion that the crucible held before. */
  readonly after: string;
  /** As mass fraction in the solid, at the nominal portion. */
  readonly value: number;
}

export interface CrucibleMemoryOptions extends FindingOptions {
  /** Mass fraction of the rich sample, in `unit`: what a relative criterion refers to. */
  readonly richMassFraction: number;
}

/** Memory of the crucibles, with everything its table needs; values in the unit of the results. */
export interface CrucibleMemory {
  readonly finding: Finding;
  readonly memoryBlanks: readonly MemoryBlankRow[];
  readonly meanMemoryBlank: number;
  readonly meanProcedureBlank: number;
  readonly excess: number;
  /** Mass fraction of the rich samples before. */
  readonly richMassFraction: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
}

/**
 * What a crucible hands on: mean of blanks after rich samples less the mean of ordinary procedure blanks, with Welch's limits.
 *
 * @param procedureBlanks ordinary blanks, at least 2, as mass fraction in the solid
 * @throws InputError fewer than 2 blanks of a kind, a value that is not finite
 * @see Welch 1947, Biometrika 34, 28
 */
export function crucibleMemory(
  memoryBlanks: readonly MemoryBlankRow[],
  procedureBlanks: readonly { readonly key: string; readonly value: number }[],
  options: CrucibleMemoryOptions,
): CrucibleMemory {
  const memory = memoryBlanks.map((row) => row.value);
  const ordinary = procedureBlanks.map((row) => row.value);
  requireFinite(memory, 'blanks after rich samples', 2);
  requireFinite(ordinary, 'procedure blanks', 2);
  const test = welchTTest(memory, ordinary);
  const { difference: excess, standardUncertainty, degreesOfFreedom } = test;
  const meanMemoryBlank = mean(memory);
  const meanProcedureBlank = mean(ordinary);
  const scale = scaleOf(options.criterion, options.unit, options.richMassFraction);
  const finding = makeFinding('crucible memory', options, {
    quantity: scale.relative
      ? 'excess of blanks after rich samples, relative to the rich sample'
      : 'excess of blanks after rich samples',
    unit: scale.unit,
    estimate: excess * scale.factor,
    limits: scaleLimits(limitsOfEstimate(excess, standardUncertainty, degreesOfFreedom), scale.factor),
    degreesOfFreedom,
    n: memory.length,
    clause: 'Eurachem, Fitness for Purpose 2014, 6.6 (ruggedness; clause from memory)',
    method: 'difference of two means, limits by Welch',
    rows: [rowsOf('digestions', [...memoryBlanks, ...procedureBlanks])],
    notes: [`Crucibles: ${[...new Set(memoryBlanks.map((row) => row.crucible))].join(', ')}.`],
    notShownBecause: flatBlanks(memory, ordinary),
    remedy: 'More blanks after rich samples narrow the limits.',
  });
  return {
    finding,
    memoryBlanks,
    meanMemoryBlank,
    meanProcedureBlank,
    excess,
    richMassFraction: options.richMassFraction,
    standardUncertainty,
    degreesOfFreedom,
  };
}

/** Blanks of one kind that are all equal, such as those cut off at 0, hide what a crucible hands on. */
function flatBlanks(memory: readonly number[], ordinary: readonly number[]): string | null {
  const consequence = 'their mean shows no memory';
  if (standardDeviation(memory) === 0) return noScatter('The blanks after rich samples', consequence);
  return standardDeviation(ordinary) === 0 ? noScatter('The procedure blanks', consequence) : null;
}
