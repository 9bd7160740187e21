import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import { column, number, text } from '../cells.js';
import type { Block, Figure, Table } from '../document.js';
import { biasByMaterial } from '../figures/bias-by-material.js';
import { foundAgainstCertified } from '../figures/found-against-certified.js';

/** Figures about other standards and materials that stand before the tables of a characteristic. */
export function comparisonFigures(validation: MatrixValidation): ReadonlyMap<string, readonly Figure[]> {
  return new Map([
    ['trueness over the range', severalMaterialsFigures(validation)],
    ['second-source standard', secondSourceFigures(validation)],
  ]);
}

/** Tables about them that stand after the tables of a characteristic. */
export function comparisonBlocks(validation: MatrixValidation): ReadonlyMap<string, readonly Block[]> {
  return new Map([['trueness over the range', linesTable(validation)]]);
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
      rows: severalMaterials.map(({ analyte, unit, regression: { fit } }) => [
        text(analyte),
        number(fit.slope, 5),
        number(Math.sqrt(fit.varianceSlope), 2),
        number(fit.intercept, 3),
        number(Math.sqrt(fit.varianceIntercept), 2),
        text(unit),
        number(fit.pValue, 2),
      ]),
      notes: [
        'p below 0.05: the materials scatter about the line by more than their uncertainties allow, and nothing is shown by it.',
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
