import { lossName } from '../../chain/mass-on-basis.js';
import { sharedKey } from '../../chain/shared-quantity.js';
import type { StudyRecords } from '../../records/study-records.js';
import type { MoistureRecord } from '../../records/tables/moisture.js';
import { sumOfResults } from '../../uncertainty/correlated-results/combine-results.js';
import type { CorrelatedResult } from '../../uncertainty/correlated-results/correlated-result.js';
import { lossSource } from '../losses-of-portion.js';

/** Losses of mass of one sample that belong to its total on the basis of the plan. */
export interface LossesInTotal {
  /** Each in g/100 g of the basis, named as it stands in words; empty where none is known or none enters. */
  readonly losses: readonly CorrelatedResult[];
  /** What is left out because no record tells it, with the reason; null where nothing is. */
  readonly leftOut: string | null;
}

/**
 * Losses of mass that a total of oxides needs to close: on the dry basis the loss on ignition of the dry sample, as received also
 * the moisture, and the loss on ignition on the part that is dry. On the ignited basis none is left. Results hold a loss too where
 * their portions were weighed after it: it is the same quantity there and here, and counts once with the sum of what it does.
 *
 * @see common practice, no source
 */
export function lossesInTotal(
  { plan, moisture }: Pick<StudyRecords, 'plan' | 'moisture'>,
  sample: string,
): LossesInTotal {
  if (plan.basis === 'ignited') return { losses: [], leftOut: null };
  const recorded = (basis: MoistureRecord['basis']) =>
    moisture.find((m) => m.sample === sample && m.basis === basis);
  const ignition = recorded('dry to ignited');
  const drying = recorded('as received to dry');
  const unknown = 'loss on ignition, which is not recorded';
  if (plan.basis === 'dry') {
    return ignition === undefined
      ? { losses: [], leftOut: unknown }
      : { losses: [recordedLoss('loss on ignition', ignition)], leftOut: null };
  }
  if (drying === undefined) {
    const leftOut =
      ignition === undefined
        ? 'moisture and loss on ignition, which are not recorded'
        : 'moisture, which is not recorded, and loss on ignition, which is recorded of the dry sample only';
    return { losses: [], leftOut };
  }
  const moist = recordedLoss('moisture', drying);
  if (ignition === undefined) return { losses: [moist], leftOut: unknown };
  return { losses: [moist, asReceived(recordedLoss('loss on ignition', ignition), moist)], leftOut: null };
}

/** A loss of mass belongs to a sample, whatever was digested of it. */
const ofNoDigestion = { digestion: '', signals: [], dilutions: {} };

function recordedLoss(name: string, record: MoistureRecord): CorrelatedResult {
  const key = sharedKey(
    { name: lossName({ step: record.basis }), source: lossSource(record) },
    ofNoDigestion,
  );
  return {
    name,
    unit: 'g/100 g',
    estimate: record.lossGPer100G,
    parts: new Map([
      [
        key,
        {
          value: record.standardUncertaintyGPer100G,
          group: key,
          degreesOfFreedom: Number.POSITIVE_INFINITY,
          variesWith: null,
        },
      ],
    ]),
  };
}

/** Loss of the dry sample, brought to the sample as received: L·(1 − M). */
function asReceived(loss: CorrelatedResult, moisture: CorrelatedResult): CorrelatedResult {
  const sum = sumOfResults(loss.name, loss.unit, [
    { result: loss, coefficient: 1 - moisture.estimate / 100 },
    { result: moisture, coefficient: -loss.estimate / 100 },
  ]);
  return { ...sum, estimate: loss.estimate * (1 - moisture.estimate / 100) };
}
