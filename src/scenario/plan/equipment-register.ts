import type { BalanceSpecification, EquipmentRecord } from '../../records/study.js';

/** Dates on which the laboratory changed its portion balance and later its spectrometer. */
export const changeDates = { newBalance: '2026-05-04', newSpectrometer: '2026-08-10' } as const;

const portionBalance: BalanceSpecification = {
  repeatabilityG: 0.0002,
  scaleIntervalG: 0.0001,
  linearityG: 0.0001,
  sensitivityRelative: 2e-6,
  eccentricityRelative: 1e-6,
  temperatureCoefficientPerK: 1.5e-6,
  temperatureHalfWidthK: 2,
  driftRelative: 3e-6,
};

const vesselBalance: BalanceSpecification = {
  repeatabilityG: 0.002,
  scaleIntervalG: 0.001,
  linearityG: 0.003,
  sensitivityRelative: 5e-6,
  eccentricityRelative: 5e-6,
  temperatureCoefficientPerK: 3e-6,
  temperatureHalfWidthK: 2,
  driftRelative: 1e-5,
};

type Entry = Pick<EquipmentRecord, 'id' | 'kind' | 'description' | 'certificate'> &
  Partial<Pick<EquipmentRecord, 'inServiceFrom' | 'inServiceTo' | 'calibratedOn' | 'dueOn' | 'balance'>>;

function entry(given: Entry): EquipmentRecord {
  return {
    location: 'fusion laboratory F2',
    inServiceFrom: '2024-09-02',
    inServiceTo: null,
    calibratedOn: '2026-01-19',
    dueOn: '2027-01-31',
    ...given,
  };
}

/** The register: the balance of the portion, its successor and everything else on line F2. */
export function equipmentRegister(repeatabilityFactor: number): EquipmentRecord[] {
  return [
    entry({
      id: 'BAL-1',
      kind: 'balance',
      description: 'analytical balance, portions and crucibles',
      inServiceTo: changeDates.newBalance,
      certificate: 'QC-2026-0114',
      balance: portionBalance,
    }),
    entry({
      id: 'BAL-2',
      kind: 'balance',
      description: 'precision balance, flux, vessels and dilutions',
      certificate: 'QC-2026-0115',
      balance: vesselBalance,
    }),
    entry({
      id: 'BAL-3',
      kind: 'balance',
      description: 'analytical balance that follows BAL-1',
      inServiceFrom: changeDates.newBalance,
      calibratedOn: '2026-04-28',
      dueOn: '2027-04-30',
      certificate: 'QC-2026-0390',
      balance: { ...portionBalance, repeatabilityG: portionBalance.repeatabilityG * repeatabilityFactor },
    }),
    entry({
      id: 'ICP-1',
      kind: 'spectrometer',
      description: 'ICP-OES, radial view, simultaneous detection',
      inServiceTo: changeDates.newSpectrometer,
      certificate: 'performance check QC-2026-0098',
    }),
    entry({
      id: 'ICP-2',
      kind: 'spectrometer',
      description: 'ICP-OES that follows ICP-1',
      inServiceFrom: changeDates.newSpectrometer,
      calibratedOn: '2026-08-05',
      dueOn: '2027-08-31',
      certificate: 'performance check QC-2026-0702',
    }),
    entry({
      id: 'FUS-2',
      kind: 'furnace',
      description: 'fusion furnace with four burner places',
      certificate: 'temperature check QC-2026-0121',
    }),
    entry({
      id: 'DSP-1',
      kind: 'dispenser',
      description: 'acid dispenser, 50 mL',
      certificate: 'QC-2026-0117',
    }),
  ];
}

/** Equipment that makes a control result, before the changes, after the new balance, after the new spectrometer. */
export const equipmentPhases: readonly (readonly string[])[] = [
  ['BAL-1', 'BAL-2', 'ICP-1'],
  ['BAL-3', 'BAL-2', 'ICP-1'],
  ['BAL-3', 'BAL-2', 'ICP-2'],
];
