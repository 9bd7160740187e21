import type { EquipmentRecord } from '../records/study.js';
import { type Characteristic, characteristics } from '../validation/characteristic.js';

/** Whether a characteristic has to be shown again, and why. */
export interface AffectedCharacteristic {
  readonly characteristic: Characteristic;
  readonly again: boolean;
  readonly reason: string;
  /** Analytes for which control results before and after show whether it changed, and those without; null where they cannot. */
  readonly controls: ControlledAnalytes | null;
}

/** Analytes of the plan by whether control results before and after the exchange could be compared. */
export interface ControlledAnalytes {
  readonly compared: readonly string[];
  readonly notCompared: readonly string[];
}

interface Bearing {
  readonly again: boolean;
  readonly reason: string;
  /** Control results before and after show whether it changed. */
  readonly byControls?: true;
}

/**
 * Every performance characteristic, those to be shown again first, with what it rests on and, where control results
 * can show it, for which analytes they do.
 *
 * @see ISO/IEC 17025:2017, 7.2.2.2 (a change that may influence the original validation)
 * @example
 * affectedCharacteristics('balance', { compared: ['Zr'], notCompared: [] })[0].characteristic // => 'repeatability'
 */
export function affectedCharacteristics(
  kind: EquipmentRecord['kind'],
  controlled: ControlledAnalytes,
): AffectedCharacteristic[] {
  const all = characteristics.map((characteristic) => {
    const { again, reason, byControls } = bearingOf(kind, characteristic);
    return { characteristic, again, reason, controls: byControls === undefined ? null : controlled };
  });
  return [...all.filter(({ again }) => again), ...all.filter(({ again }) => !again)];
}

function bearingOf(kind: EquipmentRecord['kind'], characteristic: Characteristic): Bearing {
  if (kind === 'balance') return ofBalance[characteristic];
  if (kind === 'spectrometer') return ofSpectrometer[characteristic];
  return again(`what rests on a ${kind} is for the owner of the method to say: it is not sorted here`);
}

function again(reason: string): Bearing {
  return { again: true, reason };
}

function byControls(reason: string): Bearing {
  return { again: true, reason, byControls: true };
}

function kept(reason: string): Bearing {
  return { again: false, reason };
}

/** What rests on a balance. */
const ofBalance: Readonly<Record<Characteristic, Bearing>> = {
  repeatability: byControls('two readings of the balance enter every result'),
  'intermediate precision': byControls('as repeatability'),
  trueness: byControls(
    'an error of the mass of the portion is an error of every result; a reference material weighed on the replacement shows it against its certificate, a shift of control results that it has changed',
  ),
  'trueness over the range': byControls(
    'as trueness: a relative error of the mass tilts the line through the materials',
  ),
  'method comparison': byControls('as trueness: a shift of the results shifts every difference'),
  'total of oxides': byControls(
    'as trueness: an error of the mass of the portion enters every summand alike',
  ),
  'weighing of the portion': again('the balance weighs the portion'),
  'target uncertainty': again(
    'repeatability, linearity and sensitivity of the balance are inputs of the budget',
  ),
  'shift after change': byControls('sensitivity and linearity of the balance are common to all results'),
  'precision after change': byControls('the scatter of the balance enters every result'),
  'recovery before fusion': kept(
    'what is lost on the way into solution does not depend on the balance; spiked and plain portion are weighed on the same one',
  ),
  'recovery after dissolution': kept(
    'rests on the amount added and on the spectrometer; spiked and plain portion are weighed on the same balance',
  ),
  linearity: kept('rests on the spectrometer and the standards'),
  'limit of quantification': kept('rests on the scatter of the blanks'),
  'procedure blank': kept('a blank has no portion; the flux is weighed elsewhere'),
  'second line': kept('both lines share the masses'),
  'interference check': kept('rests on the spectrometer'),
  'crucible memory': kept('rests on the crucible and its cleaning'),
  'carry-over': kept('rests on sample introduction'),
  'solution stability': kept('rests on the solution'),
  'native internal standard': kept('rests on the sample'),
  'internal standard recovery': kept('rests on the dose of the internal standard and on the plasma'),
  'check solution': kept('has no portion; rests on the spectrometer and the standards'),
  'matrix effect': kept('additions to one sample solution share its masses'),
  ruggedness: kept('settings are compared with each other on one balance'),
  homogeneity: kept(
    'belongs to the sample; the scatter of the weighing is in the differences of duplicates, which it is judged against',
  ),
  'second-source standard': kept('compares two standards on the spectrometer'),
  'sample trend': kept('rests on the spectrometer during a run'),
};

/** What rests on a spectrometer. */
const ofSpectrometer: Readonly<Record<Characteristic, Bearing>> = {
  linearity: again('the working range belongs to detector, optics and line'),
  'limit of quantification': again('background and noise are those of the spectrometer'),
  'procedure blank': again('a blank is read with the background and the overlaps of the spectrometer'),
  'second line': again('resolution decides which lines overlap'),
  'interference check': again('overlap coefficients belong to the spectrometer; none is taken over'),
  'matrix effect': again('plasma and sample introduction decide how the matrix acts on the signal'),
  'recovery after dissolution': again('shows what the matrix does to the signal of the spectrometer'),
  'carry-over': again('sample introduction and rinsing are those of the spectrometer'),
  'internal standard recovery': again('plasma and uptake are those of the spectrometer'),
  'native internal standard': again(
    'whether a signal on the line of the internal standard is that of the element depends on the resolution',
  ),
  'check solution': again('read on the spectrometer, as in every run'),
  'sample trend': again('drift during a run is that of the spectrometer'),
  repeatability: byControls('noise of the readings enters every result'),
  'intermediate precision': byControls('as repeatability'),
  trueness: byControls(
    'unknown overlaps bias results; a reference material shows it against its certificate, a shift of control results that it has changed',
  ),
  'trueness over the range': byControls('as trueness, and as linearity'),
  'method comparison': byControls('as trueness: a shift of the results shifts every difference'),
  'total of oxides': byControls('as trueness: a bias of one analyte is a bias of the total'),
  'target uncertainty': again('readings, drift and calibration are inputs of the budget'),
  'shift after change': byControls('old and new results are to stand in one series'),
  'precision after change': byControls('noise of the readings enters every result'),
  'weighing of the portion': kept('rests on the balance'),
  'recovery before fusion': kept('losses on the way into solution do not depend on the spectrometer'),
  'crucible memory': kept('rests on the crucible and its cleaning'),
  'solution stability': kept('rests on the solution'),
  ruggedness: kept(
    'settings of fusion and dissolution do not depend on it; those of nebuliser and plasma are set, and shown, anew',
  ),
  homogeneity: kept('belongs to the sample'),
  'second-source standard': kept('belongs to the standards: each is read against the other'),
};
