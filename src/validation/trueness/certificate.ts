import { InputError, requirePositive } from '../../errors.js';

/** What a certificate states that bears on its use for trueness, and how the material was used. */
export interface CertificateUse {
  readonly minimumPortionG: number;
  readonly smallestPortionG: number;
  readonly certifiedBasis: string;
  readonly resultBasis: string;
  /** ISO dates: end of validity, and last day the material was used. */
  readonly expiry: string;
  readonly lastUse: string;
  /** False where the matrix of the material is not that of the samples; not checked where not given. */
  readonly matrixMatches?: boolean;
  /** Recovery that was taken from this material's own results; absent where none was. */
  readonly recovery?: { readonly value: number; readonly applied: boolean };
}

/** Outcome of the check: `faults` bar a verdict, `notes` are printed beside it. */
export interface CertificateCheck {
  readonly faults: readonly string[];
  readonly notes: readonly string[];
}

const isoDate = /^\d{4}-\d{2}-\d{2}/;

/**
 * Whether a certified value may be held against these results: valid on the last day of use, portions not below the
 * minimum, both on one basis.
 *
 * @throws InputError a mass that is not above 0, a date that is not written year-month-day
 * @see ISO 33403:2024 (use of reference materials)
 * @example
 * checkCertificate({ minimumPortionG: 0.2, smallestPortionG: 0.1, certifiedBasis: 'dry', resultBasis: 'dry', expiry: '2030-01-01', lastUse: '2026-03-01' }).faults.length // => 1
 */
export function checkCertificate(use: CertificateUse): CertificateCheck {
  requirePositive(use.minimumPortionG, 'minimum portion');
  requirePositive(use.smallestPortionG, 'smallest portion');
  for (const date of [use.expiry, use.lastUse]) {
    if (!isoDate.test(date)) throw new InputError(`date: found "${date}", expected year-month-day`);
  }
  const faults: string[] = [];
  if (use.smallestPortionG < use.minimumPortionG) {
    faults.push(
      `The smallest portion ${use.smallestPortionG} g is below the certificate's minimum ${use.minimumPortionG} g.`,
    );
  }
  if (use.certifiedBasis !== use.resultBasis) {
    faults.push(
      `The certified value is on the basis "${use.certifiedBasis}", the results on "${use.resultBasis}".`,
    );
  }
  if (use.lastUse.slice(0, 10) > use.expiry.slice(0, 10)) {
    faults.push(`The certificate ended on ${use.expiry}; the material was used on ${use.lastUse}.`);
  }
  const notes =
    use.matrixMatches === false
      ? ['The matrix of the material differs from that of the samples: agreement may not carry over.']
      : [];
  if (use.recovery !== undefined) {
    const found = `The recovery ${use.recovery.value.toPrecision(5)} was taken from this material's own results`;
    if (use.recovery.applied)
      faults.push(`${found}, and all results are corrected by it: they cannot prove trueness as well.`);
    else notes.push(`${found}; it does not differ significantly from 1 and corrects nothing.`);
  }
  return { faults, notes };
}
