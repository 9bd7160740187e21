import type { AnalyteDetection } from '../../studies/matrix/detection-study.js';
import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import type { ContentLimit } from '../../validation/detection/detection-limits.js';
import { column, numberOr, text } from '../cells.js';
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
    limitsByApproach(detection, 'inSolid'),
    limitsByApproach(detection, 'inSolution'),
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

/** Limits by every approach, in the solution measured or in the solid. */
function limitsByApproach(detection: readonly AnalyteDetection[], where: 'inSolution' | 'inSolid'): Table {
  const cell = (limit: ContentLimit | null): Cell => numberOr(limit?.[where] ?? null, 2, 'none');
  const words = where === 'inSolid' ? 'in the solid' : 'in the solution measured';
  return {
    kind: 'table',
    id: where === 'inSolid' ? 'detection/limits-in-solid' : 'detection/limits-in-solution',
    caption: `Decision, detection and quantification limits by every approach, ${words}`,
    columns: [
      column('Analyte'),
      column('Approach'),
      column('Unit'),
      column('Decision limit'),
      column('Detection limit'),
      column('Quantification limit'),
    ],
    rows: detection.flatMap(({ analyte, unit, solutionUnit, approaches }) =>
      approaches.map((a): Cell[] => [
        text(analyte),
        text(a.planned ? `${a.name} (named by the plan)` : a.name),
        text(where === 'inSolid' ? unit : solutionUnit),
        cell(a.decisionLimit),
        cell(a.detectionLimit),
        cell(a.quantificationLimit),
      ]),
    ),
    notes: where === 'inSolid' ? notesInSolid(detection) : notesInSolution(detection),
    groupedBy: 0,
  };
}

function notesInSolid(detection: readonly AnalyteDetection[]): string[] {
  const missing = new Map<string, string[]>();
  for (const { analyte, approaches } of detection) {
    for (const { name, missing: what } of approaches) {
      if (what === null) continue;
      const key = `${name}: ${what}`;
      missing.set(key, [...(missing.get(key) ?? []), analyte]);
    }
  }
  return [
    'In the solid on the basis of the results, at nominal portion and solution mass and the mean further dilution. None: the approach defines no such limit, none exists, or data are missing.',
    ...[...missing].map(([what, analytes]) => `Missing for ${analytes.join(', ')}: ${what}.`),
  ];
}

function notesInSolution(detection: readonly AnalyteDetection[]): string[] {
  const lines = detection.filter((d) => d.upTo !== null);
  if (lines.length === 0) return [];
  return [
    `Calibration approaches rest on the zero and the lowest standards of ${lines[0]!.runs.length} run(s), by ordinary least squares, residual standard deviation pooled over the runs.`,
    `Highest standard taken and degrees of freedom: ${lines.map((d) => `${d.analyte} ${d.upTo} ${d.solutionUnit}, ${d.degreesOfFreedom}`).join('; ')}.`,
  ];
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
