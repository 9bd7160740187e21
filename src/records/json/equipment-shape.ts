import type { VolumeSpecification } from '../../chain/solution/measured-volume.js';
import type { BalanceSpecification, EquipmentRecord } from '../study.js';
import {
  choiceShape,
  dateShape,
  listShape,
  nullable,
  numberShape,
  objectShape,
  optional,
  type Shape,
  textShape,
} from './shape.js';

const atLeastZero = numberShape({ atLeast: 0 });

const balance: Shape<BalanceSpecification> = objectShape<BalanceSpecification>({
  repeatabilityG: atLeastZero,
  scaleIntervalG: numberShape({ above: 0 }),
  linearityG: atLeastZero,
  sensitivityRelative: atLeastZero,
  eccentricityRelative: atLeastZero,
  temperatureCoefficientPerK: atLeastZero,
  temperatureHalfWidthK: atLeastZero,
  driftRelative: atLeastZero,
});

const volume: Shape<VolumeSpecification> = objectShape<VolumeSpecification>({
  nominalML: numberShape({ above: 0 }),
  toleranceML: atLeastZero,
  repeatabilityML: atLeastZero,
  expansionPerK: atLeastZero,
});

/** What `equipment.json` must hold. */
export const equipmentShape: Shape<readonly EquipmentRecord[]> = listShape(
  objectShape<EquipmentRecord>({
    id: textShape,
    kind: choiceShape(['balance', 'dispenser', 'spectrometer', 'furnace', 'other']),
    description: textShape,
    location: textShape,
    inServiceFrom: dateShape,
    inServiceTo: nullable(dateShape),
    certificate: textShape,
    calibratedOn: dateShape,
    dueOn: dateShape,
    balance: optional(balance),
    volume: optional(volume),
  }),
);
