import { InputError } from '../errors.js';
import { expectedVerdictOf } from '../scenario/expected-verdicts.js';
import { type ZirconPigmentStudy, zirconPigmentStudy } from '../scenario/zircon-pigment-study.js';
import { type MatrixValidation, validateMatrix } from '../studies/matrix/validate-matrix.js';
import type { Verdict } from '../validation/finding.js';
import { type IntervalCount, IntervalCoverage } from './interval-coverage.js';

/** Which invented studies to repeat. */
export interface Repetition {
  readonly firstSeed: number;
  readonly seeds: number;
  readonly overlap?: boolean;
  readonly calciumBlanksUsable?: 4 | 12;
  readonly onSeed?: (done: number, of: number) => void;
}

/** How often one finding came out as planted. */
export interface VerdictCount {
  readonly finding: string;
  readonly expected: Verdict;
  readonly asExpected: number;
  readonly otherwise: Readonly<Record<string, number>>;
}

/** Outcome of many invented studies. */
export interface RepeatedScenario {
  readonly seeds: number;
  /** Seeds in which every finding with a criterion came out as planted. */
  readonly allAsExpected: number;
  readonly verdicts: readonly VerdictCount[];
  readonly intervals: readonly IntervalCount[];
}

/**
 * Makes the invented study with one seed after another, validates each and counts verdicts and covering intervals.
 * Every seed draws every error anew from the distribution its record states.
 */
export function repeatScenario(repetition: Repetition): RepeatedScenario {
  const { firstSeed, seeds, overlap = true, calciumBlanksUsable = 4 } = repetition;
  if (seeds < 1) throw new InputError(`seeds: found ${seeds}, expected at least 1`);
  const verdicts = new Map<
    string,
    { expected: Verdict; asExpected: number; otherwise: Record<string, number> }
  >();
  const intervals = new IntervalCoverage();
  let allAsExpected = 0;
  for (let i = 0; i < seeds; i++) {
    const study = zirconPigmentStudy({ seed: firstSeed + i, overlap, calciumBlanksUsable });
    const validation = validateMatrix(study.records);
    if (countVerdicts(study, validation, verdicts)) allAsExpected += 1;
    intervals.add(study, validation.study, overlap ? ['Al'] : []);
    repetition.onSeed?.(i + 1, seeds);
  }
  return {
    seeds,
    allAsExpected,
    verdicts: [...verdicts].map(([finding, count]) => ({ finding, ...count })),
    intervals: intervals.counts(),
  };
}

function countVerdicts(
  study: ZirconPigmentStudy,
  validation: MatrixValidation,
  counts: Map<string, { expected: Verdict; asExpected: number; otherwise: Record<string, number> }>,
): boolean {
  let all = true;
  for (const finding of validation.findings.filter((f) => f.criterion !== null)) {
    const expected = expectedVerdictOf(study.truth.expectedVerdicts, finding);
    const count = counts.get(finding.id) ?? { expected, asExpected: 0, otherwise: {} };
    counts.set(finding.id, count);
    if (finding.verdict === expected) {
      count.asExpected += 1;
    } else {
      all = false;
      count.otherwise[finding.verdict] = (count.otherwise[finding.verdict] ?? 0) + 1;
    }
  }
  return all;
}
