import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ResultObservation, resultModel, resultValue } from '../../../src/chain/result-model.js';
import { propagate } from '../../../src/uncertainty/propagate.js';
import { spreadsheet } from '../hand-computed/chain-example.js';
import { allModes, type Digestion, digestion, type Modes, observationOf, symbols } from './any-digestion.js';
import { cellsOf, correlatedCells, plainResult } from './plain-result.js';

const drawn = { numRuns: 15 };
const anyAnalyte = fc.constantFrom(...symbols);

function modelled(o: ResultObservation) {
  const { model, inputs, correlations } = resultModel(o, { route: 'components', unexplained: null });
  return propagate(model, inputs, correlations).outputs[0]!;
}

/** The same digestion with every mass and volume `factor` times as large. */
function scaled(d: Digestion, factor: number): Digestion {
  const { crucibleG, portionG, vesselG, solutionG, fluxG, aliquotG, standardG, blankPerDigestion } = d;
  const all = { crucibleG, portionG, vesselG, solutionG, fluxG, aliquotG, standardG, blankPerDigestion };
  const larger = Object.entries(all).map(([name, value]) => [name, value * factor]);
  // What the lot of flux adds goes with its mass, or is a mass itself.
  const fluxLot = d.fluxLot * (d.blank === 'per digestion' ? factor : 1);
  return { ...d, fluxLot, ...(Object.fromEntries(larger) as typeof all) };
}

describe.each(allModes)(
  'any digestion, internal standard $standard, calibration in $unit, dilution $dilution',
  (modes: Modes) => {
    it('gives the result of a plain calculation, and the uncertainty of numeric propagation', () => {
      fc.assert(
        fc.property(digestion, anyAnalyte, (d, analyte) => {
          const o = observationOf(d, modes, analyte);
          const plain = spreadsheet(
            cellsOf(d, modes),
            (c) => plainResult(d, modes, analyte, c),
            correlatedCells(d),
          );
          const { estimate, standardUncertainty } = modelled(o);
          expect(resultValue(o)).toAgreeWithin(plain.w, 1e-11);
          expect(estimate).toAgreeWithin(plain.w, 1e-11);
          expect(standardUncertainty).toAgreeWithin(plain.u, 1e-9);
        }),
        drawn,
      );
    });

    it('does not change with all masses enlarged by one factor', () => {
      fc.assert(
        fc.property(
          digestion,
          anyAnalyte,
          fc.double({ min: 0.5, max: 3, noNaN: true }),
          (d, analyte, factor) => {
            const value = resultValue(observationOf(d, modes, analyte));
            expect(resultValue(observationOf(scaled(d, factor), modes, analyte))).toAgreeWithin(value, 1e-11);
          },
        ),
        drawn,
      );
    });

    it('does not change with the order of the analytes', () => {
      const orders = fc.shuffledSubarray([0, 1, 2], { minLength: 3 });
      fc.assert(
        fc.property(digestion, anyAnalyte, orders, orders, (d, analyte, ofSignals, ofCoefficients) => {
          const o = observationOf(d, modes, analyte);
          const permuted = {
            ...o,
            signals: ofSignals.map((i) => o.signals[i]!),
            interference: ofCoefficients.map((i) => o.interference[i]!),
          };
          const [before, after] = [modelled(o), modelled(permuted)];
          expect(resultValue(permuted)).toAgreeWithin(resultValue(o), 1e-12);
          expect(after.estimate).toAgreeWithin(before.estimate, 1e-12);
          expect(after.standardUncertainty).toAgreeWithin(before.standardUncertainty, 1e-12);
        }),
        drawn,
      );
    });
  },
);
