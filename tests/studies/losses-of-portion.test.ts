import { describe, expect, it } from 'vitest';
import type { SolidState } from '../../src/chain/mass-on-basis.js';
import { resultModel } from '../../src/chain/result-model.js';
import type { StudyRecords } from '../../src/records/study-records.js';
import type { MoistureRecord } from '../../src/records/tables/moisture.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { evaluateStudy } from '../../src/studies/evaluate-study.js';
import { propagate } from '../../src/uncertainty/propagate.js';

const { records } = zirconPigmentStudy({ seed: 4 });

/** Every sample loses 0.4 g/100 g (u = 0.05) on drying and then 5 g/100 g (u = 0.3) on ignition. */
const samples = [...new Set(records.digestions.flatMap((d) => (d.kind === 'blank' ? [] : [d.sample])))];
const row = (sample: string, basis: MoistureRecord['basis'], loss: number, u: number): MoistureRecord => ({
  sample,
  basis,
  lossGPer100G: loss,
  standardUncertaintyGPer100G: u,
});
const drying = samples.map((sample) => row(sample, 'as received to dry', 0.4, 0.05));
const ignition = samples.map((sample) => row(sample, 'dry to ignited', 5, 0.3));

const studyOf = (
  weighed: SolidState,
  reported: SolidState,
  moisture: readonly MoistureRecord[] = [...drying, ...ignition],
): StudyRecords => ({
  ...records,
  moisture,
  plan: { ...records.plan, portionsWeighed: weighed, basis: reported },
});
const digestion = records.digestions.find((d) => d.sample === 'ZP-1')!.digestion;
const zirconOf = (study: StudyRecords) => {
  const { value, observation } = evaluateStudy(study).results.find(
    (r) => r.digestion === digestion && r.analyte === 'Zr',
  )!;
  const { model, inputs, correlations } = resultModel(observation, {
    route: 'components',
    unexplained: null,
  });
  const { standardUncertainty } = propagate(model, inputs, correlations).outputs[0]!;
  return { value: value!, u: standardUncertainty };
};

describe('the basis of results', () => {
  const asWeighed = zirconOf(studyOf('dry', 'dry', []));

  // Content per content of the mass weighed, and the relative standard uncertainties 0.05/99.6 and 0.3/95 of what is left.
  it.each<[SolidState, SolidState, number, number]>([
    ['as received', 'as received', 1, 0],
    ['as received', 'dry', 1 / 0.996, 0.05 / 99.6],
    ['as received', 'ignited', 1 / 0.996 / 0.95, Math.hypot(0.05 / 99.6, 0.3 / 95)],
    ['dry', 'as received', 0.996, 0.05 / 99.6],
    ['dry', 'dry', 1, 0],
    ['dry', 'ignited', 1 / 0.95, 0.3 / 95],
    ['ignited', 'as received', 0.95 * 0.996, Math.hypot(0.05 / 99.6, 0.3 / 95)],
    ['ignited', 'dry', 0.95, 0.3 / 95],
    ['ignited', 'ignited', 1, 0],
  ])('brings portions weighed %s to contents %s', (weighed, reported, factor, relative) => {
    const found = zirconOf(studyOf(weighed, reported));
    expect(found.value).toAgreeWithin(asWeighed.value * factor, 1e-12);
    expect(found.u / found.value).toAgreeWithin(Math.hypot(asWeighed.u / asWeighed.value, relative), 1e-9);
  });

  it('is computed with a gain of 0.2 g/100 g on ignition', () => {
    const gain = samples.map((sample) => row(sample, 'dry to ignited', -0.2, 0.05));
    const found = zirconOf(studyOf('dry', 'ignited', gain));
    expect(found.value).toAgreeWithin(asWeighed.value / 1.002, 1e-12);
    expect(found.u / found.value).toAgreeWithin(
      Math.hypot(asWeighed.u / asWeighed.value, 0.05 / 100.2),
      1e-9,
    );
  });

  it('takes portions as weighed as received where the plan does not say', () => {
    const { portionsWeighed: _none, ...plan } = studyOf('dry', 'dry').plan;
    expect(zirconOf({ ...studyOf('dry', 'dry'), plan })).toEqual(zirconOf(studyOf('as received', 'dry')));
  });

  it.each<[SolidState, SolidState, readonly MoistureRecord[], string]>([
    ['as received', 'dry', ignition, 'as received to dry'],
    ['as received', 'ignited', ignition, 'as received to dry'],
    ['as received', 'ignited', drying, 'dry to ignited'],
    ['ignited', 'as received', ignition, 'as received to dry'],
  ])(
    'weighed %s and reported %s is refused without a loss that it needs',
    (weighed, reported, rows, step) => {
      expect(() => evaluateStudy(studyOf(weighed, reported, rows))).toThrow(
        new RegExp(
          `^digestion \\S+: found no loss "${step}" of \\S+, expected one in the table moisture, as portions are weighed ${weighed} and results are on the basis ${reported}$`,
        ),
      );
    },
  );

  it('is refused with a loss that is excluded', () => {
    const cause = { who: 'A. Example', when: '2026-03-20', technicalCause: 'oven failed' };
    const exclusions = [{ table: 'moisture', rowKey: 'ZP-1|as received to dry', ...cause }];
    expect(() => evaluateStudy({ ...studyOf('as received', 'dry'), exclusions })).toThrow(
      'found no loss "as received to dry" of ZP-1',
    );
  });
});
