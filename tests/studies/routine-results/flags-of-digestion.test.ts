import { describe, expect, it } from 'vitest';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconRoutineRun } from '../../../src/scenario/routine/zircon-routine-run.js';
import { type EvaluatedStudy, evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { flagsOfDigestion } from '../../../src/studies/routine-results/flags-of-digestion.js';

const { records } = zirconRoutineRun(77);
const complete = { ...records, digestions: records.digestions.filter((d) => d.vesselEmptyG !== null) };
const { digestion } = records.digestions.find((d) => d.sample === 'RS-02')!;

const resultOf = (study: EvaluatedStudy, name: string, analyte: string) =>
  study.results.find((r) => r.digestion === name && r.analyte === analyte)!;
const flagsOf = (study: EvaluatedStudy, name: string, analyte: string) =>
  flagsOfDigestion(study, resultOf(study, name, analyte));

describe('the range of a calibration on ratios times the content of the internal standard', () => {
  // 1 g of a solution of 500 mg/kg in about 100 g: near the 5 mg/kg of the standards.
  const added: StudyRecords = {
    ...complete,
    digestions: complete.digestions.map((d) => ({ ...d, internalStandardG: 1 })),
    plan: {
      ...complete.plan,
      internalStandard: {
        ...complete.plan.internalStandard,
        mode: 'added to the digestion',
        solution: {
          massFractionMgPerKg: 500,
          relativeStandardUncertainty: 0,
          densityGPerML: 1,
          source: 'weighed',
        },
      },
    },
  };
  const study = evaluateStudy(added);
  const signal = resultOf(study, digestion, 'Fe').observation.signals[0]!;
  const row = added.digestions.find((d) => d.digestion === digestion)!;
  const solutionG = row.vesselWithSolutionAndCrucibleG - row.vesselEmptyG! - row.crucibleG;
  const content = (of: typeof signal) =>
    ((of.meanRatio * 500) / solutionG / of.drift.factor - of.calibration.intercept) / of.calibration.slope;
  const highest = Math.max(...signal.calibration.points.map((p) => p.content));
  const scaled = (factor: number) =>
    evaluateStudy({
      ...added,
      readings: added.readings.map((r) =>
        r.solution === digestion && r.analyte === 'Fe' ? { ...r, intensity: factor * r.intensity } : r,
      ),
    });

  it('is exceeded where the content is, and the flag names the content', () => {
    const above = scaled((1.5 * highest) / content(signal));
    const flag = flagsOf(above, digestion, 'Fe').find((f) => f.kind === 'beyond the calibrated range')!;
    const shown = Number(/: ([\d.]+) mg\/kg in the solution/.exec(flag.text)![1]);
    // Buoyancy of the internal standard and of the solution cancel but for 1e-4; four digits are shown.
    expect(shown).toAgreeWithin(content(resultOf(above, digestion, 'Fe').observation.signals[0]!), 1e-3);
  });

  it('is kept where the content is', () => {
    const below = scaled((0.9 * highest) / content(signal));
    expect(flagsOf(below, digestion, 'Fe').map((f) => f.kind)).not.toContain('beyond the calibrated range');
  });
});

describe('the range of what a result is corrected by, and of its second line', () => {
  const solutions = [
    digestion,
    ...complete.dilutions.filter((d) => d.digestion === digestion).map((d) => d.dilution),
  ];
  /** The readings of one line of one digestion, its dilutions included, times a number. */
  const scaled = (from: StudyRecords, analyte: string, lineNm: number, factor: number) =>
    evaluateStudy({
      ...from,
      readings: from.readings.map((r) =>
        solutions.includes(r.solution) && r.analyte === analyte && r.lineNm === lineNm
          ? { ...r, intensity: factor * r.intensity }
          : r,
      ),
    });
  const texts = (study: EvaluatedStudy, analyte: string) =>
    flagsOf(study, digestion, analyte).filter((f) => f.kind === 'beyond the calibrated range');

  it('holds hafnium where zirconium, which disturbs it, is read beyond its own range', () => {
    const { observation } = resultOf(evaluateStudy(complete), digestion, 'Hf');
    const zirconium = observation.signals.find((s) => s.analyte === 'Zr')!;
    const { intercept, slope, points } = zirconium.calibration;
    const highest = Math.max(...points.map((p) => p.content));
    const content = (zirconium.meanRatio / zirconium.drift.factor - intercept) / slope;
    expect(texts(evaluateStudy(complete), 'Hf')).toEqual([]);
    const [flag, ...more] = texts(scaled(complete, 'Zr', zirconium.lineNm, (1.2 * highest) / content), 'Hf');
    expect(more).toEqual([]);
    expect(flag!.holds).toBe(true);
    expect(flag!.text).toContain(`mg/kg Zr in the solution measured at ${zirconium.lineNm} nm`);
    expect(flag!.text).toMatch(
      new RegExp(`above the highest calibration solution of ${highest} mg/kg; Hf is corrected by it$`),
    );
  });

  it('holds a result made of two lines where the second alone is beyond its range, and names that line', () => {
    const analytes = complete.plan.analytes.map((scope) =>
      scope.analyte === 'Fe' ? { ...scope, secondLineShare: 0.35 } : scope,
    );
    const both = { ...complete, plan: { ...complete.plan, analytes } };
    const second = analytes.find((scope) => scope.analyte === 'Fe')!.secondLineNm!;
    const flags = texts(scaled(both, 'Fe', second, 1000), 'Fe');
    expect(flags).toHaveLength(1);
    expect(flags[0]!.text).toContain(`in the solution measured at ${second} nm, above`);
  });
});

describe('a charge that lost more in fusion than the others of the run', () => {
  // Each lost 10 mg, ±0.1 mg in turn; this one 13 mg.
  const melts = complete.digestions.map((d, i) => {
    const lossG = d.digestion === digestion ? 0.013 : 0.01 + 1e-4 * ((i % 3) - 1);
    return { ...d, crucibleWithMeltG: d.crucibleWithPortionG + d.fluxG - lossG };
  });
  const study = evaluateStudy({ ...complete, digestions: melts });
  const losses = (name: string) =>
    flagsOf(study, name, 'Zr').filter((f) => f.kind === 'loss in fusion outlying');

  it('is held, with its loss and that of the others', () => {
    const [flag, ...more] = losses(digestion);
    expect(more).toEqual([]);
    expect(flag!.holds).toBe(true);
    // 13 mg and 10 mg of about 2.2 g.
    expect(flag!.text).toMatch(
      new RegExp(
        `^${digestion}: 0\\.(58|59|60) % of portion and flux lost in fusion, the median of \\d+ fusions is 0\\.4[56] %$`,
      ),
    );
  });

  it('is held as well where its melt alone was not weighed', () => {
    const without = melts.map((d) => (d.digestion === digestion ? { ...d, crucibleWithMeltG: null } : d));
    const flags = flagsOf(evaluateStudy({ ...complete, digestions: without }), digestion, 'Zr');
    expect(flags.filter((f) => f.kind === 'melt not weighed')).toEqual([
      {
        kind: 'melt not weighed',
        text: `${digestion}: its melt was not weighed, those of ${melts.length - 1} among ${melts.length} digestions were; what it lost in fusion is not known`,
        holds: true,
      },
    ]);
    // Six spot checks make no rule.
    const few = melts.map((d, i) => (i < 6 ? d : { ...d, crucibleWithMeltG: null }));
    const kinds = flagsOf(evaluateStudy({ ...complete, digestions: few }), digestion, 'Zr').map(
      (f) => f.kind,
    );
    expect(kinds).not.toContain('melt not weighed');
  });

  it('leaves the others, and all of a run whose melts were not weighed', () => {
    const others = melts.filter((d) => d.kind === 'sample' && d.digestion !== digestion);
    for (const other of others.slice(0, 10)) expect(losses(other.digestion)).toEqual([]);
    expect(flagsOf(evaluateStudy(complete), digestion, 'Zr').map((f) => f.kind)).not.toContain(
      'loss in fusion outlying',
    );
  });
});

describe('an internal standard outside its limits', () => {
  it('holds the digestion whose solution it is, not one whose name is part of that name', () => {
    const own = complete.digestions.find((d) => d.sample === 'RS-09')!.digestion;
    const short = own.slice(0, -1);
    const renamed = (name: string) => (name === digestion ? short : name);
    expect(complete.digestions.map((d) => d.digestion)).not.toContain(short);
    const study = evaluateStudy({
      ...complete,
      digestions: complete.digestions.map((d) => ({ ...d, digestion: renamed(d.digestion) })),
      dilutions: complete.dilutions.map((d) => ({ ...d, digestion: renamed(d.digestion) })),
      readings: complete.readings.map((r) => ({
        ...r,
        solution: renamed(r.solution),
        internalStandardIntensity: (r.solution === own ? 0.8 : 1) * r.internalStandardIntensity!,
      })),
    });
    const kinds = (name: string) => flagsOf(study, name, 'Fe').map((f) => f.kind);
    expect(kinds(own)).toContain('internal standard outside its limits');
    expect(kinds(short)).not.toContain('internal standard outside its limits');
  });
});
