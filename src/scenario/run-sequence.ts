import { type Analyte, analyteDesigns, analyteNames, byAnalyte } from './design/analytes.js';
import { names } from './design/components.js';
import { interferenceCheckDays, workingDays } from './design/schedule.js';
import type { DigestionContents } from './digestion-contents.js';
import type { HiddenErrors } from './hidden-errors.js';
import type { CalibrationSolution } from './tables/calibration.js';
import type { PreparedDilution } from './tables/dilutions.js';

/** A solution as the spectrometer meets it. */
export interface PumpedSolution {
  readonly solution: string;
  /** Analytes whose lines are read. */
  readonly analytes: readonly Analyte[];
  /** Readings taken one after the other. */
  readonly readings: number;
  readonly contentMgPerKg: Readonly<Record<Analyte, number>>;
  /** A sample solution differs from the standards in uptake and matrix, and may age. */
  readonly fromSample: boolean;
  /** Native internal-standard element, relative to the dose. */
  readonly nativeInternalStandard: number;
}

/** One run: its name, day and what is pumped, in order. */
export interface RunSequence {
  readonly run: string;
  /** ISO date. */
  readonly date: string;
  readonly solutions: readonly PumpedSolution[];
}

const solutionsBetweenChecks = 8;

const measuredIn = (where: 'digestion' | 'dilution') =>
  analyteNames.filter((a) => analyteDesigns[a].measuredIn === where);

const none = byAnalyte(() => 0);

function standardSolution({ solution, contents }: CalibrationSolution): PumpedSolution {
  return {
    solution,
    analytes: analyteNames.filter((a) => contents.has(a)),
    readings: names.readings,
    contentMgPerKg: byAnalyte((a) => contents.get(a)?.actual ?? 0),
    fromSample: false,
    nativeInternalStandard: 0,
  };
}

/** The check solution: all analytes at a middle level. */
function checkSolution(hidden: HiddenErrors): PumpedSolution {
  return {
    solution: names.checkSolution,
    analytes: analyteNames,
    readings: names.readingsOfCheck,
    contentMgPerKg: byAnalyte((a) => analyteDesigns[a].checkContent * hidden.checkSolution[a]),
    fromSample: false,
    nativeInternalStandard: 0,
  };
}

function interferentSolution(hidden: HiddenErrors): PumpedSolution {
  return {
    solution: names.interferenceSolution,
    analytes: measuredIn('digestion'),
    readings: names.readings,
    contentMgPerKg: { ...none, Zr: hidden.interferentMgPerKg },
    fromSample: false,
    nativeInternalStandard: 0,
  };
}

/** Zero solutions that follow the highest standard of each series. */
function zeroAfter({ solution, contents }: CalibrationSolution, calibration: readonly CalibrationSolution[]) {
  const series = (name: string) => name.slice(0, -1);
  const isLast =
    calibration.filter((each) => series(each.solution) === series(solution)).at(-1)?.solution === solution;
  const isZero = [...contents.values()].every(({ actual }) => actual === 0);
  if (isZero || !isLast) return [];
  const zero = { solution: names.carryOverSolution, analytes: analyteNames, readings: names.readings };
  return [{ ...zero, contentMgPerKg: none, fromSample: false, nativeInternalStandard: 0 }];
}

/** The digestion's own solution and its further dilution. */
export function sampleSolutions(contents: DigestionContents, dilution: PreparedDilution): PumpedSolution[] {
  const { contentMgPerKg, nativeInternalStandard, scheduled } = contents;
  return [
    {
      solution: scheduled.digestion,
      analytes: measuredIn('digestion'),
      readings: names.readings,
      contentMgPerKg,
      fromSample: true,
      nativeInternalStandard,
    },
    {
      solution: dilution.record.dilution,
      analytes: measuredIn('dilution'),
      readings: names.readings,
      contentMgPerKg: byAnalyte((a) => contentMgPerKg[a] / dilution.factor),
      fromSample: true,
      nativeInternalStandard: nativeInternalStandard / dilution.factor,
    },
  ];
}

/** What one run needs besides its calibration. */
export interface RunSamples {
  /** Day from 1. */
  readonly day: number;
  /** Solutions kept from the first day, read again to show their stability. */
  readonly kept: readonly PumpedSolution[];
  readonly fresh: readonly PumpedSolution[];
  /** Whether a zero solution follows the highest standards. */
  readonly withZeros?: boolean;
}

/** The sequence of one calibrated run: standards, check, samples with a check after every eighth solution and at the end. */
export function runSequence(
  samples: RunSamples,
  calibration: readonly CalibrationSolution[],
  hidden: HiddenErrors,
): RunSequence {
  const check = checkSolution(hidden);
  const interferent = interferenceCheckDays.includes(samples.day) ? [interferentSolution(hidden)] : [];
  const measured = [...interferent, ...samples.kept, ...samples.fresh];
  const withChecks = measured.flatMap((solution, index) =>
    (index + 1) % solutionsBetweenChecks === 0 && index + 1 < measured.length
      ? [solution, check]
      : [solution],
  );
  return {
    run: runName(samples.day),
    date: workingDays[samples.day - 1]!,
    solutions: [
      ...calibration.flatMap((each) => [
        standardSolution(each),
        ...(samples.withZeros === true ? zeroAfter(each, calibration) : []),
      ]),
      check,
      ...withChecks,
      check,
    ],
  };
}

/** Name of the run of a day, from 1. */
export function runName(day: number): string {
  return `R-${String(day).padStart(2, '0')}`;
}
