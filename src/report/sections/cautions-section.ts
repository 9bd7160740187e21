import type { Section } from '../document.js';
import { paragraph, sectionOf } from '../section-of.js';

/** Whose word counts. */
export const cautionRule =
  'These cautions replace no instruction: local rules come first, and competent, authorised people decide.';

/** What can hurt people or ruin equipment in borate fusion and dissolution. */
export const cautions: readonly string[] = [
  'Platinum: no free metals, carbides, sulfides, phosphides or arsenides, and no carbon or other reducing matter in the crucible. Phosphorus, arsenic, antimony, tin, lead, bismuth, zinc, silver and copper form alloys with platinum once reduced: oxidise the portion first, and prove that it is oxidised.',
  'Platinum and acids: never nitric together with hydrochloric acid, and no chlorine or bromine. Higher oxides (praseodymium, cerium, manganese, chromium VI) in warm hydrochloric acid release chlorine, which attacks platinum and lungs.',
  'Spitting: carbonates, moisture and nitrates throw melt about. Dry and ignite first, and heat in steps.',
  'Melt and water: melt that meets water before it is cold bursts into steam and flies.',
  'Closed warm vessels hold pressure (hydrogen, hydrogen sulfide, carbon dioxide, hydrogen chloride). Use rated, vented vessels, let them cool before weighing or opening, and open them under extraction.',
  'Unattended work needs interlocks for over-temperature and cooling water, a watch for leaks and fire, and no restart by itself after a fault.',
  'Induction furnaces: the field can disturb implants such as pacemakers, and heats metal that is worn.',
  'Plasma: argon displaces air, the discharge makes ozone, and its ultraviolet light harms eyes and skin. Keep extraction and shields in place.',
  'Dust of samples can be respirable and harms lungs, that of quartz and other crystalline silica above all. Keep it under extraction; local rules decide how it is handled and when a mask is worn.',
  'Zircon: the dust harms lungs, and zirconium minerals hold natural radioactivity. Avoid dust; know the rules for handling and waste.',
  'Waste: solutions hold boric acid and metals; collect them, do not pour them away.',
  'Hydrofluoric acid is no part of this method. Nothing here is a guide to its use.',
];

/** All cautions, as a section. */
export function cautionsSection(): Section {
  return sectionOf({
    id: 'cautions',
    heading: 'Cautions',
    blocks: [paragraph(cautionRule), ...cautions.map((text) => ({ kind: 'caution', text }) as const)],
  });
}
