import { describe, expect, it } from 'vitest';
import type { BlankScaling } from '../../src/chain/blank.js';
import type { Calibration } from '../../src/chain/calibration.js';
import { correlatedResult } from '../../src/chain/correlated-result.js';
import { resultModel } from '../../src/chain/result-model.js';
import { coefficientKey } from '../../src/chain/shared-quantity.js';
import { zirconPigmentStudy } from '../../src/scenario/zircon-pigment-study.js';
import { evaluateIndex } from '../../src/studies/evaluate-study.js';
import { measuredSolutions } from '../../src/studies/measured-solutions.js';
import { calibrationKey } from '../../src/studies/run-calibrations.js';
import { indexStudy } from '../../src/studies/study-index.js';
import { withoutExcludedRows } from '../../src/studies/without-excluded-rows.js';

const { records } = zirconPigmentStudy({ seed: 11 });
const used = withoutExcludedRows(records);

const indexOf = (scaling: BlankScaling) =>
  indexStudy({ ...used, plan: { ...used.plan, blank: { scaling } } }, measuredSolutions(used.readings));

/** Results with one calibration moved, blanks and samples worked out anew. */
function moved(
  index: ReturnType<typeof indexOf>,
  key: string,
  change: (c: Calibration) => Partial<Calibration>,
) {
  const calibrations = new Map(index.calibrations);
  const known = calibrations.get(key)!;
  calibrations.set(key, { ...known, ...change(known) });
  const { results } = evaluateIndex({ ...index, calibrations });
  return new Map(results.map((r) => [`${r.digestion}|${r.analyte}`, r.value]));
}

describe('an error of one run’s calibration, in the samples and the blanks read with it', () => {
  // Zr disturbs Hf: the calibration of one analyte reaches the results and blanks of another.
  it.each([
    ['per flux mass', 'Ca', 'Ca'],
    ['per digestion', 'Fe', 'Fe'],
    ['per flux mass and digestion', 'Ca', 'Ca'],
    ['per flux mass', 'Hf', 'Zr'],
  ] as const)(
    '%s, %s by the calibration of %s: each result of every run as recomputed',
    (scaling, analyte, by) => {
      const index = indexOf(scaling);
      const { lineNm } = index.scopes.get(by)!;
      const { results, blanks } = evaluateIndex(index);
      const runs = blanks.get(analyte)!.blank!.calibrations!.map(({ calibration }) => calibration.run);
      const run = [...new Set(runs)][1]!;
      const key = calibrationKey(run, by, lineNm);
      const line = index.calibrations.get(key)!;
      const [u0, u1] = [Math.sqrt(line.varianceIntercept), Math.sqrt(line.varianceSlope)];
      const up = {
        b0: moved(index, key, (c) => ({ intercept: c.intercept + u0 })),
        b1: moved(index, key, (c) => ({ slope: c.slope + u1 / 10 })),
      };
      const down = {
        b0: moved(index, key, (c) => ({ intercept: c.intercept - u0 })),
        b1: moved(index, key, (c) => ({ slope: c.slope - u1 / 10 })),
      };
      const rho = line.covariance / (u0 * u1);
      const names = [`b0_${by}`, `b1_${by}`].map((name) => coefficientKey(name, run, lineNm)).join(' & ');
      let [ofRun, ofOthers] = [0, 0];
      for (const { digestion, value, observation, ...result } of results) {
        if (result.analyte !== analyte || value === null) continue;
        const at = `${digestion}|${analyte}`;
        const byIntercept = (up.b0.get(at)! - down.b0.get(at)!) / 2;
        const bySlope = ((up.b1.get(at)! - down.b1.get(at)!) / 2) * 10;
        // Taken apart: the first part holds what the slope has in common with the intercept.
        const { parts } = correlatedResult(
          observation,
          resultModel(observation, { route: 'components', unexplained: null }),
        );
        const part = (k: number) => parts.get(`${names} #${k}`)?.value ?? 0;
        const scale = Math.abs(byIntercept) + Math.abs(bySlope);
        expect(Math.abs(part(1) - (byIntercept + rho * bySlope)) / scale).toBeLessThan(1e-6);
        expect(Math.abs(part(2) - Math.sqrt(1 - rho ** 2) * bySlope) / scale).toBeLessThan(1e-6);
        if (result.run === run) ofRun++;
        else ofOthers++;
      }
      expect(ofRun).toBeGreaterThan(3);
      expect(ofOthers).toBeGreaterThan(30);
    },
  );
});
