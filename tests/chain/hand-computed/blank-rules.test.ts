import { describe, expect, it } from 'vitest';
import { type Blank, type BlankAmount, blankMass, procedureBlank } from '../../../src/chain/blank.js';
import { takenAsExact } from '../../../src/chain/model-fragment.js';
import { type ResultObservation, resultModel, resultValue } from '../../../src/chain/result-model.js';
import { covarianceOf } from '../../../src/uncertainty/correlated-results/correlated-result.js';
import { propagate } from '../../../src/uncertainty/propagate.js';
import {
  blanks,
  column,
  columnFormula,
  correlatedOf,
  sharedCells,
  sharedCorrelations,
  twoDigestions,
} from './blank-example.js';
import { type Cells, calibration, spreadsheet, spreadsheetCovariance } from './chain-example.js';

const outputOf = (o: ResultObservation) => {
  const { model, inputs, correlations } = resultModel(o, { route: 'components', unexplained: null });
  return propagate(model, inputs, correlations).outputs[0]!;
};

interface Rule {
  readonly blank: Blank;
  /** Cells of the blank that both digestions share, and the one that each has for itself. */
  readonly shared: Cells;
  readonly own: Cells;
  readonly correlated: readonly (readonly [string, string, number])[];
  /** m_bl, mg, of a digestion with `flux` g of flux. */
  readonly blankMg: (c: Record<string, number>, flux: number) => number;
}

/** Both digestions alone, then their covariance, against the spreadsheet. */
function expectSpreadsheet({ blank, shared, own, correlated, blankMg }: Rule): { covariance: number } {
  const observed = twoDigestions(blank);
  const links = [...sharedCorrelations, ...correlated];
  const sheets = ([0, 1] as const).map((digestion) => {
    const flux = [2.004, 1.812][digestion]!;
    const cells = { ...column(digestion), ...own, ...sharedCells, ...shared };
    const formula = (c: Record<string, number>) => columnFormula(digestion, c, (b) => blankMg(b, flux));
    return { cells, formula };
  });
  sheets.forEach(({ cells, formula }, i) => {
    const hand = spreadsheet(cells, formula, links);
    const output = outputOf(observed[i]!);
    expect(resultValue(observed[i]!)).toAgreeWithin(hand.w, 1e-12);
    expect(output.estimate).toAgreeWithin(hand.w, 1e-12);
    expect(output.standardUncertainty).toAgreeWithin(hand.u, 1e-10);
  });
  const [first, second] = observed.map(correlatedOf);
  const covariance = covarianceOf(first!, second!);
  const names = Object.keys({ ...sharedCells, ...shared });
  expect(covariance).toAgreeWithin(spreadsheetCovariance(sheets[0]!, sheets[1]!, names, links), 1e-10);
  return { covariance };
}

describe('blank by mass of flux', () => {
  // b_i = n_i/m_flux,i
  const ratios = [0.0105 / 1.6, 0.0128 / 1.9, 0.0131 / 2.1, 0.0156 / 2.4] as const; // 0.006 5625, 0.006 7368, 0.006 2381, 0.006 5 mg/g
  const mean = (ratios[0] + ratios[1] + ratios[2] + ratios[3]) / 4; // 0.006 509 mg/g
  const s = Math.sqrt(ratios.reduce((sum, b) => sum + (b - mean) ** 2, 0) / 3); // 0.000 2068 mg/g
  const rule: Rule = {
    blank: procedureBlank(blanks, 'per flux mass'),
    shared: { bF: [mean, s / 2] }, // s/√4
    own: { deviation: [0, s] },
    correlated: [],
    // m_bl = (b_f·stock + d_b)·m_flux: the blanks were measured with the same stock as the samples.
    blankMg: (c, flux) => (c.bF! * c.stock! + c.deviation!) * flux,
  };

  it('is the mean of the amounts by mass of flux', () => {
    expect(rule.blank).toMatchObject({ scaling: 'per flux mass', n: 4 });
    expect(blankMass(rule.blank, 2.004, null)).toAgreeWithin(mean * 2.004, 1e-14); // 0.013 045 mg
    expect(rule.blank.standardDeviation).toAgreeWithin(s, 1e-12);
  });

  it('agrees with a spreadsheet for two digestions and for what they share', () => {
    const { covariance } = expectSpreadsheet(rule);
    // What the shared mean blank does: (∂w₁/∂b_f)·(∂w₂/∂b_f)·u(b_f)², with ∂w/∂b_f = −m_flux/m_p·1000.
    const toMass = (1 - 1.2 / 8000) / (1 - 1.2 / 4600);
    const slopes = [(2.004 / (0.2 * toMass)) * 1000, (1.812 / (0.21 * toMass)) * 1000] as const; // 10 018.9 and 8627.6
    const shared = (slopes[0] * slopes[1] * s ** 2) / 4; // 0.924 mg²/kg²
    const [first, second] = twoDigestions({ ...rule.blank, standardDeviation: 0 }).map(correlatedOf);
    expect(covariance - covarianceOf(first!, second!)).toAgreeWithin(shared, 1e-9);
  });
});

describe('blank by digestion', () => {
  const mean = (0.0105 + 0.0128 + 0.0131 + 0.0156) / 4; // 0.0130 mg
  const s = Math.sqrt(
    ((0.0105 - 0.013) ** 2 + (0.0128 - 0.013) ** 2 + (0.0131 - 0.013) ** 2 + (0.0156 - 0.013) ** 2) / 3,
  ); // √(1.306e-5/3) = 0.002 086 mg
  const rule: Rule = {
    blank: procedureBlank(blanks, 'per digestion'),
    shared: { b0Blank: [mean, s / 2] },
    own: { deviation: [0, s] },
    correlated: [],
    blankMg: (c) => c.b0Blank! * c.stock! + c.deviation!,
  };

  it('is the mean of the amounts', () => {
    expect(rule.blank).toMatchObject({ scaling: 'per digestion', n: 4 });
    expect(blankMass(rule.blank, 2.004, null)).toAgreeWithin(0.013, 1e-14);
    expect(rule.blank.standardDeviation).toAgreeWithin(s, 1e-12);
  });

  it('agrees with a spreadsheet for two digestions and for what they share', () => {
    expectSpreadsheet(rule);
  });

  it('leaves the mass of flux without effect', () => {
    const [first] = twoDigestions(rule.blank);
    expect(resultValue({ ...first, fluxG: 3 })).toBe(resultValue(first));
  });
});

describe('blank by mass of flux and digestion', () => {
  // Least squares by hand: mean flux (1.6 + 1.9 + 2.1 + 2.4)/4 = 2.0 g, mean amount 0.0130 mg.
  const sumOfSquares = 0.4 ** 2 + 0.1 ** 2 + 0.1 ** 2 + 0.4 ** 2; // Σ(m_flux − 2)² = 0.34 g²
  const sumOfProducts = -0.4 * -0.0025 + -0.1 * -0.0002 + 0.1 * 0.0001 + 0.4 * 0.0026; // Σ(m_flux − 2)(n − 0.013) = 0.002 07 mg·g
  const perFlux = sumOfProducts / sumOfSquares; // b_f = 0.006 088 mg/g
  const perDigestion = 0.013 - perFlux * 2; // b_0 = 0.000 8235 mg
  const residuals = [
    0.0105 - perDigestion - perFlux * 1.6, // −0.000 0647 mg
    0.0128 - perDigestion - perFlux * 1.9, // +0.000 4088 mg
    0.0131 - perDigestion - perFlux * 2.1, // −0.000 5088 mg
    0.0156 - perDigestion - perFlux * 2.4, // +0.000 1647 mg
  ];
  const s = Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / 2); // √(4.5735e-7/2) = 0.000 4782 mg
  const uPerFlux = s / Math.sqrt(sumOfSquares); // 0.000 8201 mg/g
  const uPerDigestion = s * Math.sqrt(1 / 4 + 2 ** 2 / sumOfSquares); // 0.001 6576 mg
  const covariance = (-2 * s ** 2) / sumOfSquares; // −1.3451e-6 mg²/g
  const correlation = covariance / (uPerFlux * uPerDigestion); // −0.9895
  const blank = procedureBlank(blanks, 'per flux mass and digestion');
  const rule: Rule = {
    blank,
    shared: { bF: [perFlux, uPerFlux], b0Blank: [perDigestion, uPerDigestion] },
    own: { deviation: [0, s] },
    correlated: [['bF', 'b0Blank', correlation]],
    // m_bl = (b_f·m_flux + b_0)·stock + d_b
    blankMg: (c, flux) => (c.bF! * flux + c.b0Blank!) * c.stock! + c.deviation!,
  };

  it('is the line of least squares with the covariance of its coefficients', () => {
    if (blank.scaling !== 'per flux mass and digestion') throw new Error('another rule');
    expect(blank.perFluxMass).toAgreeWithin(perFlux, 1e-12);
    expect(blank.perDigestion).toAgreeWithin(perDigestion, 1e-12);
    expect(Math.sqrt(blank.variancePerFluxMass)).toAgreeWithin(uPerFlux, 1e-12);
    expect(Math.sqrt(blank.variancePerDigestion)).toAgreeWithin(uPerDigestion, 1e-12);
    expect(blank.covariance).toAgreeWithin(covariance, 1e-12);
    expect(blank.standardDeviation).toAgreeWithin(s, 1e-12);
    expect(blankMass(blank, 2.004, null)).toAgreeWithin(perFlux * 2.004 + perDigestion, 1e-12); // 0.013 024 mg
  });

  it('agrees with a spreadsheet for two digestions and for what they share', () => {
    expectSpreadsheet(rule);
  });

  it('is uncertain by s·√(1/n + (m_flux − 2)²/Σ) at a mass of flux, as a line is', () => {
    const [first] = twoDigestions(blank);
    const { model, inputs, correlations } = resultModel(first, { route: 'components', unexplained: null });
    const coefficients = inputs.map((input) =>
      /^b_[f0]_/.test(input.name) ? input : takenAsExact(input, 'left out'),
    );
    const links = correlations.filter((c) => c.first === 'b_f_Al');
    const toMass = (1 - 1.2 / 8000) / (1 - 1.2 / 4600);
    const byHand = ((s * Math.sqrt(1 / 4 + 0.004 ** 2 / sumOfSquares)) / (0.2 * toMass)) * 1000; // 1.1954 mg/kg
    const [output] = propagate(model, coefficients, links).outputs;
    expect(output!.standardUncertainty).toAgreeWithin(byHand, 1e-10);
    // Four blanks, two coefficients.
    expect(output!.effectiveDegreesOfFreedom).toAgreeWithin(2, 1e-9);
  });

  it('adds the lot of the flux by its mass', () => {
    const [first] = twoDigestions(blank);
    const lot = {
      estimate: 0.001,
      standardUncertainty: 0.0004,
      distribution: 'normal' as const,
      source: 'lot 2',
    };
    const { model, inputs, correlations } = resultModel(
      { ...first, fluxLot: lot },
      { route: 'components', unexplained: null },
    );
    const toMass = (1 - 1.2 / 8000) / (1 - 1.2 / 4600);
    const output = propagate(model, inputs, correlations).outputs[0]!;
    // w falls by b_lot·m_flux/m_p·1000 = 0.001·2.004/0.200 022·1000 = 10.02 mg/kg.
    expect(outputOf(first).estimate - output.estimate).toAgreeWithin(
      (0.001 * 2.004 * 1000) / (0.2 * toMass),
      1e-10,
    );
  });

  it('refuses fewer than three blanks, and blanks of one mass of flux', () => {
    expect(() => procedureBlank(blanks.slice(0, 2), 'per flux mass and digestion')).toThrow(
      'procedure blanks: found 2, expected at least 3',
    );
    const alike = blanks.map((b) => ({ ...b, fluxG: 2 }));
    expect(() => procedureBlank(alike, 'per flux mass and digestion')).toThrow(
      'procedure blanks: found 2 g of flux in all of them, expected different masses',
    );
  });
});

describe('calibrations that the blanks were read with', () => {
  // Ratios of the four blanks, mass of each solution in g; B-1 and B-2 were read in run R1, B-3 and B-4 in run R2.
  const readings = [
    { ratio: 0.00725, solutionG: 100, run: 'R1' },
    { ratio: 0.0083, solutionG: 101, run: 'R1' },
    { ratio: 0.0082, solutionG: 99, run: 'R2' },
    { ratio: 0.0094, solutionG: 100.5, run: 'R2' },
  ] as const;
  const line = { R1: [0.002, 0.05], R2: [0.0018, 0.049] } as const;
  // n = (ratio − b0)/b1·m_s/1000, mg
  const amount = (i: number, b0: number, b1: number) =>
    (((readings[i]!.ratio - b0) / b1) * readings[i]!.solutionG) / 1000;
  const ofRun = {
    R1: calibration('mg/kg', ...line.R1),
    R2: { ...calibration('mg/kg', ...line.R2), run: 'R2' },
  };
  const amounts = readings.map(({ solutionG, run }, i): BlankAmount => {
    const [b0, b1] = line[run];
    // ∂n/∂b0 = −m_s/(1000·b1), ∂n/∂b1 = −n/b1: of B-1 −2 mg and −0.21 mg.
    const effect = { byIntercept: -solutionG / 1000 / b1, bySlope: -amount(i, b0, b1) / b1 };
    return {
      ...{ digestion: `B-${i + 1}`, amountMg: amount(i, b0, b1), fluxG: blanks[i]!.fluxG },
      calibrations: [{ label: 'Al', calibration: ofRun[run], ...effect }],
    };
  });

  /** Cells of both runs' calibrations; the blank's own scatter stands beside what the calibrations make of its readings. */
  const lines: Cells = {
    b0: [line.R1[0], 4e-3 * line.R1[1]],
    b1: [line.R1[1], 1.5e-3 * line.R1[1]],
    b0Other: [line.R2[0], 4e-3 * line.R2[1]],
    b1Other: [line.R2[1], 1.5e-3 * line.R2[1]],
  };
  const found = (c: Record<string, number>) =>
    readings.map(({ run }, i) =>
      run === 'R1' ? amount(i, c.b0!, c.b1!) : amount(i, c.b0Other!, c.b1Other!),
    );
  const fluxes = blanks.map((b) => b.fluxG); // 1.6, 1.9, 2.1, 2.4 g: mean 2.0 g, Σ(m_flux − 2)² = 0.34 g²
  const byLine = (n: readonly number[]) => {
    const b_f = (-0.4 * n[0]! - 0.1 * n[1]! + 0.1 * n[2]! + 0.4 * n[3]!) / 0.34;
    return { b_f, b_0: (n[0]! + n[1]! + n[2]! + n[3]!) / 4 - 2 * b_f };
  };
  const rules = {
    'per flux mass': (n: readonly number[], errors: Record<string, number>, flux: number) =>
      (n.reduce((sum, amount, i) => sum + amount / fluxes[i]! / 4, 0) + errors.bF!) * flux,
    'per digestion': (n: readonly number[], errors: Record<string, number>) =>
      (n[0]! + n[1]! + n[2]! + n[3]!) / 4 + errors.b0Blank!,
    'per flux mass and digestion': (n: readonly number[], errors: Record<string, number>, flux: number) =>
      (byLine(n).b_f + errors.bF!) * flux + byLine(n).b_0 + errors.b0Blank!,
  } as const;

  /** What is left of x_i, a number a blank, when the rule has taken out its mean or line. */
  const leftBy = {
    'per flux mass': (x: readonly number[]) =>
      x.map((value, i) => value / fluxes[i]! - x.reduce((sum, each, k) => sum + each / fluxes[k]! / 4, 0)),
    'per digestion': (x: readonly number[]) => x.map((value) => value - (x[0]! + x[1]! + x[2]! + x[3]!) / 4),
    'per flux mass and digestion': (x: readonly number[]) =>
      x.map((value, i) => value - byLine(x).b_f * fluxes[i]! - byLine(x).b_0),
  } as const;

  /** Part of the blanks' variance by the calibrations: Σ over runs and blanks of (left by b0)²·u(b0)² + …, over n − 1 or n − 2. */
  function explainedBy(scaling: keyof typeof rules): number {
    let sum = 0;
    for (const run of ['R1', 'R2'] as const) {
      const [u0, u1] = [4e-3 * line[run][1], 1.5e-3 * line[run][1]];
      const of = (effect: 'byIntercept' | 'bySlope') =>
        leftBy[scaling](
          amounts.map((each, i) => (readings[i]!.run === run ? each.calibrations![0]![effect] : 0)),
        );
      const [byIntercept, bySlope] = [of('byIntercept'), of('bySlope')];
      byIntercept.forEach((left, i) => {
        sum += (left * u0) ** 2 + 2 * -0.6 * left * u0 * bySlope[i]! * u1 + (bySlope[i]! * u1) ** 2;
      });
    }
    return sum / (scaling === 'per flux mass and digestion' ? 2 : 3);
  }

  /** Scatter that the calibrations do not explain, for the digestion's own blank and for the coefficients. */
  function scatterOf(blank: Blank): {
    cells: Cells;
    correlated: (readonly [string, string, number])[];
    deviation: number;
  } {
    const left = blank.standardDeviation ** 2 - explainedBy(blank.scaling);
    const deviation = Math.sqrt(Math.max(0, left));
    if (blank.scaling !== 'per flux mass and digestion') {
      const u = deviation / 2;
      return { cells: { bF: [0, u], b0Blank: [0, u] }, correlated: [], deviation };
    }
    const share = deviation / blank.standardDeviation;
    const [uf, u0] = [Math.sqrt(blank.variancePerFluxMass), Math.sqrt(blank.variancePerDigestion)];
    return {
      cells: { bF: [0, uf * share], b0Blank: [0, u0 * share] },
      correlated: [['bF', 'b0Blank', blank.covariance / uf / u0]],
      deviation,
    };
  }

  it.each(Object.keys(rules) as (keyof typeof rules)[])(
    'move result and blank together, %s, in the run of the result and in another',
    (scaling) => {
      const blank = procedureBlank(amounts, scaling);
      const { cells, correlated, deviation } = scatterOf(blank);
      const links = [...sharedCorrelations, ['b0Other', 'b1Other', -0.6] as const, ...correlated];
      const [first, second] = twoDigestions(blank);
      const [signal] = second.signals;
      const inOtherRun = { ...second, signals: [{ ...signal!, calibration: ofRun.R2 }] };
      // The second digestion is read in run R2, with other check solutions: its signal has the coefficients of that run.
      const sheets = ([0, 1] as const).map((digestion) => {
        const flux = [2.004, 1.812][digestion]!;
        const deviates = (c: Record<string, number>) =>
          c.deviation! * (scaling === 'per flux mass' ? flux : 1);
        const blankMg = (c: Record<string, number>) =>
          rules[scaling](found(c), c, flux) * c.stock! + deviates(c);
        return {
          cells: {
            ...column(digestion),
            ...sharedCells,
            ...lines,
            ...cells,
            deviation: [0, deviation] as const,
          },
          formula: (c: Record<string, number>) =>
            columnFormula(digestion, digestion === 0 ? c : { ...c, b0: c.b0Other!, b1: c.b1Other! }, () =>
              blankMg(c),
            ),
        };
      });
      const observed = [first, inOtherRun] as const;
      sheets.forEach((sheet, i) => {
        const hand = spreadsheet(sheet.cells, sheet.formula, links);
        const output = outputOf(observed[i]!);
        expect(output.estimate).toAgreeWithin(hand.w, 1e-12);
        expect(output.standardUncertainty).toAgreeWithin(hand.u, 1e-10);
      });
      // Check solutions are those of each run; what the blank's own scatter does is common to both.
      const names = Object.keys({ ...sharedCells, ...lines, ...cells }).filter((name) => name !== 'drift');
      const covariance = covarianceOf(correlatedOf(first), correlatedOf(inOtherRun));
      expect(covariance).toAgreeWithin(spreadsheetCovariance(sheets[0]!, sheets[1]!, names, links), 1e-10);
    },
  );

  it('explain a part of the scatter of blanks of two runs, by digestion', () => {
    // By hand: ∂n/∂b0 of B-1 to B-4 −2, −2.02 (R1), −2.020 408, −2.051 020 mg (R2), each less a quarter of the sum over its run;
    // ∂n/∂b1 −0.21, −0.254 52 (R1), −0.263 890, −0.318 117 mg·mg/kg (R2) likewise.
    const left = [
      { byIntercept: [-0.995, -1.015, 1.005, 1.005], bySlope: [-0.09387, -0.13839, 0.11613, 0.11613] },
      {
        byIntercept: [1.017857, 1.017857, -1.002551, -1.033163],
        bySlope: [0.145502, 0.145502, -0.118388, -0.172615],
      },
    ];
    const us = [
      [0.0002, 0.000075],
      [0.000196, 0.0000735],
    ] as const;
    let sum = 0;
    left.forEach(({ byIntercept, bySlope }, run) => {
      const [u0, u1] = us[run]!;
      byIntercept.forEach((x, i) => {
        const y = bySlope[i]!;
        sum += (x * u0) ** 2 - 2 * 0.6 * x * y * u0 * u1 + (y * u1) ** 2;
      });
    });
    // 3.029e-7/3 = 1.0098e-7 mg²
    const { explained } = procedureBlank(amounts, 'per digestion');
    expect(explained!.calibrations).toAgreeWithin(sum / 3, 1e-5);
    expect(explained!.calibrations).toAgreeWithin(explainedBy('per digestion'), 1e-12);
    expect(explained!.readings).toBe(0);
  });

  it('stay beside the observed precision where the blanks were read in another run', () => {
    // The mean blank moves by a quarter of what B-3 and B-4 do: −1.017 857 mg by b0 and −0.145 502 by b1 of run R2.
    const [a, b, u0, u1] = [1.0178571, 0.1455019, 0.000196, 0.0000735];
    const byHand = Math.sqrt((a * u0) ** 2 - 2 * 0.6 * a * b * u0 * u1 + (b * u1) ** 2); // 0.000 1933 mg
    const [first] = twoDigestions(procedureBlank(amounts, 'per digestion'));
    const observed = { relative: 0.01, degreesOfFreedom: 11, source: 'test' };
    const { inputs } = resultModel(first, { route: 'precision', observed });
    const u = (name: string) => inputs.find((input) => input.name === name)!.standardUncertainty;
    expect(u('cal_other_0_Al')).toAgreeWithin(byHand, 1e-6);
    // The calibration of the result's own run comes anew with each run: the observed precision holds it.
    expect(u('b0_Al')).toBe(0);
  });

  it('cancel at the content of the blanks where all were read in the run of the result', () => {
    const inOneRun = amounts.map((each, i): BlankAmount => {
      const { solutionG } = readings[i]!;
      const amountMg = amount(i, ...line.R1);
      const effect = { byIntercept: -solutionG / 1000 / 0.05, bySlope: -amountMg / 0.05 };
      return { ...each, amountMg, calibrations: [{ label: 'Al', calibration: ofRun.R1, ...effect }] };
    });
    const [digestion] = twoDigestions(procedureBlank(inOneRun, 'per digestion'));
    const sensitivities = (o: ResultObservation) => outputOf(o).sensitivities;
    // ∂w/∂b0 = −(m_s/f_evap − mean of the blanks' m_s)/(1000·b1)/m_p·1000, with m_s = 100.1037 g and m_p = 0.200 022 g; the mean is 100.125 g.
    const toMass = (1 - 1.2 / 8000) / (1 - 1.2 / 4600);
    const solutionG = (100 * (1 - 1.2 / 8000)) / (1 - 1.2 / 1012) / 1.0005;
    const byHand = -(solutionG - 100.125) / 0.05 / (0.2 * toMass);
    expect(sensitivities(digestion).b0_Al!).toAgreeWithin(byHand, 1e-9);
    const alone = twoDigestions(procedureBlank(blanks, 'per digestion'))[0];
    expect(Math.abs(byHand / sensitivities(alone).b0_Al!)).toBeLessThan(0.001);
  });
});
