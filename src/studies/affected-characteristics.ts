/** Whether a characteristic has to be shown again, and why. */
export interface AffectedCharacteristic {
  readonly characteristic: string;
  readonly again: boolean;
  readonly reason: string;
}

/** What rests on a balance (ISO/IEC 17025:2017, 7.2.2.2: a change that may influence the original validation). */
export const affectedByBalance: readonly AffectedCharacteristic[] = [
  again('weighing of the portion', 'the balance weighs the portion'),
  again(
    'target uncertainty',
    'repeatability, linearity and sensitivity of the balance are inputs of the budget',
  ),
  again(
    'repeatability',
    'two readings of the balance enter every result; control results before and after show it',
  ),
  again('intermediate precision', 'as repeatability; control results before and after show it'),
  again('shift after change', 'sensitivity and linearity of the balance are common to all results'),
  kept('linearity', 'rests on the spectrometer and the standards'),
  kept('procedure blank', 'a blank has no portion; the flux is weighed elsewhere'),
  kept('limit of quantification', 'rests on the scatter of the blanks'),
  kept('second line', 'both lines share the masses'),
  kept('interference check', 'rests on the spectrometer'),
  kept('solution stability', 'rests on the solution'),
  kept('crucible memory', 'rests on the crucible and its cleaning'),
  kept('carry-over', 'rests on sample introduction'),
];

/** What rests on a spectrometer. */
export const affectedBySpectrometer: readonly AffectedCharacteristic[] = [
  again('linearity', 'the working range belongs to detector, optics and line'),
  again('limit of quantification', 'background and noise are those of the spectrometer'),
  again('second line', 'resolution decides which lines overlap'),
  again('carry-over', 'sample introduction and rinsing are those of the spectrometer'),
  again('interference check', 'overlap coefficients belong to the spectrometer; none is taken over'),
  again('internal standard recovery', 'plasma and uptake are those of the spectrometer'),
  again(
    'repeatability',
    'noise of the readings enters every result; control results before and after show it',
  ),
  again('intermediate precision', 'as repeatability; control results before and after show it'),
  again('trueness', 'unknown overlaps bias results; a reference material shows it'),
  again('target uncertainty', 'readings, drift and calibration are inputs of the budget'),
  again('shift after change', 'old and new results are to stand in one series'),
  kept('weighing of the portion', 'rests on the balance'),
  kept('recovery before fusion', 'losses on the way into solution do not depend on the spectrometer'),
  kept('crucible memory', 'rests on the crucible and its cleaning'),
  kept('solution stability', 'rests on the solution'),
];

function again(characteristic: string, reason: string): AffectedCharacteristic {
  return { characteristic, again: true, reason };
}

function kept(characteristic: string, reason: string): AffectedCharacteristic {
  return { characteristic, again: false, reason };
}
