import type { SampleHomogeneity } from '../../studies/matrix/homogeneity-study.js';
import { column, number, numberOr, text } from '../cells.js';
import type { Block, Figure } from '../document.js';
import { portionsByUnit } from '../figures/portions-by-unit.js';

/** One figure for each sample and analyte. */
export function homogeneityFigures(found: readonly SampleHomogeneity[]): Figure[] {
  return found.map(({ sample, analyte, rows, homogeneity }) =>
    portionsByUnit({
      id: `homogeneity/${analyte}/${sample}`,
      caption: `${analyte} in ${sample}: portions by container`,
      unit: rows[0]!.unit,
      portions: rows,
      mean: homogeneity.analysis.grandMean,
    }),
  );
}

/** What two guides say of the containers, and the smallest portion that keeps the criterion. */
export function homogeneityBlocks(found: readonly SampleHomogeneity[]): Block[] {
  if (found.length === 0) return [];
  return [
    {
      kind: 'table',
      id: 'homogeneity/checks',
      caption:
        'Homogeneity: checks of the guides and smallest portion; the verdict rests on the limits above',
      columns: [
        column('Analyte'),
        column('Sample'),
        column('Between containers', '%'),
        column('Within containers', '%'),
        column('Could be hidden by repeatability', '%'),
        column('Limit of ISO 13528', '%'),
        column('Check of ISO 13528'),
        column('F test: p'),
        column('Portion', 'g'),
        column('Smallest portion by the estimate', 'g'),
        column('Smallest portion by the upper limit', 'g'),
      ],
      rows: found.map(({ analyte, sample, homogeneity, portionG, minimumPortion, checks }) => {
        const { analysis, betweenUnits, hiddenByRepeatability } = homogeneity;
        const percent = 100 / analysis.grandMean;
        const none = 'no relative criterion';
        return [
          text(analyte),
          text(sample),
          number(betweenUnits * percent, 2),
          number(Math.sqrt(analysis.meanSquareWithin) * percent, 2),
          number(hiddenByRepeatability * percent, 2),
          numberOr(checks === null ? null : checks.criticalValue * percent, 2, none),
          text(checks === null ? none : checks.passes ? 'passes' : 'fails'),
          number(analysis.pValue, 2),
          number(portionG, 3),
          numberOr(minimumPortion?.minimumG ?? null, 2, none),
          numberOr(minimumPortion?.safeMinimumG ?? null, 2, none),
        ];
      }),
      notes: [
        'Standard deviations relative to the mean. Hidden by repeatability: heterogeneity up to this size could go unseen (ISO 33405:2024, no clause). ISO 13528:2022, Annex B (clause from memory): the check passes unless heterogeneity beyond the criterion is proved. The smallest portion is the one at which heterogeneity reaches the criterion, if its variance falls with the mass of the portion (Ingamells and Switzer 1973); the one by the upper one-sided 95 % limit is the figure to work by, and neither holds below a tenth of the portion studied.',
      ],
    },
  ];
}
