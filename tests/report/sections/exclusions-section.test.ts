import { describe, expect, it } from 'vitest';
import { exclusionsSection } from '../../../src/report/sections/exclusions-section.js';

describe('exclusionsSection', () => {
  it('names what enters no result without an exclusion', () => {
    const { blocks } = exclusionsSection(
      [],
      [{ table: 'digestions', index: 1, name: 'D-002', missing: 'no reading of Fe' }],
    );
    expect(JSON.stringify(blocks)).toContain('No row was left out.');
    expect(blocks.find((block) => block.kind === 'caution')).toMatchObject({
      text: expect.stringContaining('1 digestion(s) or standard(s) enter no result of an analyte'),
    });
    const table = blocks.find((block) => block.kind === 'table' && block.id === 'exclusions/unused');
    expect(JSON.stringify(table)).toContain('D-002');
    expect(JSON.stringify(table)).toContain('no reading of Fe');
  });

  it('says nothing more where every digestion was read', () => {
    expect(exclusionsSection([]).blocks.map((block) => block.kind)).toEqual(['paragraph', 'paragraph']);
  });
});
