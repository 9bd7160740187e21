import type { VolumeSpecification } from '../../chain/solution/measured-volume.js';
import type { BalanceSpecification, EquipmentRecord } from '../study.js';
import { keyLine, keyLines } from './key-lines.js';
import type { KeyMeanings } from './plan-parts.js';

const equipmentKeys: KeyMeanings<EquipmentRecord> = {
  id: 'name of its own, as tables and plan use it',
  kind: '`balance`, `dispenser` (also pipettes and flasks), `spectrometer`, `furnace` or `other`',
  description: 'what it is',
  location: 'where it stands',
  inServiceFrom: 'date',
  inServiceTo: 'date of the last day; `null` while it is in service',
  certificate: 'number of the certificate or of the performance check that holds',
  calibratedOn: 'date of that certificate',
  dueOn: 'date until which it holds',
  balance: 'only for a balance, which needs it',
  volume: 'only where volumes that it measures count',
};

const balanceKeys: KeyMeanings<BalanceSpecification> = {
  repeatabilityG:
    'standard deviation of repeated indications of one load, g; “repeatability” in the certificate',
  scaleIntervalG: 'smallest step of the display, g; “d” on the type plate',
  linearityG:
    'largest deviation from linearity, ± g; the largest error of indication in the certificate, or “linearity” in the data sheet',
  sensitivityRelative:
    'relative standard uncertainty of the adjustment: U of the error of indication at the largest load in the certificate, divided by its k and by that load',
  eccentricityRelative:
    'largest eccentricity error, ± relative to the load: the largest difference between a place off the centre and the centre in the certificate, divided by the test load of that test, g/g',
  temperatureCoefficientPerK:
    'relative change of the sensitivity per kelvin, 1/K; “temperature drift” in the data sheet, 1 ppm/K is 0.000001',
  temperatureHalfWidthK: 'how far the room may be from the temperature at the adjustment, ± K',
  driftRelative:
    'largest relative change of the sensitivity between two calibrations, ±; from the certificates one after the other, or from the data sheet',
};

const volumeKeys: KeyMeanings<VolumeSpecification> = {
  nominalML: 'nominal volume, mL',
  toleranceML: 'largest deviation at 20 °C, ± mL; the tolerance of its class, or of its certificate',
  repeatabilityML: 'standard deviation of one filling or delivery, mL',
  expansionPerK: 'cubic expansion of the vessel, 1/K; 0.00001 for borosilicate glass',
};

/** Every key of `equipment.json` with what it says and where it stands in a certificate, for the guide. */
export function equipmentKeyGuide(): string[] {
  const parts: Readonly<Record<string, Readonly<Record<string, string>>>> = {
    balance: balanceKeys,
    volume: volumeKeys,
  };
  return [
    '## Keys of equipment.json',
    '',
    'A list with an entry for each piece of equipment that the work is done on. Standard deviations and standard uncertainties stand as such; what is marked ± is a largest deviation, and the budget takes it as the half-width of a distribution. A figure that does not count is 0, never `null`; scale interval and nominal volume are above 0.',
    '',
    ...Object.entries(equipmentKeys).flatMap(([key, means]) => [
      keyLine('', key, key in parts, means),
      ...keyLines(parts[key] ?? {}),
    ]),
  ];
}
