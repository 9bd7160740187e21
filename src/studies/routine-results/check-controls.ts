import type { CheckSolution } from '../../validation/acceptance/check-solution.js';
import type { Criterion } from '../../validation/finding.js';
import { edges } from '../../validation/verdict.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { checkSolutionStudy } from '../matrix/acceptance-study.js';
import { criterionFor } from '../matrix/matrix-context.js';
import { type ControlReach, notMade, type RunControl, reachOf } from './routine-result.js';
import { ofRun, readingOf } from './runs-of-measurement.js';

type Deviation = CheckSolution['deviations'][number];

/**
 * Check solutions of each run: the first, the last, and those between them that fail. Each one stands for the solutions read
 * between its neighbours, for their drift is taken from the two that they lie between. Where the plan has a criterion and
 * none was read, or its content is not stated, the control is not made; nor is it for samples before the first or after the
 * last one, whose drift nothing bounds on one side.
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
        : [
            ...own.flatMap((_, at) => controlsAt(run, { analyte, name, criterion }, own, at)),
            ...unboundedControls(run, { analyte, name, criterion }, own),
          ];
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

/** Samples read before the first check solution of their run, or after the last one. */
function unboundedControls(
  run: EvaluatedStudy,
  { analyte, name, criterion: { unit } }: Checked,
  own: readonly Deviation[],
): RunControl[] {
  const [first, last] = [own[0]!.position, own.at(-1)!.position];
  const read = run.results.flatMap(({ analyte: of, run: where, kind, observation }) =>
    of === analyte && where === name && kind === 'sample'
      ? (readingOf(run, observation.signals[0]!)?.position ?? [])
      : [],
  );
  const control = (place: string, between: NonNullable<ControlReach['between']>, why: string) =>
    notMade(
      {
        control: `check solution ${place}${ofRun(run, name)}`,
        about: analyte,
        unit,
        holds: {
          kind: 'no check solution in the run',
          reach: reachOf({ analyte, run: name, between }),
        },
      },
      why,
    );
  return [
    ...(read.some((position) => position < first)
      ? [
          control(
            'before the samples',
            { from: null, to: first },
            `samples were read before the first one, at position ${first}`,
          ),
        ]
      : []),
    ...(read.some((position) => position > last)
      ? [
          control(
            'after the samples',
            { from: last, to: null },
            `samples were read after the last one, at position ${last}`,
          ),
        ]
      : []),
  ];
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
