import { describe, expect, it } from 'vitest';
import { type ResultObservation, resultModel, resultValue } from '../../../src/chain/result-model.js';
import { propagate } from '../../../src/uncertainty/propagate.js';
import {
  type Cells,
  calibration,
  massCells,
  observation,
  portionFormula,
  solutionFormula,
  spreadsheet,
} from './chain-example.js';

const second = { ...calibration('mg/kg', 0.003, 0.021), lineNm: 308.215 };
const { densityMeasurement: _none, ...solutionWithoutDensity } = observation({}).solution;
const [first] = observation({}).signals;

/** Aluminium at 396.152 nm, three tenths of the content from 308.215 nm. */
const bothLines: ResultObservation = observation(
  {},
  {
    solution: solutionWithoutDensity,
    signals: [
      first!,
      {
        ...first!,
        ...{ label: 'Al 308.215 nm', lineNm: 308.215, calibration: second },
        ...{ meanRatio: 0.0912, ratioStandardUncertainty: 0.0003 },
        drift: { ...first!.drift, factor: 1.013, standardUncertainty: 0.0015 },
      },
    ],
    lines: { secondLabel: 'Al 308.215 nm', secondShare: 0.3 },
  },
);

const cells: Cells = {
  ...massCells,
  // The stock is one for both lines, and so are all masses; each line has its readings, drift and calibration.
  stock: [1, 0.0025],
  ratio1: [0.21012, 0.0005],
  drift1: [1.02, 0.001],
  b0of1: [0.002, 4e-3 * 0.05],
  b1of1: [0.05, 1.5e-3 * 0.05],
  ratio2: [0.0912, 0.0003],
  drift2: [1.013, 0.0015],
  b0of2: [0.003, 4e-3 * 0.021],
  b1of2: [0.021, 1.5e-3 * 0.021],
};

describe('a result made of two lines, hand-computed', () => {
  const hand = spreadsheet(
    cells,
    (c) => {
      const line1 = ((c.ratio1! / c.drift1! - c.b0of1!) / c.b1of1!) * c.stock!; // (0.206 - 0.002)/0.05 = 4.08 mg/kg
      const line2 = ((c.ratio2! / c.drift2! - c.b0of2!) / c.b1of2!) * c.stock!; // (0.090 03 - 0.003)/0.021 = 4.1443 mg/kg
      const content = 0.7 * line1 + 0.3 * line2; // 4.0993 mg/kg
      return (content * solutionFormula(c)) / c.evaporation! / portionFormula(c); // 2050.6 mg/kg
    },
    [
      ['b0of1', 'b1of1', -0.6],
      ['b0of2', 'b1of2', -0.6],
    ],
  );

  it('agrees with the spreadsheet to 12 digits, its standard uncertainty to 10', () => {
    const { model, inputs, correlations } = resultModel(bothLines, {
      route: 'components',
      unexplained: null,
    });
    const [output] = propagate(model, inputs, correlations).outputs;
    expect(resultValue(bothLines)).toAgreeWithin(hand.w, 1e-12);
    expect(output!.estimate).toAgreeWithin(hand.w, 1e-12);
    expect(output!.standardUncertainty).toAgreeWithin(hand.u, 1e-10);
  });

  it('lies between what the lines give alone, in their shares', () => {
    const alone = (signal: ResultObservation['signals'][number]) => {
      const { label: _, ...own } = signal;
      const { lines: __, ...single } = bothLines;
      return resultValue({ ...single, signals: [own] });
    };
    const [one, two] = bothLines.signals.map(alone);
    expect(resultValue(bothLines)).toAgreeWithin(0.7 * one! + 0.3 * two!, 1e-13);
  });
});
