import { describe, expect, it } from 'vitest';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import {
  type DigestionResult,
  type EvaluatedStudy,
  evaluateStudy,
} from '../../../src/studies/evaluate-study.js';
import { type LevelRows, nestedLevels } from '../../../src/studies/result-covariance/nested-levels.js';
import { scatterOfResults } from '../../../src/studies/result-covariance/scatter-of-results.js';
import { studyCovariance } from '../../../src/studies/result-covariance/study-covariance.js';
import { standardUncertaintyOf } from '../../../src/uncertainty/correlated-results/correlated-result.js';
import { randomStream } from '../../../src/uncertainty/random-stream.js';

const study = evaluateStudy(zirconPigmentStudy({ seed: 11 }).records);
const lowest = study.index.records.plan.levels[0]!.sample;

function withResults(change: (result: DigestionResult) => DigestionResult[]): EvaluatedStudy {
  return { ...study, results: study.results.flatMap(change) };
}

function scatterOf(of: EvaluatedStudy, analyte: string) {
  const scatter = scatterOfResults(nestedLevels(of));
  const at = scatter.analytes.indexOf(analyte);
  return {
    digestions: scatter.digestions[at]![at]!,
    days: scatter.days[at]![at]!,
    nuDigestions: scatter.degreesOfFreedomDigestions[at]!,
    nuDays: scatter.degreesOfFreedomDays[at]!,
  };
}

describe('levels that a scatter is taken from', () => {
  it('leave out a level with less of the analyte than is to be reported, for that analyte alone', () => {
    // Still scattering by some 10 mg/kg, but about 1 mg/kg.
    const nearZero = withResults((r) =>
      r.sample === lowest && r.analyte === 'Ca' ? [{ ...r, value: r.value! - 489 }] : [r],
    );
    const without = withResults((r) => (r.sample === lowest && r.analyte === 'Ca' ? [] : [r]));
    expect(scatterOf(nearZero, 'Ca')).toEqual(scatterOf(without, 'Ca'));
    expect(scatterOf(nearZero, 'Zr')).toEqual(scatterOf(study, 'Zr'));
    const sample = study.results.find(
      (r) => r.sample !== lowest && r.kind === 'sample' && r.analyte === 'Ca',
    )!;
    for (const route of ['components', 'precision'] as const) {
      const [u, before] = [nearZero, study].map((of) =>
        standardUncertaintyOf(studyCovariance(of, route).resultOf(sample)),
      );
      expect(u! / before!).toBeLessThan(1.3);
    }
  });

  it('take nothing from an analyte because another was not read', () => {
    const gaps = new Set([...new Set(study.results.map((r) => r.digestion))].filter((_, i) => i % 3 === 0));
    const some = withResults((r) => (r.analyte === 'Ca' && gaps.has(r.digestion) ? [] : [r]));
    expect(scatterOf(some, 'Zr')).toEqual(scatterOf(study, 'Zr'));
    expect(scatterOf(some, 'Ca').nuDigestions).toBeLessThan(scatterOf(study, 'Ca').nuDigestions);
    const none = withResults((r) => (r.analyte === 'Ca' ? [] : [r]));
    expect(nestedLevels(none).analytes).not.toContain('Ca');
    expect(scatterOf(none, 'Zr')).toEqual(scatterOf(study, 'Zr'));
  });

  it('do not depend on the order of rows', () => {
    const reversed = { ...study, results: [...study.results].reverse() };
    const result = study.results.find((r) => r.kind === 'sample' && r.analyte === 'Ca')!;
    const [u, again] = [study, reversed].map((of) =>
      standardUncertaintyOf(studyCovariance(of, 'components').resultOf(result)),
    );
    expect(again).toAgreeWithin(u!, 1e-9);
  });
});

describe('scatter of days', () => {
  it('is zero on average where there is none, whatever the number of digestions a day', () => {
    const trials = 4000;
    // Ten days each: nine with one digestion and one with two; ten with three.
    const designs = [[2, ...new Array<number>(9).fill(1)], new Array<number>(10).fill(3)];
    const found = Array.from({ length: trials }, (_, trial) => {
      const stream = randomStream(5, 'days', trial);
      const levels = designs.map((sizes, l): LevelRows => {
        const days = sizes.map((n, d): [string, DigestionResult[][]] => [
          `day ${d}`,
          Array.from({ length: n }, () => [{ value: 1 + 0.01 * stream.normal() } as DigestionResult]),
        ]);
        return { level: `${l}`, centres: [1], days: new Map(days), pairs: [[0, 0]] };
      });
      return scatterOfResults({ analytes: ['Zr'], levels }).days[0]![0]! / 0.01 ** 2;
    });
    const mean = found.reduce((a, b) => a + b, 0) / trials;
    const s = Math.sqrt(found.reduce((a, b) => a + (b - mean) ** 2, 0) / (trials - 1));
    expect(Math.abs(mean)).toBeLessThan((3 * s) / Math.sqrt(trials));
  });
});

describe('the precision route below the lowest level', () => {
  it('keeps the scatter of that level: a blank does not shrink with the content', () => {
    const { resultOf, scatter } = studyCovariance(study, 'precision');
    const at = scatter.analytes.indexOf('Ca');
    const sample = study.results.find((r) => r.kind === 'sample' && r.analyte === 'Ca')!;
    const [signal, ...others] = sample.observation.signals;
    const empty = { ...signal!, meanRatio: signal!.calibration.intercept };
    const next = { ...sample, observation: { ...sample.observation, signals: [empty, ...others] } };
    const observed = Math.sqrt(scatter.digestions[at]![at]!) * scatter.lowest[at]!;
    expect(standardUncertaintyOf(resultOf(next))).toBeGreaterThan(0.99 * observed);
  });
});
