import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import type { Criterion } from '../../validation/finding.js';
import { column, countCell, number, numberOr, text } from '../cells.js';
import type { Block, Figure, Table } from '../document.js';
import { biasByMaterial } from '../figures/bias-by-material.js';
import { foundAgainstCertified } from '../figures/found-against-certified.js';

/** Figures about other standards and materials that stand before the tables of a characteristic. */
export function comparisonFigures(validation: MatrixValidation): ReadonlyMap<string, readonly Figure[]> {
  return new Map([
    ['trueness over the range', severalMaterialsFigures(validation)],
    ['second-source standard', secondSourceFigures(validation)],
    ['method comparison', methodFigures(validation)],
    ['matrix effect', matrixFigures(validation)],
  ]);
}

/** Tables about them that stand after the tables of a characteristic. */
export function comparisonBlocks(validation: MatrixValidation): ReadonlyMap<string, readonly Block[]> {
  return new Map<string, readonly Block[]>([
    ['trueness over the range', linesTable(validation)],
    ['method comparison', methodTables(validation)],
    ['matrix effect', matrixBlocks(validation)],
  ]);
}

function severalMaterialsFigures({ severalMaterials }: MatrixValidation): Figure[] {
  return severalMaterials.map(({ analyte, unit, points, regression }) =>
    foundAgainstCertified({
      id: `trueness-over-the-range/${analyte}`,
      caption: `${analyte}: difference from the certified value over the range, with the line through the materials (dashed)`,
      unit,
      horizontal: 'Certified value',
      points: points.map((p) => ({
        name: p.material,
        certified: p.certified,
        certifiedStandardUncertainty: p.certifiedStandardUncertainty,
        difference: p.found - p.certified,
        differenceStandardUncertainty: p.foundStandardUncertainty,
      })),
      line: regression.levels.map((level) => ({ content: level.content, difference: level.bias })),
    }),
  );
}

/** Which analytes scatter too much, and how many would by chance. */
function scatterNote(found: MatrixValidation['severalMaterials']): string {
  const named = found.filter(({ regression }) => !regression.consistent).map(({ analyte }) => analyte);
  const chance = Math.round(100 * (1 - 0.95 ** found.length));
  return `Below 0.05 here: ${named.length === 0 ? 'none' : named.join(', ')}. Of ${found.length} analyte(s) without fault, one or more come out so in ${chance} % of studies by chance.`;
}

function linesTable({ severalMaterials }: MatrixValidation): Table[] {
  if (severalMaterials.length === 0) return [];
  return [
    {
      kind: 'table',
      id: 'trueness-over-the-range/lines',
      caption: 'Lines through the reference materials: found against certified, uncertainties on both axes',
      columns: [
        column('Analyte'),
        column('Slope'),
        column('its standard uncertainty'),
        column('Intercept'),
        column('its standard uncertainty'),
        column('Unit of the intercept'),
        column('p of the scatter about the line'),
      ],
      rows: severalMaterials.map(({ analyte, unit, regression: { fit, scatter } }) => [
        text(analyte),
        number(fit.slope, 5),
        number(Math.sqrt(fit.varianceSlope), 2),
        number(fit.intercept, 3),
        number(Math.sqrt(fit.varianceIntercept), 2),
        text(unit),
        number(scatter.pValue, 2),
      ]),
      notes: [
        'p below 0.05: the materials scatter about the line by more than their uncertainties allow, so that no conclusion is drawn from it. By F, for the uncertainty of each mean is known from its days only.',
        scatterNote(severalMaterials),
      ],
    },
  ];
}

function secondSourceFigures({ secondSource }: MatrixValidation): Figure[] {
  if (secondSource.length === 0) return [];
  return [
    biasByMaterial({
      id: 'second-source-standard/difference',
      caption:
        'Content found of the solution from a second source less its certified content, relative to it, with the two-sided 95 % interval',
      horizontal: 'analyte and solution',
      vertical: 'relative difference, %',
      materials: secondSource.map(({ analyte, solution, prepared, comparison: { difference, finding } }) => ({
        material: `${analyte}, ${solution}`,
        bias: (100 * difference) / prepared,
        low:
          finding.limits === null
            ? (100 * difference) / prepared
            : percentOf(finding, finding.limits.low, prepared),
        high:
          finding.limits === null
            ? (100 * difference) / prepared
            : percentOf(finding, finding.limits.high, prepared),
        allowed: finding.criterion?.unit === '%' ? finding.criterion.limit : null,
      })),
    }),
  ];
}

function percentOf({ unit }: { readonly unit: string }, value: number, prepared: number): number {
  return unit === '%' ? value : unit === '1' ? 100 * value : (100 * value) / prepared;
}

function methodFigures({ comparisons }: MatrixValidation): Figure[] {
  return comparisons.map(({ analyte, method, unit, rows }) =>
    foundAgainstCertified({
      id: `method-comparison/${analyte}/${method}`,
      caption: `${analyte}: mean result of each sample less that of the other method (${method})`,
      unit,
      horizontal: 'Result of the other method',
      differenceUncertainty: 'standard uncertainty of the other method in it',
      points: rows.map(({ key, reference, referenceStandardUncertainty, candidate }) => ({
        name: key.split('|')[0] ?? key,
        certified: reference,
        certifiedStandardUncertainty: referenceStandardUncertainty,
        difference: candidate - reference,
        differenceStandardUncertainty: referenceStandardUncertainty,
      })),
      line: [],
    }),
  );
}

function methodTables({ comparisons }: MatrixValidation): Block[] {
  if (comparisons.length === 0) return [];
  const percent = (value: number, relative: boolean) => (relative ? 100 : 1) * value;
  return [
    {
      kind: 'table',
      id: 'method-comparison/lines',
      caption:
        'Comparison of methods: scatter of the differences, and lines that tell a constant from a proportional difference',
      columns: [
        column('Analyte'),
        column('Other method'),
        column('Samples'),
        column('Unit of the differences'),
        column('Standard deviation of a difference'),
        column('95 % of single differences, from'),
        column('95 % of single differences, to'),
        column('Deming slope'),
        column('Deming intercept'),
        column('Passing–Bablok slope'),
        column('Passing–Bablok intercept'),
      ],
      rows: comparisons.map(({ analyte, method, unit, rows, comparison: c }) => [
        text(analyte),
        text(method),
        countCell(rows.length),
        text(c.relative ? '%' : unit),
        number(percent(c.standardDeviation, c.relative), 2),
        number(percent(c.limitsOfAgreement.low, c.relative), 3),
        number(percent(c.limitsOfAgreement.high, c.relative), 3),
        numberOr(c.deming.fit?.slope ?? null, 4, c.deming.missing ?? ''),
        numberOr(c.deming.fit?.intercept ?? null, 3, c.deming.missing ?? ''),
        numberOr(c.passingBablok.fit?.slope ?? null, 4, c.passingBablok.missing ?? ''),
        numberOr(c.passingBablok.fit?.intercept ?? null, 3, c.passingBablok.missing ?? ''),
      ]),
      notes: [
        'Verdicts rest on the mean difference. Lines need at least 10 samples over the range; they are shown and decide nothing.',
        'A difference tells that the methods disagree, not which of them is wrong: reference materials tell that.',
      ],
    },
  ];
}

function matrixFigures({ matrixEffects }: MatrixValidation): Figure[] {
  if (matrixEffects.length === 0) return [];
  return [
    biasByMaterial({
      id: 'matrix-effect/slopes',
      caption:
        'Matrix effect: slope of the standard additions less that of the external calibration, relative to the latter, with the two-sided 95 % interval',
      horizontal: 'analyte and sample',
      vertical: 'difference of slopes, %',
      materials: matrixEffects.map(({ analyte, sample, effect: { ratio, limits, finding } }) => ({
        material: `${analyte}, ${sample}`,
        bias: 100 * (ratio - 1),
        low: 100 * (limits.low - 1),
        high: 100 * (limits.high - 1),
        allowed: allowedAroundOne(finding.criterion),
      })),
    }),
  ];
}

/** Half-width, in %, of a criterion that is symmetric about equal slopes. */
function allowedAroundOne(criterion: Criterion | null): number | null {
  if (criterion === null || criterion.lower === undefined) return null;
  const whole = criterion.unit === '%' ? 100 : 1;
  return criterion.limit - whole === whole - criterion.lower
    ? (100 * (criterion.limit - whole)) / whole
    : null;
}

function matrixBlocks({ matrixEffects, study }: MatrixValidation): Block[] {
  if (matrixEffects.length === 0) return [];
  const other = study.index.records.plan.interferenceCheck?.interferent;
  return [
    {
      kind: 'paragraph',
      text: `Slopes find what changes the sensitivity (uptake, plasma, internal standard). They cannot find an additive overlap, which leaves the slope as it is: for that the interference check${other === undefined ? ' (not planned here)' : ` with ${other} alone`}, second lines and reference materials at several levels stand in this report. Interferents other than those checked or in the table of interferences were not looked for.`,
    },
    {
      kind: 'table',
      id: 'matrix-effect/points',
      caption:
        'Standard additions: content added, and content found by the external calibration of the same run, in solution',
      columns: [
        column('Analyte'),
        column('Sample'),
        column('Run'),
        column('Solution'),
        column('Added'),
        column('Found'),
        column('Unit'),
      ],
      rows: matrixEffects.flatMap(({ analyte, sample, run, unit, points }) =>
        points.map((p) => [
          text(analyte),
          text(sample),
          text(run),
          text(p.solution),
          number(p.added, 4),
          number(p.found, 4),
          text(unit),
        ]),
      ),
      notes: [
        'Found: signals corrected for drift, less what interferents that were added with the analyte feign by the table of interferences. Those of the sample itself are the same in every solution and do not change a slope.',
      ],
      groupedBy: 0,
    },
  ];
}
