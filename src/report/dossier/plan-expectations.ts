import type { ValidationPlan } from '../../studies/planning/plan-validation.js';
import { column, number, numberOr, text } from '../cells.js';
import type { Section } from '../document.js';
import { paragraph, sectionOf } from '../section-of.js';

/** What a plan expects of the method: its probabilities hold only as far as these figures do. */
export function expectationsSection({ planning }: ValidationPlan): Section {
  const none = 'nothing added';
  return sectionOf({
    id: 'expectations',
    heading: 'What the plan expects',
    blocks: [
      paragraph(
        'The probabilities hold only as far as these figures do. After the first days compare them with what was found and plan again.',
      ),
      {
        kind: 'table',
        id: 'expectations/table',
        caption:
          'Expected standard deviations, bias and uncertainties, in % of the content, and limits of quantification',
        columns: [
          column('Analyte'),
          column('Level'),
          column('Between days', '%'),
          column('Between digestions', '%'),
          column('Bias', '%'),
          column('Certified value, u', '%'),
          column('One recovery', '%'),
          column('Amount added, u', '%'),
          column('Calibration', '%'),
          column('Limit of quantification'),
          column('From'),
        ],
        rows: planning.expectations.map((e) => [
          text(e.analyte),
          text(e.level === '*' ? 'all levels' : e.level),
          number(e.dayPercent, 2),
          number(e.digestionPercent, 2),
          number(e.biasPercent, 2),
          number(e.certifiedPercent, 2),
          numberOr(e.recoveryPercent, 2, none),
          numberOr(e.additionPercent, 2, none),
          number(e.calibrationPercent, 2),
          number(e.limitOfQuantification, 3),
          text(e.source),
        ]),
        notes: ['Limits of quantification are in the unit of the analyte, as its criterion.'],
      },
    ],
  });
}
