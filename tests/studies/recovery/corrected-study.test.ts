import { describe, expect, it } from 'vitest';
import { correlatedResult } from '../../../src/chain/correlated-result.js';
import { resultModel } from '../../../src/chain/result-model.js';
import type { PlannedRecovery } from '../../../src/records/study.js';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { type EvaluatedStudy, evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { solidPerMg } from '../../../src/studies/matrix/matrix-context.js';
import { severalMaterialsStudy } from '../../../src/studies/matrix/several-materials-study.js';
import { recoveryStudy, truenessStudy } from '../../../src/studies/matrix/trueness-study.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';
import { studyCovariance } from '../../../src/studies/result-covariance/study-covariance.js';
import { streamContext } from '../../../src/studies/result-stream/stream-context.js';
import { routineResults } from '../../../src/studies/routine-results/routine-results.js';
import {
  correlationOf,
  covarianceOf,
  effectiveDegreesOfFreedomOf,
  standardUncertaintyOf,
} from '../../../src/uncertainty/correlated-results/correlated-result.js';
import { propagate } from '../../../src/uncertainty/propagate.js';

const { records } = zirconPigmentStudy({ seed: 77 });
const withRecovery = (recovery: readonly PlannedRecovery[], of: StudyRecords = records): StudyRecords => ({
  ...of,
  plan: { ...of.plan, recovery },
});
const fromMaterial: PlannedRecovery = {
  ...{ analyte: 'Ti', from: 'reference materials', materials: ['QRM-1'], correct: 'always' },
};
const fromAdditions: PlannedRecovery = { analyte: 'Fe', from: 'additions before fusion', correct: 'always' };
const asked = [fromMaterial, fromAdditions];

const before = evaluateStudy(records);
const study = evaluateStudy(withRecovery(asked));
const recovery = (analyte: string) => study.index.recoveries!.get(analyte)!;
const values = (of: EvaluatedStudy, analyte: string) =>
  of.results.filter((r) => r.analyte === analyte && r.value !== null).map((r) => r.value!);

describe('a study corrected for recovery', () => {
  it('divides the results of the analytes that the plan names, and no others', () => {
    for (const analyte of ['Ti', 'Fe']) {
      values(study, analyte).forEach((value, i) => {
        expect(value).toAgreeWithin(values(before, analyte)[i]! / recovery(analyte).mean, 1e-12);
      });
    }
    expect(values(study, 'Zr')).toEqual(values(before, 'Zr'));
    expect(before.index.recoveries).toBeUndefined();
    expect(solidPerMg(study, 'Ti')).toAgreeWithin(solidPerMg(before, 'Ti') / recovery('Ti').mean, 1e-12);
  });

  it('has the mean over days of found against certified, and of the additions as their own finding has it', () => {
    const trueness = truenessStudy(before).find(
      (t) => t.finding.analyte === 'Ti' && t.certified.material === 'QRM-1',
    )!;
    expect(recovery('Ti').mean).toAgreeWithin(1 + trueness.bias / trueness.certified.value, 1e-12);
    const spikes = recoveryStudy(before).find(
      (r) => r.finding.analyte === 'Fe' && r.finding.characteristic === 'recovery before fusion',
    )!;
    expect(recovery('Fe').mean).toAgreeWithin(spikes.overDays.mean, 1e-10);
    expect(recovery('Fe').standardUncertainty).toAgreeWithin(spikes.standardUncertainty, 1e-9);
    expect(recovery('Fe').degreesOfFreedom).toAgreeWithin(spikes.degreesOfFreedom, 1e-8);
  });

  it('carries R into the covariance of all results of the analyte, on both routes', () => {
    for (const route of ['components', 'precision'] as const) {
      const [plain, corrected] = [before, study].map((of) => {
        const covariance = studyCovariance(of, route);
        const first = of.results.find((r) => r.analyte === 'Fe' && r.sample === 'ZP-2')!;
        const other = of.results.find(
          (r) => r.analyte === 'Fe' && r.sample === 'ZP-3' && r.day !== first.day,
        )!;
        return [covariance.resultOf(first), covariance.resultOf(other)] as const;
      });
      const { mean, standardUncertainty } = recovery('Fe');
      const own = corrected![0].estimate * corrected![1].estimate * (standardUncertainty / mean) ** 2;
      // Stock, match and retained part are in both, but cancel against R, whose own part takes their place.
      expect(covarianceOf(...corrected!)).toBeGreaterThan(own);
      expect(correlationOf(...corrected!)).toBeGreaterThan(correlationOf(...plain!));
    }
  });
});

describe('recoveries of several analytes from the same digestions', () => {
  const analytes = ['Zr', 'Si', 'Hf'];
  const both = evaluateStudy(withRecovery(analytes.map((analyte) => ({ ...fromMaterial, analyte }))));
  const components = { route: 'components', unexplained: null } as const;
  const own = analytes.map((analyte) => {
    const { observation } = both.results.find((r) => r.analyte === analyte && r.sample === 'ZP-2')!;
    const model = resultModel(observation, components);
    const [output] = propagate(model.model, model.inputs, model.correlations).outputs;
    return { output: output!, correlated: correlatedResult(observation, model) };
  });
  const through = (i: number, j: number) =>
    [...own[i]!.correlated.parts].reduce(
      (sum, [key, part]) =>
        key.startsWith('scatter of recoveries')
          ? sum + part.value * (own[j]!.correlated.parts.get(key)?.value ?? 0)
          : sum,
      0,
    );

  it('scatter together from day to day, and results corrected by them know it', () => {
    // One digestion of QRM-1 a day: R of each day over the days.
    const byDay = analytes.map((analyte) =>
      before.results
        .filter((r) => r.analyte === analyte && r.sample === 'QRM-1')
        .sort((a, b) => (a.day < b.day ? -1 : 1))
        .map(
          (r) =>
            r.value! /
            before.index.records.references.find((c) => c.material === 'QRM-1' && c.analyte === analyte)!
              .value,
        ),
    );
    const mean = byDay.map((r) => r.reduce((a, b) => a + b, 0) / r.length);
    for (const [i, j] of [
      [0, 0],
      [0, 1],
      [0, 2],
      [1, 2],
    ] as const) {
      const d = byDay[i]!.length;
      const covariance =
        byDay[i]!.reduce((sum, r, k) => sum + (r - mean[i]!) * (byDay[j]![k]! - mean[j]!), 0) / ((d - 1) * d);
      const [a, b] = [own[i]!.output.estimate / mean[i]!, own[j]!.output.estimate / mean[j]!];
      expect(through(i, j)).toAgreeWithin(a * b * covariance, 1e-8);
    }
  });

  it('leave each single uncertainty and its degrees of freedom as the budget has them', () => {
    for (const { output, correlated } of own) {
      expect(standardUncertaintyOf(correlated)).toAgreeWithin(output.standardUncertainty, 1e-12);
      expect(effectiveDegreesOfFreedomOf(correlated)).toAgreeWithin(output.effectiveDegreesOfFreedom, 1e-9);
    }
  });
});

describe('records that gave a recovery', () => {
  it('do not prove trueness as well: another material does', () => {
    const of = (material: string) =>
      truenessStudy(study).find((t) => t.finding.analyte === 'Ti' && t.certified.material === material)!;
    expect(of('QRM-1').finding.verdict).toBe('not shown');
    expect(of('QRM-1').finding.reason).toContain(
      "was taken from this material's own results, and all results are corrected by it: they cannot prove trueness as well.",
    );
    expect(of('QRM-1').bias / of('QRM-1').certified.value).toBeLessThan(1e-12);
    expect(of('QRM-2').finding.verdict).toBe('met');
    const kept = severalMaterialsStudy(study, [of('QRM-1'), of('QRM-1'), of('QRM-1')]);
    expect(kept.some((each) => each.analyte === 'Ti')).toBe(false);
  });

  it('say in the finding on additions that it is about the recovery before the correction', () => {
    const notes = (analyte: string) =>
      recoveryStudy(study)
        .filter((r) => r.finding.analyte === analyte && r.finding.characteristic === 'recovery before fusion')
        .flatMap((r) => r.finding.notes);
    expect(notes('Fe').join(' ')).toMatch(
      /Results of Fe are divided by the recovery [\d.]+ from these additions\. What is judged here is the recovery before that correction; nothing independent shows the recovery after it\./,
    );
    expect(notes('Al').join(' ')).not.toContain('divided by');
  });

  it('stay as they were judged where the recovery is not significant, which is noted', () => {
    const careful = evaluateStudy(
      withRecovery([{ ...fromMaterial, analyte: 'Zr', correct: 'where significant' }]),
    );
    const found = careful.index.recoveries!.get('Zr')!;
    expect(found.applied).toBe(found.significance.t > found.significance.criticalValue);
    expect(found.applied).toBe(false);
    expect(values(careful, 'Zr')).toEqual(values(before, 'Zr'));
    const verdict = (of: EvaluatedStudy) =>
      truenessStudy(of).find((t) => t.finding.analyte === 'Zr' && t.certified.material === 'QRM-1')!.finding;
    expect(verdict(careful).verdict).toBe(verdict(before).verdict);
    expect(verdict(careful).notes.join(' ')).toContain('does not differ significantly from 1');
  });
});

describe('a recovery is refused', () => {
  it('where materials disagree on it: an overlap is no loss', () => {
    // Aluminium suffers from the overlap of zirconium, which weighs more where there is less aluminium.
    const overlap = { ...fromMaterial, analyte: 'Al', materials: ['QRM-1', 'QRM-2'] };
    expect(() => evaluateStudy(withRecovery([overlap]))).toThrow(
      /^recovery of Al: found [\d.]+ \(u = [\d.]+, certificate .*\) and [\d.]+ .*, expected one recovery at all contents/,
    );
  });

  it('in runs evaluated one after the other', () => {
    expect(() => streamContext(withRecovery(asked))).toThrow(
      'study zircon-pigment: found "recovery" in its plan, which is taken from results of several runs',
    );
  });
});

describe('a routine run after a validation with recovery', () => {
  const validation = validateMatrix(withRecovery(asked));
  const { records: run } = zirconRoutineRun(77);

  it('is corrected by what the validation found', () => {
    const plain = routineResults(run, validateMatrix(records));
    const corrected = routineResults(withRecovery(asked, run), validation);
    for (const analyte of ['Ti', 'Fe', 'Zr']) {
      const of = (results: typeof plain) =>
        results.results.find((r) => r.sample === 'RS-05' && r.analyte === analyte)!;
      const factor = analyte === 'Zr' ? 1 : recovery(analyte).mean;
      expect(of(corrected).value!).toAgreeWithin(of(plain).value! / factor, 1e-12);
    }
  });

  it('is refused where its plan states another rule', () => {
    expect(() => routineResults(run, validation)).toThrow(
      'study zircon-routine: found "recovery" for no analyte, expected the same rule as the validation has, for Ti (reference materials, always), Fe (additions before fusion, always)',
    );
  });
});
