import type { Finding } from '../validation/finding.js';

/** Verdicts as lines of text for a terminal: what is open one by one, the others as numbers that add up to all findings. */
export function verdictText(findings: readonly Finding[]): string[] {
  if (findings.length === 0) return [];
  const open = findings.filter((f) => f.verdict !== 'met' && f.verdict !== 'no criterion');
  const width = Math.max(14, ...open.map((f) => f.characteristic.length));
  const shown = open.map(
    (f) => `${f.verdict.padEnd(12)} ${f.characteristic.padEnd(width)} ${f.analyte.padEnd(4)} ${f.level}`,
  );
  const count = (verdict: Finding['verdict']) => findings.filter((f) => f.verdict === verdict).length;
  const unasked = count('no criterion');
  return [
    ...shown,
    `${'met'.padEnd(12)} ${count('met')} of ${findings.length} findings`,
    ...(unasked === 0 ? [] : [`${'no criterion'.padEnd(12)} ${unasked}, of which the plan asks no verdict`]),
  ];
}
