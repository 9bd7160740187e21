import { type CarryOver, type CarryOverRow, carryOver } from '../../validation/stability/carry-over.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import type { MeasuredSolution } from '../measured-solutions.js';
import { calibrationKey } from '../run-calibrations.js';
import { criterionFor } from './matrix-context.js';
import { apparentContent } from './selectivity-study.js';

/**
 * Carry-over in the spectrometer for every analyte whose line was read in the plan's zero solution directly after a solution
 * that holds it. A run without a zero standard, or where the solution ahead was not read on the line, is left out.
 */
export function carryOverStudy(study: EvaluatedStudy): CarryOver[] {
  const { plan } = study.index.records;
  const solution = plan.carryOver?.solution;
  if (solution === undefined) return [];
  return plan.analytes.flatMap(({ analyte, lineNm }) => {
    const rows = carryOverRows(study, solution, analyte, lineNm);
    if (rows.length === 0) return [];
    const level = [...new Set(rows.map(({ after }) => after))].join(', ');
    return [
      carryOver(rows, {
        analyte,
        level,
        unit: plan.calibration.basis,
        criterion: criterionFor(plan, 'carry-over', analyte, level),
      }),
    ];
  });
}

function carryOverRows(
  study: EvaluatedStudy,
  solution: string,
  analyte: string,
  lineNm: number,
): CarryOverRow[] {
  const { bySolution, measured, calibrations } = study.index;
  const contentOf = ({ run, position, meanRatio }: MeasuredSolution) =>
    apparentContent(study, run, analyte, lineNm, position, meanRatio);
  return (bySolution.get(`${solution}|${analyte}|${lineNm}`) ?? []).flatMap((own): CarryOverRow[] => {
    const { run, position } = own;
    const calibration = calibrations.get(calibrationKey(run, analyte, lineNm));
    const zeroName = calibration?.points.find((point) => point.content === 0)?.solution ?? '';
    const zero = bySolution.get(`${zeroName}|${analyte}|${lineNm}`)?.find((m) => m.run === run);
    const before = precedingOf(measured, run, position);
    const rich = before.find((m) => m.analyte === analyte && m.lineNm === lineNm);
    if (zero === undefined || rich === undefined) return [];
    const richContent = contentOf(rich);
    if (!(richContent > 0)) return [];
    return [
      {
        key: `${run}|${position}`,
        run,
        after: rich.solution,
        richContent,
        found: contentOf(own),
        zero: contentOf(zero),
      },
    ];
  });
}

/** What was read at the place just before. */
function precedingOf(measured: readonly MeasuredSolution[], run: string, position: number) {
  const earlier = measured.filter((m) => m.run === run && m.position < position);
  const last = Math.max(...earlier.map((m) => m.position));
  return earlier.filter((m) => m.position === last);
}
