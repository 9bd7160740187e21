import { evaluateReferenceCase, roundsTo } from '../../uncertainty/reference-case/evaluate-reference-case.js';
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
  /**
   * Equal to half a unit of the last printed digit, a simulated figure with three standard errors beside; or a known exception
   * that the case explains.
   */
  readonly holds: boolean;
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
      evaluateReferenceCase(published).map(({ name, printed, computed, agrees, exception }) =>
        figure(published, name, printed, computed, agrees || exception !== undefined),
      ),
    ),
    ...cases.own.flatMap((published) =>
      published.published.map((printedFigure) => ownComparison(published, printedFigure)),
    ),
    ...Object.entries(precision.published).flatMap(([level, printed]) =>
      (['m', 's_r', 's_R'] as const).map((name) =>
        compared(precision, `${name}, ${level}`, printed[name], precisionOf[level]![name]),
      ),
    ),
    ...(Object.keys(lineOf) as (keyof typeof lineOf)[]).map((name) =>
      compared(line, name, line.published[name], lineOf[name]),
    ),
    ...(Object.keys(daysOf) as (keyof typeof daysOf)[]).map((name) =>
      compared(days, name, days.published[name], daysOf[name]),
    ),
    ...(Object.keys(calibrationOf) as (keyof typeof calibrationOf)[]).map((name) =>
      compared(calibration, name, calibration.published[name], calibrationOf[name]),
    ),
  ];
}

/** An abridged atomic weight holds within the uncertainty printed with it; a known exception is explained in its case. */
function ownComparison(published: OwnCase, { name, printed, uncertainty }: OwnFigure): SelfCheckFigure {
  const computed = ownFigure(published, name);
  const isException = published.exceptions?.some((e) => e.name === name) ?? false;
  const covers = uncertainty !== undefined && Math.abs(computed - Number(printed)) <= Number(uncertainty);
  return figure(published, name, printed, computed, roundsTo(computed, printed) || covers || isException);
}

function compared(described: Described, name: string, printed: string, computed: number): SelfCheckFigure {
  return figure(described, name, printed, computed, roundsTo(computed, printed));
}

function figure(
  { title, source, figureTakenFrom }: Described,
  name: string,
  printed: string,
  computed: number,
  holds: boolean,
): SelfCheckFigure {
  const value = Number(printed);
  const error = Math.abs(computed - value) / Math.abs(value === 0 ? 1 : value);
  return {
    source: `${source.document}:${source.edition}`,
    clause: source.clause,
    quantity: `${title}: ${name}`,
    published: printed,
    computed,
    digits: error === 0 ? 15 : Math.min(15, Math.max(0, -Math.log10(error))),
    holds,
    figureTakenFrom,
  };
}
