import type { Finding } from './finding.js';

/** Statement of fitness of one analyte (or of the method as a whole, `*`), from every finding that bears a criterion. */
export interface AnalyteFitness {
  readonly analyte: string;
  readonly statement: 'fit' | 'not fit' | 'not shown';
  readonly met: readonly Finding[];
  readonly notMet: readonly Finding[];
  /** Open criteria (*not shown* and *not studied*): the reason of each says what would show it. */
  readonly open: readonly Finding[];
  /** Findings without a criterion: known, but nothing was asked of them. */
  readonly withoutCriterion: readonly Finding[];
  readonly sentence: string;
}

/**
 * Statement of fitness per analyte: *fit* where every criterion is met, *not fit* where one is not met, else *not shown*.
 * Findings of the analyte `*` concern the method as a whole: they have a statement of their own, last, which every other one
 * presupposes. No adjustment is made for the number of criteria: all must be met, so
 * the chance of a wrong *fit* is at most that of the single criterion, and the chance of a true *fit* has to be planned for.
 *
 * @returns in order of first appearance; an analyte without any criterion is *not shown*
 * @see ISO/IEC 17025:2017, 7.2.2.4 e); Berger 1982, Technometrics 24, 295 (intersection-union test)
 */
export function fitness(findings: readonly Finding[]): AnalyteFitness[] {
  const names = [...new Set(findings.map((finding) => finding.analyte))];
  const common = names.includes('*') ? fitnessOf('*', findings, '') : null;
  const proviso = common === null || common.statement === 'fit' ? '' : provisoOf(common);
  const analytes = names.filter((name) => name !== '*');
  return [
    ...analytes.map((analyte) => fitnessOf(analyte, findings, proviso)),
    ...(common === null ? [] : [common]),
  ];
}

function fitnessOf(analyte: string, all: readonly Finding[], proviso: string): AnalyteFitness {
  const findings = all.filter((finding) => finding.analyte === analyte);
  const withVerdict = (...verdicts: Finding['verdict'][]) =>
    findings.filter((finding) => verdicts.includes(finding.verdict));
  const met = withVerdict('met');
  const notMet = withVerdict('not met');
  const open = findings.filter(
    (finding) =>
      finding.verdict === 'not shown' || (finding.verdict === 'not studied' && finding.criterion !== null),
  );
  const statement = notMet.length > 0 ? 'not fit' : open.length > 0 || met.length === 0 ? 'not shown' : 'fit';
  const sentence = sentenceOf(analyte, statement, met, notMet, open);
  return {
    analyte,
    statement,
    met,
    notMet,
    open,
    withoutCriterion: withVerdict('no criterion'),
    sentence: statement === 'fit' ? sentence + proviso : sentence,
  };
}

/** The statement of one analyte as a sentence to stand beside its results: `Si is not fit for the intended use; …`. */
export function fitnessClause({ analyte, sentence }: AnalyteFitness): string {
  return sentence.replace(': ', analyte === '*' ? ' are ' : ' is ');
}

/** What keeps *fit* of an analyte from holding: something open for all results, or for single samples only. */
function provisoOf({ notMet, open }: AnalyteFitness): string {
  const samples = onlySamples(notMet, open);
  return samples === null
    ? ' This holds once the last statement, on what all analytes have in common, is settled.'
    : ` This does not hold for ${samples}: see the last statement.`;
}

/** The samples that are all that stands open, in words; null where something else does too. */
function onlySamples(notMet: readonly Finding[], open: readonly Finding[]): string | null {
  const failing = [...notMet, ...open];
  if (failing.length === 0 || !failing.every((f) => ofOneSample.includes(f.characteristic))) return null;
  return `sample ${failing.map((f) => f.level).join(', ')}`;
}

/** Characteristics judged sample by sample: the verdict on one sample says nothing of the others. */
const ofOneSample = ['native internal standard'];

function sentenceOf(
  analyte: string,
  statement: AnalyteFitness['statement'],
  met: readonly Finding[],
  notMet: readonly Finding[],
  open: readonly Finding[],
): string {
  const total = met.length + notMet.length + open.length;
  const name = ({ characteristic, level }: Finding) =>
    `${characteristic} (${ofOneSample.includes(characteristic) ? `sample ${level} only` : level === '*' ? 'all levels' : level})`;
  const list = (findings: readonly Finding[]) => findings.map(name).join(', ');
  const who = analyte === '*' ? 'All analytes in common' : analyte;
  const shown = `${met.length} of ${total} findings met`;
  if (statement === 'fit')
    return `${who}: fit for the intended use; all ${total} findings with a criterion are met.`;
  if (total === 0) return `${who}: not shown to be fit; the plan sets no criterion.`;
  const failing = notMet.length > 0 ? ` Not met: ${list(notMet)}.` : '';
  const missing = open.length > 0 ? ` Not shown: ${list(open)}.` : '';
  const samples = analyte === '*' ? onlySamples(notMet, open) : null;
  const words = statement === 'not fit' ? 'not fit' : 'not shown to be fit';
  const opening = `${words} for ${samples ?? 'the intended use'}`;
  return `${who}: ${opening}; ${shown}.${failing}${missing}`;
}
