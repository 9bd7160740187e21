import type { DilutionRecord } from '../../records/tables/dilutions.js';
import { type BalanceReader, trueMass } from '../balance-reading.js';
import { nominal } from '../design/components.js';
import type { DigestionContents } from '../digestion-contents.js';
import { drawRectangular } from '../draw.js';
import { dayErrors } from '../hidden-errors.js';

/** One further dilution: its row and its true factor. */
export interface PreparedDilution {
  readonly record: DilutionRecord;
  /** True final mass over true aliquot mass. */
  readonly factor: number;
}

/** The further dilution of one digestion, both masses weighed on the vessel balance after taring. */
export function preparedDilution(
  seed: number,
  { scheduled }: DigestionContents,
  balance: BalanceReader,
): PreparedDilution {
  const { digestion, day } = scheduled;
  // V-001 of D-001, VE-001 of E-001.
  const dilution = digestion.startsWith('D-') ? digestion.replace('D', 'V') : `V${digestion}`;
  const about = (massG: number, purpose: string) =>
    massG * (1 + drawRectangular(seed, 0.02, ['dilutions', dilution, purpose]));
  const aliquot = about(nominal.aliquotG, 'aliquot');
  const final = about(nominal.dilutionG, 'final');
  const air = dayErrors(seed, day).airDensity;
  const trueGrams = (indication: number) => trueMass(indication, nominal.solutionDensity, air);
  return {
    record: {
      dilution,
      digestion,
      aliquotG: balance({ idealG: aliquot, load: 'aliquot', row: dilution, day }),
      finalG: balance({ idealG: final, load: 'final', row: dilution, day }),
      finalML: null,
      diluent: 'flux and acid as in the digestions',
      internalStandardG: null,
      balance: '',
    },
    factor: trueGrams(final) / trueGrams(aliquot),
  };
}
