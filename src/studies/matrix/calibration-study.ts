import { type Calibration, contentOfRatio } from '../../chain/calibration.js';
import { dilutionFactor } from '../../chain/dilution.js';
import { type Linearity, linearity } from '../../validation/calibration/linearity.js';
import type { EvaluatedStudy } from '../evaluate-study.js';
import { criterionFor, solidPerMg } from './matrix-context.js';

/** Linearity of every analyte on its own line, over all runs in which it was calibrated. */
export function linearityStudy(study: EvaluatedStudy): Linearity[] {
  const { records, calibrations } = study.index;
  return records.plan.analytes.flatMap(({ analyte, lineNm }) => {
    const own = [...calibrations.values()].filter((c) => c.analyte === analyte && c.lineNm === lineNm);
    if (own.length === 0 || !study.results.some((r) => r.analyte === analyte)) return [];
    return [
      linearity(own.flatMap(levelsOf), {
        analyte,
        level: 'calibration',
        unit: records.plan.calibration.basis,
        criterion: criterionFor(records.plan, 'linearity', analyte, 'calibration'),
        solidPerUnit: solidPerSolutionUnit(study, analyte),
      }),
    ];
  });
}

function levelsOf(calibration: Calibration) {
  return calibration.points.map((point) => ({
    key: `${calibration.run}|${point.solution}|${calibration.analyte}`,
    run: calibration.run,
    // Solutions are made anew for each run: levels are told apart by place in the series, not by name.
    level: `${[...calibration.points].sort((a, b) => a.content - b.content).indexOf(point) + 1}`,
    massFraction: point.content,
    backCalculated: contentOfRatio(calibration, point.ratio),
  }));
}

/** Mass fraction in the solid per mg/kg in the solution measured, at nominal masses and the mean further dilution. */
export function solidPerSolutionUnit(study: EvaluatedStudy, analyte: string): number {
  const { plan } = study.index.records;
  const further = study.index.scopes.get(analyte)!.measuredIn === 'dilution' ? furtherDilution(study) : 1;
  return ((further * plan.nominal.solutionG) / 1000) * solidPerMg(study, analyte);
}

/** Mean factor of the further dilutions by mass; 1 where there are none. */
export function furtherDilution(study: EvaluatedStudy): number {
  const { dilutions } = study.index.records;
  const factors = dilutions.flatMap((d) => (d.finalG === null ? [] : [dilutionFactor(d.aliquotG, d.finalG)]));
  return factors.length === 0 ? 1 : factors.reduce((a, b) => a + b, 0) / factors.length;
}
