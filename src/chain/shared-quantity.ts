import type { InputQuantity } from '../uncertainty/input-quantity.js';
import { type RecoveryFactor, recoveryErrorKey } from './corrections/recovery-factor.js';
import { routeFactor } from './counting-route.js';
import type { Dilution } from './dilution.js';
import { identifier } from './model-fragment.js';
import { type SolutionSignal, signalLabel } from './solution-signal.js';

/** What tells whose an input of a result is. */
export interface ResultOrigin {
  readonly digestion: string;
  readonly signals: readonly SolutionSignal[];
  readonly dilutions: Readonly<Record<string, Dilution>>;
  readonly basis?: { readonly recovery?: RecoveryFactor };
}

/**
 * Key of an input among all results of a study: two inputs with one key are the same quantity.
 *
 * Within one digestion a name stands for one quantity; between digestions it depends. Readings and weighings come anew, a balance's
 * linearity and sensitivity recur with the balance, calibrations with their run, stated factors, stocks and blanks with their source.
 * What a recovery bears of its experiment is known as in the results that hold it themselves.
 *
 * @example
 * sharedKey({ name: 'S_p', equipment: 'BAL-1' }, { digestion: 'D-001', signals: [], dilutions: {} }) // => "S@BAL-1"
 */
export function sharedKey(
  input: Pick<InputQuantity, 'name'> & Partial<Pick<InputQuantity, 'equipment' | 'source' | 'variesWith'>>,
  observation: ResultOrigin,
): string {
  const { name } = input;
  // A balance may weigh portions in one digestion, vessels or internal standard in another: one sensitivity, several names.
  if (name.startsWith('S_')) return `S@${input.equipment}`;
  // The factor of a counting route bears no symbol, since a result has one: another analyte's is another quantity.
  if (Object.values(routeFactor).includes(name))
    return `${name}@${observation.digestion}/${observation.signals[0]?.analyte}`;
  const { recovery } = observation.basis ?? {};
  const ofRecovery = recovery === undefined ? null : recoveryErrorKey(name, recovery);
  if (ofRecovery !== null) return ofRecovery;
  const dilution = ofDilution(name, observation);
  if (dilution !== null) {
    const recurs = name.startsWith('lin_') || name.startsWith('ecc_');
    return `${dilution.part}@${recurs ? input.equipment : dilution.dilution}`;
  }
  const signal = observation.signals.find((s) => signalNames(signalLabel(s)).includes(name));
  if (signal !== undefined) {
    const { run } = signal.calibration;
    const line = coefficientKey(name, run, signal.lineNm);
    return name.startsWith('b') ? line : `${line}/${signal.solution}`;
  }
  if (input.variesWith === 'digestion') return `${name}@${observation.digestion}`;
  return `${name}@${/^(lin|ecc)_/.test(name) ? input.equipment : input.source}`;
}

/** Key of an intercept or slope, by its name in a result. */
export function coefficientKey(name: string, run: string, lineNm: number): string {
  return `${name}@${run}/${lineNm}`;
}

function signalNames(label: string): string[] {
  const a = identifier(label);
  return [`ratio_${a}`, `drift_${a}`, `b0_${a}`, `b1_${a}`];
}

/** Weighing or filling of a dilution: its name without the number it has in this result, and which dilution it is. */
function ofDilution(
  name: string,
  { dilutions }: Pick<ResultOrigin, 'dilutions'>,
): { readonly part: string; readonly dilution: string } | null {
  for (const [factor, { dilution }] of Object.entries(dilutions)) {
    const match = new RegExp(`^(rep|round|lin|ecc|fill)_(aliquot|final|is)_${factor}(0?)$`).exec(name);
    if (match !== null) return { part: `${match[1]}_${match[2]}${match[3]}`, dilution };
  }
  return null;
}
