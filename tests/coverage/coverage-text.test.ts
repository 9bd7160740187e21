import { describe, expect, it } from 'vitest';
import { coverageText } from '../../src/coverage/coverage-text.js';
import { repeatScenario } from '../../src/coverage/repeat-scenario.js';

describe('counts of repeated studies as text', () => {
  const found = repeatScenario({ firstSeed: 77, seeds: 1 });
  const lines = coverageText(found);
  const legendAt = lines.indexOf('What the words mean:');

  it('closes with what its words mean, each of which it uses', () => {
    const legend = lines.slice(legendAt + 1).join('\n');
    const above = lines.slice(0, legendAt).join('\n').toLowerCase();
    for (const word of ['planted', 'believed', 'oracle', 'without covariances']) {
      expect(legend).toContain(word);
      expect(above).toContain(word);
    }
    expect(lines.length - legendAt).toBeLessThan(8);
  });

  it('has one line an interval', () => {
    expect(lines.filter((line) => line.includes('believed ') && /; \d+\.\d{3}$/.test(line))).toHaveLength(
      found.intervals.length,
    );
  });
});
