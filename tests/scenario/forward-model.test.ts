import { describe, expect, it } from 'vitest';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { plainResults } from './plain-inversion.js';

const seeds = [71, 72, 73, 74, 75, 76];
const studies = seeds.map((seed) => {
  const { records, truth } = zirconPigmentStudy({ seed });
  return { records, truth, results: plainResults(records) };
});

const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;

/** Mean relative error of the results of one sample, by study. */
function relativeErrors(sample: string, analyte: string, lineNm: number): number[] {
  return studies.map(({ truth, results }) => {
    const found = results.filter(
      (r) => r.sample === sample && r.analyte === analyte && r.lineNm === lineNm && r.kind !== 'spike',
    );
    return (
      mean(found.map((r) => r.massFraction)) / truth.massFractions[sample]![analyte as 'Zr'].reported - 1
    );
  });
}

describe('the way from truth to records', () => {
  it('leads back to the truth on every line but that of the planted overlap', () => {
    const { plan } = studies[0]!.records;
    for (const { analyte, lineNm, secondLineNm } of plan.analytes) {
      for (const nm of [lineNm, ...(secondLineNm === undefined ? [] : [secondLineNm])]) {
        if (nm === 396.152) continue;
        for (const sample of ['ZP-1', 'ZP-2', 'ZP-3', 'QRM-1', 'QRM-2']) {
          const errors = relativeErrors(sample, analyte, nm);
          // A study's mean has a relative standard uncertainty of 0.3 to 0.6 %, most of it common to its samples.
          expect(Math.abs(mean(errors)), `${analyte} ${nm} ${sample}`).toBeLessThan(0.009);
          expect(Math.max(...errors.map(Math.abs)), `${analyte} ${nm} ${sample}`).toBeLessThan(0.02);
        }
      }
    }
  });

  it('shows the overlap of zirconium on aluminium in full', () => {
    for (const sample of ['ZP-1', 'ZP-2', 'ZP-3', 'QRM-1', 'QRM-2']) {
      const { Zr, Al } = studies[0]!.truth.massFractions[sample]!;
      const feigned = (5e-4 * Zr.elementMgPerKg) / Al.elementMgPerKg;
      expect(Math.abs(mean(relativeErrors(sample, 'Al', 396.152)) - feigned)).toBeLessThan(0.009);
    }
  });

  it('loses the results of a sample with native scandium by its share', () => {
    const ratio = mean(relativeErrors('ZP-4', 'Zr', 343.823));
    // Zirconium is read in the 20-fold dilution, the native part diluted with it; praseodymium is not.
    expect(Math.abs(ratio)).toBeLessThan(0.008);
    const direct = ['Pr', 'Hf', 'Ti', 'Fe'].map((analyte) => {
      const { lineNm } = studies[0]!.records.plan.analytes.find((a) => a.analyte === analyte)!;
      return mean(relativeErrors('ZP-4', analyte, lineNm));
    });
    expect(mean(direct) - ratio).toBeLessThan(-0.001);
  });

  it('lets the shared variation of a digestion exceed the independent part', () => {
    const components = studies.map(({ results, records }) => {
      const deviation = (analyte: string) => {
        const { lineNm } = records.plan.analytes.find((a) => a.analyte === analyte)!;
        const own = results.filter(
          (r) => r.analyte === analyte && r.lineNm === lineNm && r.kind === 'sample',
        );
        return ['ZP-1', 'ZP-2', 'ZP-3'].flatMap((sample) => {
          const values = own.filter((r) => r.sample === sample).map((r) => r.massFraction);
          return values.map((v) => v / mean(values) - 1);
        });
      };
      const [pr, ti] = [deviation('Pr'), deviation('Ti')];
      return {
        covariance: mean(pr.map((v, i) => v * ti[i]!)),
        variance: mean([...pr, ...ti].map((v) => v * v)),
      };
    });
    const shared = mean(components.map((c) => c.covariance));
    const all = mean(components.map((c) => c.variance));
    expect(shared / all).toBeGreaterThan(0.4);
  });

  it('lowers silicon of kept solutions after 48 h only', () => {
    const change = studies.map(({ records }) => {
      const [digestion] = records.plan.stability!.digestions;
      const solution = digestion!.replace('D-', 'V-');
      const runs = [...new Set(records.readings.filter((r) => r.solution === solution).map((r) => r.run))];
      // Silicon against zirconium of the same readings, and that against the check solution of the run.
      const ratio = (run: string, name: string, lineNm: number) =>
        mean(
          records.readings
            .filter((r) => r.run === run && r.solution === name && r.lineNm === lineNm)
            .map((r) => r.intensity / r.internalStandardIntensity!),
        );
      const relative = (run: string) =>
        ratio(run, solution, 251.611) /
        ratio(run, solution, 343.823) /
        (ratio(run, 'CHK', 251.611) / ratio(run, 'CHK', 343.823));
      return runs.map((run) => relative(run) / relative(runs[0]!) - 1);
    });
    const meanChange = [0, 1, 2, 3, 4].map((i) => mean(change.map((c) => c[i]!)));
    expect(Math.abs(meanChange[1]!)).toBeLessThan(0.01);
    expect(Math.abs(meanChange[2]!)).toBeLessThan(0.01);
    expect(Math.abs(meanChange[4]! + 0.048)).toBeLessThan(0.012);
  });

  it('keeps 1.5 % of the iron in the crucible for the memory blank', () => {
    const kept = studies.flatMap(({ truth, records }) => {
      const contents = new Map(truth.digestions.map((d) => [d.digestion, d]));
      return records.digestions.flatMap((d, i) => {
        if (d.sample !== 'memory blank') return [];
        const before = contents.get(records.digestions[i - 1]!.digestion)!;
        const blank = contents.get(d.digestion)!;
        const flux = truth.analytes.Fe.blankMgPerGFlux * blank.fluxG;
        const excess = (blank.contentMgPerKg.Fe * blank.solutionG) / 1000 - flux;
        return [excess / ((before.contentMgPerKg.Fe * before.solutionG) / 1000)];
      });
    });
    expect(kept.length).toBe(42);
    expect(Math.abs(mean(kept) - 0.0152)).toBeLessThan(0.0006);
  });
});
