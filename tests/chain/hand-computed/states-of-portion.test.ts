import { describe, expect, it } from 'vitest';
import {
  type LossOfMass,
  lossesBetween,
  massOnBasis,
  type SolidState,
} from '../../../src/chain/mass-on-basis.js';
import { type ResultObservation, resultModel, resultValue } from '../../../src/chain/result-model.js';
import { propagate } from '../../../src/uncertainty/propagate.js';
import {
  type Cells,
  massCells,
  observation,
  portionFormula,
  solutionFormula,
  spreadsheet,
} from './chain-example.js';

/** M = 0.02 with u = 0.001 of the sample as received; LOI = 0.1 with u = 0.004 of the dry sample. */
const recorded = {
  'as received to dry': { fraction: 0.02, standardUncertainty: 0.001, source: 'drying' },
  'dry to ignited': { fraction: 0.1, standardUncertainty: 0.004, source: 'ignition' },
};
const lossesOf = (weighed: SolidState, reported: SolidState): LossOfMass[] =>
  lossesBetween(weighed, reported).map((between) => ({ ...between, ...recorded[between.step] }));

const { densityMeasurement: _none, ...solution } = observation({}).solution;
const weighedAs = (weighed: SolidState, reported: SolidState): ResultObservation => {
  const plain = observation({}, { solution });
  return { ...plain, basis: { ...plain.basis, losses: lossesOf(weighed, reported) } };
};

const cells: Cells = {
  ...massCells,
  stock: [1, 0.0025],
  ratio: [0.21012, 0.0005],
  drift: [1.02, 0.001],
  b0: [0.002, 4e-3 * 0.05],
  b1: [0.05, 1.5e-3 * 0.05],
  M: [0.02, 0.001],
  L: [0.1, 0.004],
};
type Cell = Readonly<Record<string, number>>;

/** Mass in the state reported of a portion of m g, each case written out; for 1 g of it beside. */
const byHand: readonly (readonly [SolidState, SolidState, (m: number, c: Cell) => number, number, string])[] =
  [
    ['as received', 'as received', (m) => m, 1, 'm_p'],
    ['as received', 'dry', (m, c) => m * (1 - c.M!), 0.98, 'm_p * (1 - loss)'],
    ['as received', 'ignited', (m, c) => m * (1 - c.M!) * (1 - c.L!), 0.882, 'm_p * (1 - loss) * (1 - LOI)'],
    ['dry', 'as received', (m, c) => m / (1 - c.M!), 1 / 0.98, 'm_p / (1 - loss)'],
    ['dry', 'dry', (m) => m, 1, 'm_p'],
    ['dry', 'ignited', (m, c) => m * (1 - c.L!), 0.9, 'm_p * (1 - LOI)'],
    [
      'ignited',
      'as received',
      (m, c) => m / (1 - c.L!) / (1 - c.M!),
      1 / 0.882,
      'm_p / (1 - LOI) / (1 - loss)',
    ],
    ['ignited', 'dry', (m, c) => m / (1 - c.L!), 1 / 0.9, 'm_p / (1 - LOI)'],
    ['ignited', 'ignited', (m) => m, 1, 'm_p'],
  ];

describe('a loss of mass', () => {
  const onIgnition = (fraction: number, restored = false): LossOfMass[] => [
    {
      ...{ step: 'dry to ignited', restored },
      ...{ fraction, standardUncertainty: 0, source: 'moisture, row ZP-1, dry to ignited' },
    },
  ];

  it('that is a gain makes the portion heavier: 1 g to 1.002 g, and back', () => {
    expect(massOnBasis(1, onIgnition(-0.002))).toAgreeWithin(1.002, 1e-15);
    expect(massOnBasis(1.002, onIgnition(-0.002, true))).toAgreeWithin(1, 1e-15);
  });

  it.each([1, 1.2, -1, Number.NaN])('of %f of the mass is refused, its record named', (fraction) => {
    expect(() => massOnBasis(1, onIgnition(fraction))).toThrow(
      `loss of mass on ignition of the dry sample as a fraction (moisture, row ZP-1, dry to ignited): found ${fraction}, expected above -1 and below 1`,
    );
  });
});

describe.each(byHand)(
  'portions weighed %s, results on the basis %s',
  (weighed, reported, mass, ofOneG, words) => {
    const o = weighedAs(weighed, reported);
    const { model, inputs, correlations } = resultModel(o, { route: 'components', unexplained: null });
    const [output] = propagate(model, inputs, correlations).outputs;
    const hand = spreadsheet(
      cells,
      (c) => {
        const content = ((c.ratio! / c.drift! - c.b0!) / c.b1!) * c.stock!; // 4.08 mg/kg
        const amountMg = (content * solutionFormula(c)) / 1000 / c.evaporation!; // 0.4082 mg
        return (amountMg / mass(portionFormula(c), c)) * 1000; // 2041 mg/kg as weighed
      },
      [['b0', 'b1', -0.6]],
    );

    it('brings 1 g to its mass there', () => {
      expect(massOnBasis(1, lossesOf(weighed, reported))).toAgreeWithin(ofOneG, 1e-15);
    });

    it('gives the hand-computed content and standard uncertainty', () => {
      expect(resultValue(o)).toAgreeWithin(hand.w, 1e-12);
      expect(output!.estimate).toAgreeWithin(hand.w, 1e-12);
      expect(output!.standardUncertainty).toAgreeWithin(hand.u, 1e-9);
    });

    it('shows the equation and the losses that are used, no others', () => {
      expect(model.equations.at(-1)!.expression).toBe(`n_e / (${words}) * 1000`);
      const used = inputs.filter(({ name }) => name === 'loss' || name === 'LOI').map(({ name }) => name);
      expect(used).toEqual([...words.matchAll(/loss|LOI/g)].map(([name]) => name));
    });
  },
);
