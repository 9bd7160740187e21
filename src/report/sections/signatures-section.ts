import type { Section } from '../document.js';
import { paragraph, sectionOf } from '../section-of.js';

/**
 * Places for prepared, reviewed and authorised. They stay blank: a person signs.
 *
 * @see ISO/IEC 17025:2017, 7.2.1.5, 8.3
 */
export function signaturesSection(): Section {
  return sectionOf({
    id: 'signatures',
    heading: 'Prepared, reviewed, authorised',
    clause: 'ISO/IEC 17025:2017, 8.3',
    blocks: [
      paragraph(
        'This report was calculated, not approved. It takes effect when authorised people have signed it.',
      ),
      { kind: 'signatures', roles: ['Prepared', 'Reviewed', 'Authorised'] },
    ],
  });
}
