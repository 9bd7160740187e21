import type { RoundRecord } from '../../records/tables/rounds.js';
import { proficiencyScores } from '../../studies/proficiency.js';
import { column, number, text } from '../cells.js';
import type { Cell, Section } from '../document.js';
import { paragraph, sectionOf } from '../section-of.js';

/**
 * Scores of proficiency rounds.
 *
 * @see ISO/IEC 17025:2017, 7.7.2; ISO 13528:2022
 */
export function proficiencySection(rounds: readonly RoundRecord[]): Section {
  const scores = proficiencyScores(rounds);
  return sectionOf({
    id: 'proficiency',
    heading: 'Proficiency tests',
    clause: 'ISO/IEC 17025:2017, 7.7.2',
    blocks:
      scores.length === 0
        ? [paragraph('No round is recorded.')]
        : [
            {
              kind: 'table',
              id: 'proficiency/scores',
              caption: 'Scores by ISO 13528:2022',
              columns: [
                column('Round'),
                column('Material'),
                column('Analyte'),
                column('Difference from the assigned value'),
                column('Unit'),
                column('z'),
                column('ζ'),
              ],
              rows: scores.map((s): Cell[] => [
                text(s.round),
                text(s.material),
                text(s.analyte),
                number(s.difference, 3),
                text(s.unit),
                number(s.z, 2),
                number(s.zeta, 2),
              ]),
              notes: [
                '|z| of 3 and more asks for action, 2 to 3 is a warning. ζ uses the expanded uncertainty stated with the result, k = 2: |ζ| above 2 with a small z says that the stated uncertainty does not explain the difference.',
              ],
            },
          ],
  });
}
