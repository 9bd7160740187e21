import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import type { Characteristic } from '../../validation/characteristic.js';
import type { Block } from '../document.js';
import { listOf, paragraph } from '../section-of.js';

/** What would show each characteristic that a study may leave out, in words. */
const wouldShow: Readonly<Partial<Record<Characteristic, string>>> = {
  'matrix effect':
    'standard additions to solutions of the matrix, their slope compared with that of the calibration',
  ruggedness:
    'a two-level design of small deliberate changes (8 or 12 experiments) in the table factors, with its analyte, sample and unit under ruggedness in study.json',
  homogeneity:
    'two portions from each of about ten containers of one sample, measured in random order on one day (table homogeneity)',
  'second-source standard':
    'a check solution prepared from another supplier’s standard, with its certificate',
  'sample trend': 'materials digested on several days, three or more results of them in each run',
  'method comparison': 'ten or more samples measured by this method and by an independent one',
  'crucible memory': 'blanks fused in a crucible straight after a sample rich in the analyte',
  'carry-over':
    'a zero solution read directly after the highest standard in several runs (carryOver in study.json)',
  'solution stability': 'solutions read again in later runs (stability in study.json)',
  'second line': 'a second line of the analyte (secondLineNm in study.json)',
};

/** What this study did not look at and no criterion asks for, and what would show it. */
export function unstudiedBlocks({ findings }: MatrixValidation): Block[] {
  const found = new Set(findings.map((finding) => finding.characteristic));
  const open = Object.entries(wouldShow)
    .filter(([name]) => !found.has(name))
    .map(([name, data]) => `${name}: ${data}`);
  if (open.length === 0) return [];
  return [
    paragraph(
      'Not studied, as the records hold no data on it and the plan sets no criterion; what would show it:',
    ),
    ...listOf(open),
  ];
}
