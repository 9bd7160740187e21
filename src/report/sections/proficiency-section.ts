import type { RoundRecord } from '../../records/tables/rounds.js';
import { proficiencyScores } from '../../studies/proficiency.js';
import { proficiencySignals } from '../../studies/proficiency-signals.js';
import { column, empty, number, text } from '../cells.js';
import type { Cell, Section } from '../document.js';
import { digitsAsGiven } from '../html/typeset-number.js';
import { paragraph, sectionOf } from '../section-of.js';

/**
 * Scores of proficiency rounds.
 *
 * @see ISO/IEC 17025:2017, 7.7.2; ISO 13528:2022
 */
export function proficiencySection(rounds: readonly RoundRecord[]): Section {
  const signals = proficiencySignals(proficiencyScores(rounds));
  return sectionOf({
    id: 'proficiency',
    heading: 'Proficiency tests',
    clause: 'ISO/IEC 17025:2017, 7.7.2',
    blocks:
      signals.length === 0
        ? [paragraph('No round is recorded.')]
        : [
            {
              kind: 'table',
              id: 'proficiency/scores',
              caption: 'Scores by ISO 13528:2022, with what they are worked out from',
              columns: [
                column('Round'),
                column('Material'),
                column('Analyte'),
                column('Result'),
                column('U (k = 2)'),
                column('Assigned value'),
                column('its u'),
                column('σpt'),
                column('Unit'),
                column('z'),
                column('ζ'),
                column('Signal'),
              ],
              rows: rounds.map((r, i): Cell[] => [
                text(r.round),
                text(r.material),
                text(r.analyte),
                ...[r.value, r.expandedUncertainty, r.assignedValue].map(asGiven),
                ...[r.assignedStandardUncertainty, r.sigmaPt].map(asGiven),
                text(r.unit),
                number(signals[i]!.z, 2),
                number(signals[i]!.zeta, 2),
                signals[i]!.signal === '' ? empty('none') : text(signals[i]!.signal),
              ]),
              notes: [
                'z = (result − assigned value) ÷ σpt; ζ = (result − assigned value) ÷ √((U/2)² + u²), u that of the assigned value.',
                '|z| of 3 and more asks for action, 2 to 3 is a warning; two warnings in successive rounds of an analyte call for an investigation as one action signal does (ISO 13528:2022, from memory). |ζ| of 3 and more says that the stated uncertainty does not explain the difference, and so does |ζ| above 2 with a small z.',
              ],
              groupedBy: 0,
            },
          ],
  });
}

/** A recorded number in the digits it was recorded with. */
function asGiven(value: number): Cell {
  return number(value, digitsAsGiven(value));
}
