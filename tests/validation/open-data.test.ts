import { describe, expect, it } from 'vitest';
import { detectionApproaches } from '../../src/validation/detection/detection-approaches.js';
import { methodDetectionLimit } from '../../src/validation/detection/method-detection-limit.js';
import { methodComparison } from '../../src/validation/trueness/method-comparison.js';
import { blockAt, openSet } from '../support/reference-sets.js';
import { criterion } from './support.js';

describe.skipIf(!process.env.MELTBOOK_REFERENCE_DATA)(
  'characteristics on open data (needs MELTBOOK_REFERENCE_DATA)',
  () => {
    it('gives detection limits of the cadmium spikes (Gibbons, Coleman and Maddalone 1997) as R does', () => {
      const set = openSet('epa_cd111_spikes');
      const massFraction = set.numbers('spike_ng_L');
      const signal = set.numbers('found_ng_L');
      const blanks = signal
        .filter((_, i) => massFraction[i] === 0)
        .map((value, i) => ({ key: `${i}`, batch: `${i % 3}`, value }));
      const expected = blockAt(set.results, 'blank_level');
      expect(methodDetectionLimit(blanks, blanks).fromSpikes).toAgreeWithin(
        Number(expected.epa_style_t99_sd),
        1e-10,
      );
      const [, calibration] = detectionApproaches({
        fromBlanks: null,
        calibration: { massFraction, signal },
        background: [],
        lowSpikes: [],
        methodBlanks: [],
        readings: 1,
        solidPerUnit: 1,
        planned: 'calibration',
      });
      const line = blockAt(set.results, 'ols', 'decision_and_detection');
      expect(calibration!.decisionLimit!.inSolution).toAgreeWithin(Number(line.x_critical), 1e-9);
      expect(calibration!.detectionLimit!.inSolution).toAgreeWithin(Number(line.x_detectable), 1e-9);
    });

    it.each(['Fe', 'Na'])('compares %s by two methods on 605 soils as R does', (element) => {
      const set = openSet('kola_two_methods');
      const [reference, candidate] = [set.numbers(`${element}_xrf`), set.numbers(`${element}_inaa`)];
      const rows = reference.map((value, i) => ({ key: `${i}`, reference: value, candidate: candidate[i]! }));
      const block = blockAt(set.results, element, 'paired');
      const test = blockAt(set.results, element, 'paired', 'paired_t');
      const tost = blockAt(set.results, element, 'paired', 'tost');
      const [, margin] = tost.margin as readonly number[];
      const found = methodComparison(rows, {
        analyte: element,
        level: 'range',
        unit: 'mg/kg',
        criterion: criterion('within', margin!, 'mg/kg'),
        referenceMethod: 'XRF',
      });
      expect(found.meanDifference).toAgreeWithin(Number(test.estimate), 1e-10);
      expect(found.standardDeviation).toAgreeWithin(Number(block.sd_of_differences), 1e-10);
      const [low, high] = tost.ci90 as readonly number[];
      expect(found.finding.limits!.lowerOneSided).toAgreeWithin(low!, 1e-9);
      expect(found.finding.limits!.upperOneSided).toAgreeWithin(high!, 1e-9);
      const line = blockAt(set.results, element, 'deming_lambda1');
      expect(found.deming.fit!.slope).toAgreeWithin(Number(line.slope), 1e-9);
      expect(found.deming.fit!.intercept).toAgreeWithin(Number(line.intercept), 1e-8);
    });
  },
);
