import { type AgreementKind, agreementKinds } from './agreement.js';
import type { SelfCheckFigure } from './self-check.js';

/** Figures of a self-check, counted by kind of agreement. */
export interface SelfCheckSummary {
  readonly figures: number;
  readonly counts: Readonly<Record<AgreementKind, number>>;
  /** Figures written down from memory: no independent confirmation of the document. */
  readonly remembered: number;
  /** The counts in words; kinds that do not occur are left out. */
  readonly text: string;
}

const inWords: Readonly<Record<AgreementKind, string>> = {
  agrees: 'agree to the last printed digit',
  'within simulation error': 'simulated, within three standard errors of the printed figure',
  'within printed uncertainty': 'within the uncertainty printed beside the figure',
  'explained exception':
    'known exceptions, equal to the exact value that their arithmetic gives and not to the printed figure',
  differs: 'differ',
};

/** Counts the figures of a self-check; only those of the first kind are said to agree. */
export function selfCheckSummary(rows: readonly SelfCheckFigure[]): SelfCheckSummary {
  const count = (kind: AgreementKind) => rows.filter((row) => row.agreement === kind).length;
  const counts = Object.fromEntries(agreementKinds.map((kind) => [kind, count(kind)])) as Record<
    AgreementKind,
    number
  >;
  const parts = agreementKinds
    .filter((kind) => kind === 'agrees' || counts[kind] > 0)
    .map((kind) => `${counts[kind]} ${inWords[kind]}`);
  return {
    figures: rows.length,
    counts,
    remembered: rows.filter((row) => row.figureTakenFrom !== 'document read').length,
    text: `of ${rows.length} published figures ${parts.join('; ')}`,
  };
}
