import { describe, expect, it } from 'vitest';
import { auditSection } from '../../../src/report/sections/audit-section.js';
import { evidenceSection } from '../../../src/report/sections/evidence-section.js';
import { proficiencySection } from '../../../src/report/sections/proficiency-section.js';
import type { EvidenceItem } from '../../../src/studies/accreditation-evidence.js';

const entry = (clause: string, state: EvidenceItem['state']): EvidenceItem => ({
  clause,
  asks: `asks ${clause}`,
  state,
  holds: state === 'missing' ? [] : [`holds ${clause}`],
  elsewhere: state === 'named elsewhere' ? [`kept ${clause}`] : [],
  gaps: state === 'held' ? [] : [`gap ${clause}`],
});
const tables = (blocks: readonly { readonly kind: string }[]) =>
  blocks.filter(({ kind }) => kind === 'table').map((block) => JSON.stringify(block));

describe('evidence by clause', () => {
  it('puts what is missing first, and keeps every clause below', () => {
    const [gaps = '', all = ''] = tables(
      evidenceSection([entry('6.2', 'held'), entry('6.4', 'partly held'), entry('7.7', 'missing')]).blocks,
    );
    expect(gaps).toContain('gap 6.4');
    expect(gaps).toContain('gap 7.7');
    expect(gaps).not.toContain('6.2');
    for (const clause of ['6.2', '6.4', '7.7']) expect(all).toContain(`asks ${clause}`);
  });

  it('keeps what is named elsewhere apart from what the records hold', () => {
    const section = evidenceSection([entry('6.2', 'held'), entry('8.8', 'named elsewhere')]);
    expect(JSON.stringify(section)).toContain('Of 2 clauses, 1 are answered');
    expect(tables(section.blocks)).toHaveLength(1);
    expect(tables(section.blocks)[0]).toContain('kept 8.8');
  });

  it('has no table of gaps where there are none', () => {
    expect(tables(evidenceSection([entry('6.2', 'held')]).blocks)).toHaveLength(1);
  });
});

describe('proficiency rounds', () => {
  it('stand with what their scores are worked out from, and with what they signal', () => {
    const round = {
      ...{ round: 'R-1', material: 'M', analyte: 'Al', unit: 'mg/kg', value: 3528 },
      ...{ expandedUncertainty: 93.5, assignedValue: 3134, assignedStandardUncertainty: 31.2, sigmaPt: 140 },
    };
    const section = proficiencySection([round, { ...round, round: 'R-2' }]);
    const [table] = section.blocks.filter((b) => b.kind === 'table');
    const numbers = table!.rows[0]!.flatMap((c) => (c.kind === 'number' ? [c.value] : []));
    expect(numbers.slice(0, 5)).toEqual([3528, 93.5, 3134, 31.2, 140]);
    const [value, expanded, assigned, u, sigma, z, zeta] = numbers as [number, ...number[]];
    expect(z).toAgreeWithin((value - assigned!) / sigma!, 1e-12);
    expect(zeta).toAgreeWithin((value - assigned!) / Math.sqrt((expanded! / 2) ** 2 + u! ** 2), 1e-12);
    const signals = table!.rows.map((row) => row.at(-1));
    expect(signals.map((c) => (c?.kind === 'text' ? c.text : ''))).toEqual([
      'warning, not explained by the stated uncertainty',
      'warning, two or more successive warnings, not explained by the stated uncertainty',
    ]);
    expect(table!.notes.join()).toContain('two warnings in successive rounds');
  });
});

describe('the outcome of an audit', () => {
  const sound = { issues: 3, head: 'ab'.repeat(32), problems: [], interrupted: [], unissued: ['demo/draft'] };

  it('says that all holds, with the hash to note', () => {
    const text = JSON.stringify(auditSection(sound));
    expect(text).toContain('All 3 issues');
    expect(text).toContain(sound.head);
  });

  it('names the place of each problem and what was interrupted', () => {
    const problems = [{ place: 'demo/0001/report.html', found: 'x', expected: 'y' }];
    const text = JSON.stringify(auditSection({ ...sound, problems, interrupted: ['demo/.0002'] }));
    expect(text).toContain('demo/0001/report.html');
    expect(text).toContain('demo/.0002 was interrupted');
    expect(text).toContain('demo/draft was not issued and is no evidence');
  });
});
