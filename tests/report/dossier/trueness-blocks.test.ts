import { describe, expect, it } from 'vitest';
import type { Table } from '../../../src/report/document.js';
import { comparisonBlocks } from '../../../src/report/dossier/trueness-blocks.js';
import { demonstrationSeed, zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';

const validation = validateMatrix(zirconPigmentStudy({ seed: demonstrationSeed }).records);
const notesOf = (changed: Partial<typeof validation>): string => {
  const [table] = comparisonBlocks({ ...validation, ...changed }).get('trueness over the range') as [Table];
  return table.notes.join(' ');
};

describe('the table of lines through reference materials', () => {
  it('names the analytes whose materials scatter too much, and how often chance does that', () => {
    const scattered = validation.severalMaterials.filter(
      ({ regression }) => regression.scatter.pValue < 0.05,
    );
    const words = notesOf({});
    expect(words).toContain(
      `Below 0.05 here: ${scattered.map(({ analyte }) => analyte).join(', ') || 'none'}.`,
    );
    // 1 − 0.95⁸ = 0.3366.
    expect(words).toContain(
      'Of 8 analyte(s) without fault, one or more come out so in 34 % of studies by chance.',
    );
  });

  it('says so where none does', () => {
    const quiet = validation.severalMaterials.filter(({ regression }) => regression.consistent).slice(0, 2);
    expect(quiet.length).toBe(2);
    expect(notesOf({ severalMaterials: quiet })).toContain('Below 0.05 here: none.');
  });
});
