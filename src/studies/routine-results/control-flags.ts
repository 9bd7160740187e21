import type { DigestionResult, EvaluatedStudy } from '../evaluate-study.js';
import type { ControlReach, ResultFlag, RunControl } from './routine-result.js';
import { readingOf } from './runs-of-measurement.js';

/** One analyte of one sample, with the results of its digestions. */
interface ControlledResult {
  readonly sample: string;
  readonly analyte: string;
  readonly results: readonly DigestionResult[];
}

/** Flags that failed controls put on what rests on them. */
export function controlFlags(
  run: EvaluatedStudy,
  controls: readonly RunControl[],
  result: ControlledResult,
): ResultFlag[] {
  return controls.flatMap((control) =>
    control.passed || control.holds === null || !reaches(run, control.holds.reach, result)
      ? []
      : [{ kind: control.holds.kind, text: failureOf(control), holds: true }],
  );
}

function reaches(
  run: EvaluatedStudy,
  { analyte, sample, run: name, between }: ControlReach,
  result: ControlledResult,
): boolean {
  if (analyte !== null && analyte !== result.analyte) return false;
  if (sample !== null && sample !== result.sample) return false;
  if (name === null) return true;
  const own = result.results.filter((r) => r.run === name);
  if (between === null) return own.length > 0;
  const { from, to } = between;
  return own.some(({ observation }) => {
    const position = readingOf(run, observation.signals[0]!)?.position;
    return position !== undefined && (from === null || position > from) && (to === null || position < to);
  });
}

/** The control with what was found and what it allows. */
function failureOf({ control, about, found, low, high, unit, rule }: RunControl): string {
  if (found === null) return `${control}: ${rule}`;
  // Changes have no measure: what changed is the reason.
  if (unit === 'changes') return `${control} ${about}: ${rule}`;
  const shown = (value: number) => String(Number(value.toPrecision(4))).replace('-', '−');
  const allowed =
    low === null
      ? `at most ${shown(high!)}`
      : high === null
        ? `at least ${shown(low)}`
        : `${shown(low)} to ${shown(high)}`;
  return `${control}: found ${shown(found)} ${unit}, allowed ${allowed}`;
}
