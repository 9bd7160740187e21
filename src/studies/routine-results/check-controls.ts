import type { CheckSolution } from '../../validation/acceptance/check-solution.js';
import type { Criterion } from '../../validation/finding.js';
import { edges } from '../../validation/verdict.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { checkSolutionStudy } from '../matrix/acceptance-study.js';
import { criterionFor } from '../matrix/matrix-context.js';
import { notMade, type RunControl, reachOf } from './routine-result.js';
import { ofRun } from './runs-of-measurement.js';

type Deviation = CheckSolution['deviations'][number];

/**
 * Check solutions of each run: the first, the last, and those between them that fail. Each one stands for the solutions read
 * between its neighbours, for their drift is taken from the two that they lie between. Where the plan has a criterion and
 * none was read, or its content is not stated, the control is not made.
 *
 * @see ISO/IEC 17025:2017, 7.7.1
 */
export function checkControls(run: EvaluatedStudy): RunControl[] {
  const { plan } = run.index.records;
  const studied = checkSolutionStudy(run);
  return plan.analytes.flatMap(({ analyte }) => {
    const criterion = criterionFor(plan, 'check solution', analyte, plan.driftCheckSolution);
    if (criterion === null) return [];
    const deviations = studied.find((s) => s.finding.analyte === analyte)?.deviations ?? [];
    const runs = new Set(run.results.flatMap((r) => (r.analyte === analyte ? [r.run] : [])));
    return [...runs].flatMap((name) => {
      const own = deviations.filter((d) => d.run === name).sort((a, b) => a.position - b.position);
      return own.length === 0
        ? [noCheck(run, analyte, name, criterion)]
        : own.flatMap((_, at) => controlsAt(run, { analyte, name, criterion }, own, at));
    });
  });
}

interface Checked {
  readonly analyte: string;
  readonly name: string;
  readonly criterion: Criterion;
}

function controlsAt(
  run: EvaluatedStudy,
  { analyte, name, criterion }: Checked,
  own: readonly Deviation[],
  at: number,
): RunControl[] {
  const { low, high } = edges(criterion);
  const { value, position } = own[at]!;
  const passed = value >= low && value <= high;
  const isWithin = at > 0 && at < own.length - 1;
  const places = [
    ...(at === 0 ? ['first check solution'] : []),
    ...(at === own.length - 1 ? ['last check solution'] : []),
    ...(isWithin && !passed ? [`check solution at position ${position}`] : []),
  ];
  return places.map((place) => ({
    control: `${place}${ofRun(run, name)}`,
    about: analyte,
    found: value,
    low: Number.isFinite(low) ? low : null,
    high: Number.isFinite(high) ? high : null,
    unit: criterion.unit,
    passed,
    rule: 'deviation from its nominal content, drift not taken off',
    holds: {
      kind: 'drift beyond its limit',
      reach: reachOf({
        analyte,
        run: name,
        between: { from: own[at - 1]?.position ?? null, to: own[at + 1]?.position ?? null },
      }),
    },
  }));
}

function noCheck(run: EvaluatedStudy, about: string, name: string, { unit }: Criterion): RunControl {
  const { plan, standards } = run.index.records;
  const solution = plan.driftCheckSolution;
  const isStated = standards.some((s) => s.name === solution && s.analyte === about);
  const holds = {
    kind: 'no check solution in the run' as const,
    reach: reachOf({ analyte: about, run: name }),
  };
  return notMade(
    { control: `check solution${ofRun(run, name)}`, about, unit, holds },
    isStated
      ? `${solution} was not read`
      : `the table of standards does not state what ${solution} holds of ${about}`,
  );
}
