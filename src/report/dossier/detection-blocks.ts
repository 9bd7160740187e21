import type { AnalyteDetection } from '../../studies/matrix/detection-study.js';
import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import type { ContentLimit } from '../../validation/detection/detection-limits.js';
import { column, empty, numberOr, text } from '../cells.js';
import type { Block, Cell, Figure, Table } from '../document.js';
import { detectionByApproach } from '../figures/detection-by-approach.js';

/** Every approach to detection and quantification: figure, limits in solution and solid, and why they differ. */
export function detectionBlocks({ detection, study }: MatrixValidation): Block[] {
  if (detection.length === 0) return [];
  const named = study.index.records.plan.detection?.approach;
  return [
    {
      kind: 'paragraph',
      text: `Approaches to detection answer different questions, so their figures differ and must not be compared as if they were one. ${named === undefined ? 'The plan names none; procedure blanks stand in' : `The plan names ${named}`}: that row says whether a result counts as detected. The limit of quantification above is judged from the procedure blanks and the target uncertainty in either case.`,
    },
    overview(detection, study.index.scopes),
    limitsByApproach(detection),
    reasons(detection),
  ];
}

function overview(
  detection: readonly AnalyteDetection[],
  scopes: MatrixValidation['study']['index']['scopes'],
): Figure {
  const names = detection[0]!.approaches.map((a) => a.name);
  return detectionByApproach({
    id: 'detection/approaches',
    caption:
      'Detection limit in the solid by each approach (for spikes and blanks: its method detection limit), as a share of the lowest mass fraction reported',
    approaches: names,
    analytes: detection.map(({ analyte, approaches }) => ({
      analyte,
      shares: approaches.map((a) =>
        shareOf(a.detectionLimit ?? a.decisionLimit, scopes.get(analyte)!.lowestReported),
      ),
    })),
  });
}

function shareOf(limit: ContentLimit | null, lowest: number): number | null {
  return limit === null || lowest === 0 ? null : limit.inSolid / lowest;
}

function limitsByApproach(detection: readonly AnalyteDetection[]): Table {
  const solid = (limit: ContentLimit | null): Cell => numberOr(limit?.inSolid ?? null, 2, 'none');
  const solution = (limit: ContentLimit | null): Cell => numberOr(limit?.inSolution ?? null, 2, 'none');
  return {
    kind: 'table',
    id: 'detection/limits-by-approach',
    caption:
      'Decision, detection and quantification limits by every approach, in the solution measured and in the solid',
    columns: [
      column('Analyte'),
      column('Approach'),
      column('Decision limit in solution'),
      column('Detection limit in solution'),
      column('Quantification limit in solution'),
      column('Unit in solution'),
      column('Decision limit in the solid'),
      column('Detection limit in the solid'),
      column('Quantification limit in the solid'),
      column('Unit in the solid'),
      column('Missing'),
    ],
    rows: detection.flatMap(({ analyte, unit, solutionUnit, approaches }) =>
      approaches.map((a): Cell[] => [
        text(analyte),
        text(a.planned ? `${a.name} (named by the plan)` : a.name),
        solution(a.decisionLimit),
        solution(a.detectionLimit),
        solution(a.quantificationLimit),
        text(solutionUnit),
        solid(a.decisionLimit),
        solid(a.detectionLimit),
        solid(a.quantificationLimit),
        text(unit),
        a.missing === null ? empty('nothing') : text(a.missing),
      ]),
    ),
    notes: [
      'In the solid: at nominal portion and solution mass and the mean further dilution. None: the approach defines no such limit, or none exists.',
      ...detection
        .slice(0, 1)
        .map(
          ({ runs }) =>
            `Calibration approaches rest on the zero and the lowest standards of ${runs.length} run(s), by ordinary least squares, residual standard deviation pooled over the runs.`,
        ),
      `Highest standard taken, ν: ${detection.map((d) => `${d.analyte} ${d.upTo === null ? 'none' : `${d.upTo} ${d.solutionUnit}, ${d.degreesOfFreedom}`}`).join('; ')}.`,
    ],
    groupedBy: 0,
  };
}

function reasons(detection: readonly AnalyteDetection[]): Table {
  return {
    kind: 'table',
    id: 'detection/why-they-differ',
    caption: 'Approaches to detection: what each holds and leaves out, and its source',
    columns: [column('Approach'), column('What it holds, and why it differs'), column('Source')],
    rows: detection[0]!.approaches.map((a) => [text(a.name), text(a.differs), text(a.source)]),
    notes: [],
  };
}
