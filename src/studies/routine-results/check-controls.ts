import { edges } from '../../validation/verdict.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { checkSolutionStudy } from '../matrix/acceptance-study.js';
import { type RunControl, reachOf } from './routine-result.js';
import { ofRun } from './runs-of-measurement.js';

/**
 * Check solutions of each run: the first, the last, and those between them that fail. Each one stands for the solutions read
 * between its neighbours, for their drift is taken from the two that they lie between.
 *
 * @see ISO/IEC 17025:2017, 7.7.1
 */
export function checkControls(run: EvaluatedStudy): RunControl[] {
  return checkSolutionStudy(run).flatMap(({ finding, deviations }) => {
    const { criterion, analyte, unit } = finding;
    if (criterion === null) return [];
    const { low, high } = edges(criterion);
    return [...new Set(deviations.map((d) => d.run))].flatMap((name) => {
      const own = deviations.filter((d) => d.run === name).sort((a, b) => a.position - b.position);
      return own.flatMap(({ value, position }, at): RunControl[] => {
        const passed = value >= low && value <= high;
        const places = [
          ...(at === 0 ? ['first'] : []),
          ...(at === own.length - 1 ? ['last'] : []),
          ...(at > 0 && at < own.length - 1 && !passed ? [''] : []),
        ];
        return places.map((which) => ({
          control: `${which === '' ? `check solution at position ${position}` : `${which} check solution`}${ofRun(run, name)}`,
          about: analyte,
          found: value,
          low: Number.isFinite(low) ? low : null,
          high: Number.isFinite(high) ? high : null,
          unit,
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
      });
    });
  });
}
