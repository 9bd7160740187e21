import { evaluateReferenceCase } from '../../uncertainty/reference-case/evaluate-reference-case.js';
import { type AgreementAllowance, type AgreementKind, agreementOf } from './agreement.js';
import { calibrationFigures, daysFigures, lineFigures, ownFigure, precisionFigures } from './own-figures.js';
import type { OwnCase, OwnFigure, PublishedCases } from './published-case.js';

/** One published figure beside the one computed on this machine. */
export interface SelfCheckFigure {
  readonly source: string;
  readonly clause: string;
  readonly quantity: string;
  /** As printed in the source. */
  readonly published: string;
  readonly computed: number;
  /** Digits in which both agree. */
  readonly digits: number;
  readonly agreement: AgreementKind;
  /** Of a known exception: the arithmetic behind its exact value. */
  readonly why?: string;
  readonly figureTakenFrom: 'document read' | 'remembered and recomputed';
}

interface Described {
  readonly title: string;
  readonly source: { readonly document: string; readonly edition: string; readonly clause: string };
  readonly figureTakenFrom: SelfCheckFigure['figureTakenFrom'];
}

/** Computes every published figure anew. Remembered figures ask for a comparison with the laboratory's own copy. */
export function selfCheck(cases: PublishedCases): SelfCheckFigure[] {
  const { precision, line, days, calibration } = cases;
  const precisionOf = precisionFigures(precision);
  const lineOf = lineFigures(line);
  const daysOf = daysFigures(days);
  const calibrationOf = calibrationFigures(calibration);
  return [
    ...cases.generic.flatMap((published) =>
      evaluateReferenceCase(published).map(({ name, printed, computed, standardError, exception }) =>
        figure(published, name, printed, computed, {
          standardError,
          exactValue: exception?.computed,
          why: exception?.why,
        }),
      ),
    ),
    ...cases.own.flatMap((published) =>
      published.published.map((printedFigure) => ownComparison(published, printedFigure)),
    ),
    ...Object.entries(precision.published).flatMap(([level, printed]) =>
      (['m', 's_r', 's_R'] as const).map((name) =>
        figure(precision, `${name}, ${level}`, printed[name], precisionOf[level]![name]),
      ),
    ),
    ...(Object.keys(lineOf) as (keyof typeof lineOf)[]).map((name) =>
      figure(line, name, line.published[name], lineOf[name]),
    ),
    ...(Object.keys(daysOf) as (keyof typeof daysOf)[]).map((name) =>
      figure(days, name, days.published[name], daysOf[name]),
    ),
    ...(Object.keys(calibrationOf) as (keyof typeof calibrationOf)[]).map((name) =>
      figure(calibration, name, calibration.published[name], calibrationOf[name]),
    ),
  ];
}

function ownComparison(published: OwnCase, { name, printed, uncertainty }: OwnFigure): SelfCheckFigure {
  const exception = published.exceptions?.find((candidate) => candidate.name === name);
  return figure(published, name, printed, ownFigure(published, name), {
    printedUncertainty: uncertainty === undefined ? undefined : Number(uncertainty),
    exactValue: exception?.computed,
    why: exception?.why,
  });
}

function figure(
  { title, source, figureTakenFrom }: Described,
  name: string,
  printed: string,
  computed: number,
  { why, ...allowance }: AgreementAllowance & { readonly why?: string | undefined } = {},
): SelfCheckFigure {
  const value = Number(printed);
  const error = Math.abs(computed - value) / Math.abs(value === 0 ? 1 : value);
  const agreement = agreementOf(computed, printed, allowance);
  return {
    source: `${source.document}:${source.edition}`,
    clause: source.clause,
    quantity: `${title}: ${name}`,
    published: printed,
    computed,
    digits: error === 0 ? 15 : Math.min(15, Math.max(0, -Math.log10(error))),
    agreement,
    ...(agreement === 'explained exception' && why !== undefined ? { why } : {}),
    figureTakenFrom,
  };
}
