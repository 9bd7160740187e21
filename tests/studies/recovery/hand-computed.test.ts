import { describe, expect, it } from 'vitest';
import { procedureBlank } from '../../../src/chain/blank.js';
import { type ResultObservation, resultModel, resultValue } from '../../../src/chain/result-model.js';
import type { UncorrectedResult } from '../../../src/studies/recovery/recovery-experiment.js';
import { studyRecoveries } from '../../../src/studies/recovery/study-recoveries.js';
import type { StudyIndex } from '../../../src/studies/study-index.js';
import {
  type CorrelatedResult,
  covarianceOf,
} from '../../../src/uncertainty/correlated-results/correlated-result.js';
import { propagate } from '../../../src/uncertainty/propagate.js';
import {
  blanks,
  column,
  columnFormula,
  correlatedOf,
  sharedCells,
  sharedCorrelations,
  twoDigestions,
} from '../../chain/hand-computed/blank-example.js';
import {
  type Cells,
  partsOf,
  spreadsheet,
  spreadsheetCovariance,
} from '../../chain/hand-computed/chain-example.js';
import { smallStudy } from '../../records/small-study.js';

/** Invented: a reference material of 150 mg/kg, U = 1.8 mg/kg (k = 2), digested once on each of four days. */
const ratios = [0.0237, 0.0233, 0.0236, 0.0234] as const;
const certified = 150;
const certifiedU = 1.8 / 2;

const blank = procedureBlank(blanks, 'per flux mass');
const [first, second] = twoDigestions(blank);

function referenceResult(day: number): UncorrectedResult {
  const digestion = `C-${day + 1}`;
  const signals = [{ ...first.signals[0]!, solution: digestion, meanRatio: ratios[day]! }];
  const observation: ResultObservation = { ...first, digestion, signals };
  const value = resultValue(observation);
  return {
    digestion,
    sample: 'RM-1',
    kind: 'reference',
    day: `2026-03-0${day + 2}`,
    analyte: 'Al',
    value,
    observation,
  };
}

/** Only what a recovery looks at: plan, certified values, additions. */
const index = (correct: 'always' | 'where significant') =>
  ({
    records: {
      plan: {
        ...smallStudy.plan,
        basis: 'dry',
        analytes: smallStudy.plan.analytes.map((a) => ({ ...a, unit: 'mg/kg' })),
        recovery: [{ analyte: 'Al', from: 'reference materials', materials: ['RM-1'], correct }],
      },
      references: [
        {
          ...{ material: 'RM-1', analyte: 'Al', value: certified, unit: 'mg/kg', expandedUncertainty: 1.8 },
          ...{
            coverageFactor: 2,
            certificate: 'C-77',
            minimumPortionG: 0.1,
            basis: 'dry',
            expiry: '2099-01-01',
          },
        },
      ],
      spikes: [],
    },
  }) as unknown as StudyIndex;

const recovery = studyRecoveries(index('always'), [0, 1, 2, 3].map(referenceResult)).get('Al')!;

// The blank by mass of flux: b_f = 0.006 509 mg/g, s = 0.000 2068 mg/g.
const perGram = blanks.map((b) => b.amountMg / b.fluxG);
const bF = perGram.reduce((a, b) => a + b, 0) / 4;
const sBlank = Math.sqrt(perGram.reduce((sum, b) => sum + (b - bF) ** 2, 0) / 3);
const blankMg = (flux: number) => (c: Record<string, number>) => (c.bF! * c.stock! + c.deviation!) * flux;

// c_i = (ratio/1.02 − 0.002)/0.05: 0.424 71, 0.416 86, 0.422 75, 0.418 82 mg/kg; n_i = c_i·100.104/1000/1.0005: 0.042 493, 0.041 709,
// 0.042 297, 0.041 905 mg; w_i = (n_i − 0.013 045)/0.200 022·1000: 147.227, 143.304, 146.246, 144.284 mg/kg; R_i = w_i/150.
const atEstimates = Object.fromEntries(
  Object.entries({ ...column(0), ...sharedCells, bF: [bF, 0], deviation: [0, 0] } as Cells).map(
    ([k, [x]]) => [k, x],
  ),
);
const recoveries = ratios.map(
  (ratio) => columnFormula(0, { ...atEstimates, ratio }, blankMg(2.004)) / certified,
);
const mean = recoveries.reduce((a, b) => a + b, 0) / 4; // 0.968 43
const uObserved = Math.sqrt(recoveries.reduce((sum, r) => sum + (r - mean) ** 2, 0) / 3) / 2; // s/√4 = 0.005 97
const uReference = mean * (certifiedU / certified); // 0.968 43·0.006 = 0.005 81
const u = Math.sqrt(uObserved ** 2 + uReference ** 2); // 0.008 33

/** Covariance through R itself: its scatter, in sources of its own, and the certified value. */
function recoveryPart(a: CorrelatedResult, b: CorrelatedResult): number {
  const keys = [...a.parts.keys()].filter(
    (k) => k.startsWith('R_Al@') || k.startsWith('scatter of recoveries'),
  );
  return keys.reduce((sum, k) => sum + a.parts.get(k)!.value * b.parts.get(k)!.value, 0);
}

describe('recovery from a reference material', () => {
  it('is the mean over days with the uncertainty of its scatter and of the certified value', () => {
    recoveries.forEach((r, i) => {
      expect(r).toRoundTo(['0.98151', '0.95536', '0.97497', '0.96190'][i]!);
    });
    expect(recovery.mean).toAgreeWithin(mean, 1e-12);
    expect(recovery.observedStandardUncertainty).toAgreeWithin(uObserved, 1e-10);
    expect(recovery.referenceStandardUncertainty).toAgreeWithin(uReference, 1e-12);
    expect(recovery.standardUncertainty).toAgreeWithin(u, 1e-10);
    // Welch–Satterthwaite: u⁴/(u_obs⁴/3).
    expect(recovery.degreesOfFreedom).toAgreeWithin((3 * u ** 4) / uObserved ** 4, 1e-9);
    expect(recovery.significance.t).toAgreeWithin((1 - mean) / u, 1e-9);
  });

  // ∂R/∂x·u(x)/R of everything that neither a digestion nor a run brings anew: stock, blank, balances.
  const { drift: _d, b0: _0, b1: _1, ...lastingCells } = sharedCells;
  const lasting: Cells = { ...lastingCells, bF: [bF, sBlank / 2] };
  const parts = partsOf({
    cells: lasting,
    formula: (c) =>
      ratios.reduce(
        (sum, ratio) =>
          sum + columnFormula(0, { ...atEstimates, ...c, ratio }, blankMg(2.004)) / certified / 4,
        0,
      ),
  });
  const effect = (name: string) => parts[name]! / mean;

  it('holds the errors of stock and blank that it shares with the results, others summed up', () => {
    const keys = recovery.factor.lasting.map((error) => error.key.split('@')[0]);
    // Those of at least a tenth of u(R)/R = 0.0086.
    expect(keys).toEqual(['std_Al_1000_Al', 'b_f_Al']);
    // w ∝ stock, blank included: exactly u(stock).
    expect(recovery.factor.lasting[0]!.effect).toAgreeWithin(0.0025, 1e-12);
    expect(recovery.factor.lasting[0]!.effect).toAgreeWithin(effect('stock'), 1e-9);
    expect(recovery.factor.lasting[1]!.effect).toAgreeWithin(effect('bF'), 1e-9); // −0.0071
    const rest = Object.keys(lastingCells).filter((name) => name !== 'stock');
    const further = Math.sqrt(rest.reduce((sum, name) => sum + effect(name) ** 2, 0));
    expect(recovery.factor.furtherLasting).toAgreeWithin(further, 1e-9);
  });

  const corrected = [first, second].map((o) => ({ ...o, basis: { ...o.basis, recovery: recovery.factor } }));
  const sheets = ([0, 1] as const).map((digestion) => ({
    cells: {
      ...column(digestion),
      ...sharedCells,
      bF: [bF, sBlank / 2],
      deviation: [0, sBlank],
      recovery: [mean, u],
      further: [0, recovery.factor.furtherLasting],
    } as Cells,
    formula: (c: Record<string, number>) => {
      const shared =
        effect('stock') * ((c.stock! - 1) / 0.0025) + effect('bF') * ((c.bF! - bF) / (sBlank / 2));
      const found = columnFormula(digestion, c, blankMg([2.004, 1.812][digestion]!));
      return found / (c.recovery! * (1 + c.further! + shared));
    },
  }));

  it('divides results, as a spreadsheet has it, the shared errors cancelling in part', () => {
    sheets.forEach(({ cells, formula }, i) => {
      const hand = spreadsheet(cells, formula, sharedCorrelations);
      const { model, inputs, correlations } = resultModel(corrected[i]!, {
        route: 'components',
        unexplained: null,
      });
      const output = propagate(model, inputs, correlations).outputs[0]!;
      expect(resultValue(corrected[i]!)).toAgreeWithin(hand.w, 1e-12);
      expect(output.estimate).toAgreeWithin(hand.w, 1e-12);
      expect(output.standardUncertainty).toAgreeWithin(hand.u, 1e-10);
      // Found and certified were measured with one stock: its certificate drops out, traceability runs through the material.
      const perStock = output.sensitivities.std_Al_1000_Al! / output.estimate;
      expect(Math.abs(perStock)).toBeLessThan(1e-11);
    });
  });

  it('is common to all results of the analyte: their covariance agrees with the spreadsheets', () => {
    const names = [...Object.keys(sharedCells), 'bF', 'recovery', 'further'];
    const hand = spreadsheetCovariance(sheets[0]!, sheets[1]!, names, sharedCorrelations);
    const [a, b] = corrected.map(correlatedOf);
    expect(covarianceOf(a!, b!)).toAgreeWithin(hand, 1e-10);
    // Its own part: w₁·w₂·(u(R)/R)².
    const own = resultValue(corrected[0]!) * resultValue(corrected[1]!) * (u / mean) ** 2;
    expect(recoveryPart(a!, b!)).toAgreeWithin(own, 1e-10);
  });

  it('is widened by what the experiment alone holds, where a result rests on another stock', () => {
    const stock = { name: 'Al-other', relativeStandardUncertainty: 0.0025, source: 'another certificate' };
    const other = { ...corrected[0]!, signals: [{ ...corrected[0]!.signals[0]!, stock }] };
    const { inputs } = resultModel(other, { route: 'components', unexplained: null });
    const uOf = (name: string) => inputs.find((i) => i.name === name)!.standardUncertainty;
    expect(uOf('d_R_Al')).toBe(recovery.factor.furtherLasting);
    expect(uOf('d_R_Al_1')).toAgreeWithin(0.0025, 1e-12);
    // By hand: the stock that was weighed out is exact for the covariance, that of the experiment stands in R.
    const formula = (c: Record<string, number>) =>
      columnFormula(0, { ...c, stock: 1 }, blankMg(2.004)) /
      (c.recovery! *
        (1 +
          c.further! +
          effect('stock') * ((c.stock! - 1) / 0.0025) +
          effect('bF') * ((c.bF! - bF) / (sBlank / 2))));
    const names = [...Object.keys(sharedCells), 'bF', 'recovery', 'further'];
    const hand = spreadsheetCovariance(
      { cells: sheets[0]!.cells, formula },
      sheets[1]!,
      names,
      sharedCorrelations,
    );
    expect(covarianceOf(correlatedOf(other), correlatedOf(corrected[1]!))).toAgreeWithin(hand, 1e-9);
  });
});

describe('a recovery applied only where it is significant', () => {
  it('leaves results as they are where it is not, with its uncertainty', () => {
    // With U = 20 mg/kg, t = 0.031 57/√(0.005 97² + 0.064 56²) = 0.49.
    const wide = index('where significant');
    const references = wide.records.references.map((r) => ({ ...r, expandedUncertainty: 20 }));
    const found = studyRecoveries(
      { ...wide, records: { ...wide.records, references } },
      [0, 1, 2, 3].map(referenceResult),
    ).get('Al')!;
    expect(found.significance.t).toRoundTo('0.49');
    expect(found.applied).toBe(false);
    expect(found.factor.estimate).toBe(1);
    const corrected = { ...first, basis: { ...first.basis, recovery: found.factor } };
    expect(resultValue(corrected)).toBe(resultValue(first));
    const own = correlatedOf(corrected);
    expect(Math.sqrt(recoveryPart(own, own))).toAgreeWithin(
      resultValue(first) * Math.hypot(uObserved, (mean * 10) / 150),
      1e-9,
    );
  });

  it('divides them where it is', () => {
    const found = studyRecoveries(index('where significant'), [0, 1, 2, 3].map(referenceResult)).get('Al')!;
    // t = (1 − 0.968 43)/0.008 33 = 3.79 against t(0.975; 11.38) = 2.19.
    expect(found.significance.t).toRoundTo('3.79');
    expect(found.significance.criticalValue).toRoundTo('2.19');
    expect(found.applied).toBe(true);
    expect(found.factor.estimate).toBe(found.mean);
  });

  it('is refused from one day, from no result and from a material whose certificate does not fit', () => {
    const one = [0, 1].map((day) => ({ ...referenceResult(day), day: '2026-03-02' }));
    expect(() => studyRecoveries(index('always'), one)).toThrow(
      'recovery of Al: found 2 result(s) of 1 day(s) that scatter by nothing, expected results of at least 2 days',
    );
    expect(() => studyRecoveries(index('always'), [])).toThrow(
      'recovery of Al: found no result from reference materials, expected results of at least 2 days',
    );
    const late = index('always');
    const references = late.records.references.map((r) => ({ ...r, basis: 'ignited' as const }));
    expect(() =>
      studyRecoveries({ ...late, records: { ...late.records, references } }, [0, 1].map(referenceResult)),
    ).toThrow('recovery of Al: RM-1 does not fit its use. The certified value is on the basis "ignited"');
  });
});
