import { describe, expect, it } from 'vitest';
import { linearity } from '../../src/validation/calibration/linearity.js';
import { controlComparison } from '../../src/validation/change/control-comparison.js';
import { detectionApproaches } from '../../src/validation/detection/detection-approaches.js';
import { detectionLimits } from '../../src/validation/detection/detection-limits.js';
import { procedureBlank } from '../../src/validation/detection/procedure-blank.js';
import type { Finding } from '../../src/validation/finding.js';
import { precision } from '../../src/validation/precision/precision.js';
import { homogeneity } from '../../src/validation/robustness/homogeneity.js';
import { ruggedness } from '../../src/validation/robustness/ruggedness.js';
import { crucibleMemory } from '../../src/validation/stability/crucible-memory.js';
import { sampleTrend } from '../../src/validation/stability/sample-trend.js';
import { methodComparison } from '../../src/validation/trueness/method-comparison.js';
import { secondSourceStandard } from '../../src/validation/trueness/second-source-standard.js';
import { spikeRecovery } from '../../src/validation/trueness/spike-recovery.js';
import { trueness } from '../../src/validation/trueness/trueness.js';
import { criterion, rowsOfDays, valuesWith } from './support.js';

const about = { analyte: 'Al', level: 'low', unit: 'mg/kg' };
const percent = criterion('within', 2, '%');
const most = criterion('at most', 2, '%');
const keyed = (values: readonly number[]) => values.map((value, i) => ({ key: `${i}`, value }));

const equalDays = (days: readonly number[]) =>
  precision(rowsOfDays(days.map((value) => [value, value])), {
    ...about,
    repeatabilityCriterion: most,
    intermediateCriterion: most,
  });

const controls = (after: readonly number[]) =>
  controlComparison(keyed(valuesWith(200, 2, 12)), keyed(after), {
    ...about,
    shiftCriterion: percent,
    precisionCriterion: criterion('at most', 2.5, '1'),
  });

const blanksAfter = (after: readonly number[], ordinary: readonly number[]) =>
  crucibleMemory(
    keyed(after).map((row) => ({ ...row, crucible: 'Pt-1', after: 'H-1' })),
    keyed(ordinary),
    { ...about, criterion: most, richMassFraction: 5000 },
  ).finding;

const standards = (deviations: Record<string, readonly number[]>) =>
  linearity(
    Object.entries(deviations).flatMap(([level, values]) =>
      values.map((d, run) => ({
        ...{ key: `${level}-${run}`, run: `R-${run}`, level },
        massFraction: Number(level),
        backCalculated: Number(level) * (1 + d),
      })),
    ),
    { ...about, criterion: percent },
  ).finding;

/** Four runs of two factors that move nothing, each done twice. */
const settled = [-1, 1, -1, 1, -1, 1, -1, 1].map((a, i) => ({
  key: `${i}`,
  levels: { A: a as -1 | 1, B: (i % 4 < 2 ? -1 : 1) as -1 | 1 },
  response: 100,
}));

// Every verdict was "met" before: limits that hold no scatter keep any criterion that the estimate keeps.
const findings: readonly (readonly [what: string, find: () => Finding])[] = [
  ['repeatability, digestions of a day equal', () => equalDays([10, 10.1, 10, 9.9, 10]).repeatability],
  ['intermediate precision, all equal', () => equalDays([10, 10, 10, 10, 10]).intermediatePrecision],
  ['precision after a change', () => controls(Array(12).fill(200)).precision],
  ['shift after a change', () => controls(Array(12).fill(200)).shift],
  ['crucible memory, blanks cut at 0', () => blanksAfter([0, 0, 0], [0.1, 0, 0.2])],
  ['crucible memory, ordinary blanks cut at 0', () => blanksAfter([0.1, 0, 0.2], [0, 0, 0])],
  ['linearity, one level of two', () => standards({ '1': [0, 0, 0], '10': [0, 0.001, -0.001] })],
  [
    'homogeneity',
    () =>
      homogeneity(
        [1, 1, 2, 2, 3, 3].map((unit, i) => ({ key: `${i}`, unit: `${unit}`, value: 5 })),
        { ...about, criterion: most },
      ).finding,
  ],
  [
    'sample trend',
    () =>
      sampleTrend(
        ['a', 'b'].flatMap((run) =>
          [1, 2, 3].map((position) => ({ key: `${run}${position}`, run, position, value: 100 })),
        ),
        { ...about, criterion: percent },
      ).finding,
  ],
  [
    'method comparison',
    () =>
      methodComparison(
        [1, 2, 3, 4, 5, 6].map((value) => ({ key: `${value}`, reference: value, candidate: value })),
        { ...about, criterion: percent, referenceMethod: 'XRF' },
      ).finding,
  ],
  [
    'trueness, beside the uncertainty of the certificate',
    () =>
      trueness(rowsOfDays([[100], [100], [100], [100], [100]]), {
        ...about,
        criterion: percent,
        certified: { material: 'RM-1', value: 100, standardUncertainty: 0.2 },
      }).finding,
  ],
  [
    'recovery, beside the uncertainty of the addition',
    () =>
      spikeRecovery(
        ['1', '2', '3'].map((day) => ({
          ...{ key: day, partners: [`p-${day}`], day, foundMg: 0.4, unspikedMgPerKg: 1000, portionG: 0.2 },
          ...{ addedMg: 0.2, addedStandardUncertaintyMg: 0.0002 },
        })),
        { ...about, stage: 'before fusion', criterion: criterion('within', 105, '%', 95) },
      ).finding,
  ],
  [
    'second-source standard, beside the uncertainty of the stock',
    () =>
      secondSourceStandard(
        ['a', 'b', 'c'].map((run) => ({ key: run, run, value: 10 })),
        {
          ...{ ...about, criterion: percent, standard: 'S-2', prepared: 10 },
          ...{ preparedStandardUncertainty: 0.02, stockStandardUncertainty: 0.02 },
        },
      ).finding,
  ],
  ['ruggedness', () => ruggedness(settled, { ...about, criterion: percent, spread: null }).finding],
];

describe('results without any scatter', () => {
  it.each(findings)('show nothing: %s', (_, find) => {
    const finding = find();
    expect(finding.verdict).toBe('not shown');
    expect(finding.reason).toContain('do not scatter at all: their values are cut or rounded');
  });

  it('leave the other figure as it is: days that differ show intermediate precision', () => {
    expect(equalDays([10, 10.1, 10, 9.9, 10]).intermediatePrecision.verdict).toBe('met');
    expect(controls(valuesWith(200, 2, 12)).precision.verdict).toBe('met');
  });

  it('give no limit of detection, with the reason', () => {
    const { spread } = procedureBlank(
      [0, 1, 2, 3, 4, 5].map((i) => ({ key: `${i}`, run: `${i % 3}`, value: 0 })),
      { ...about, criterion: null, subtracted: 'over all runs' },
    );
    for (const correctionStandardUncertainty of [0, 0.5]) {
      const found = detectionLimits(spread!, {
        ...{ digestionsPerResult: 1, blanksPerResult: 6, correctionStandardUncertainty },
      });
      expect(found).toMatchObject({ decisionLimit: null, detectionLimit: null, detectionLimits95: null });
      expect(found.missing).toContain('The blanks do not scatter at all');
    }
  });

  it('give no limit by any approach: standards on the line, blank readings all equal', () => {
    const found = detectionApproaches({
      fromBlanks: null,
      calibration: { massFraction: [0, 1, 2, 3], signal: [0, 2, 4, 6] },
      background: [5, 5, 5],
      ...{ lowSpikes: [], methodBlanks: [], readings: 2, solidPerUnit: 500, planned: 'calibration' },
    });
    const flat = found.filter(({ missing }) => missing?.includes('do not scatter at all'));
    expect(flat.map(({ name }) => name)).toEqual([
      'calibration',
      'prediction bands',
      'calibration method',
      'background of the spectrometer',
    ]);
    for (const { decisionLimit, detectionLimit, quantificationLimit } of flat)
      expect([decisionLimit, detectionLimit, quantificationLimit]).toEqual([null, null, null]);
  });
});
