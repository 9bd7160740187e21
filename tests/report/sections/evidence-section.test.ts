import { describe, expect, it } from 'vitest';
import { auditSection } from '../../../src/report/sections/audit-section.js';
import { evidenceSection } from '../../../src/report/sections/evidence-section.js';
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
