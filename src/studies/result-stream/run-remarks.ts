import { type Calibration, contentOfRatio } from '../../chain/calibration.js';
import { interferentsOf } from '../observations.js';
import { stated } from '../stated-inputs.js';
import { usable } from '../study-index.js';
import type { RunFigures } from './evaluate-run.js';
import type { StreamContext } from './stream-context.js';
import type { OpenRun } from './template-store.js';

/** What a reader has to know beside one result. */
export type ResultRemark =
  | 'no blank subtracted'
  | 'drift not corrected (fewer than two check solutions)'
  | 'above the highest standard'
  | 'an interferent above the highest standard'
  | 'below the lowest content reported'
  | 'scatter of readings not in the uncertainty'
  | 'melt not clear'
  | 'residue in the solution'
  | 'no density of the solution (taken as 1 g/mL)';

/** Why an analyte that was read in a digestion has no result. */
export type WithoutResult =
  | 'excluded'
  | 'no mass of the empty vessel'
  | 'an interferent was not read in the run';

/** Tells of the results of one run what its records show at once; nothing is worked out anew. */
export class RunRemarks {
  readonly #context: StreamContext;
  readonly #run: OpenRun;
  readonly #figures: RunFigures;
  readonly #lines: number;
  /** By line: those of its interferents that the plan measures. */
  readonly #interferents: readonly (readonly number[])[];
  readonly #isDriftTaken: readonly boolean[];
  readonly #highest: readonly number[];
  /** By line: what a ratio is multiplied by before the calibration takes it. */
  readonly #factors: readonly number[];

  constructor(context: StreamContext, run: OpenRun, figures: RunFigures) {
    const { scopes } = run.readings;
    this.#context = context;
    this.#run = run;
    this.#figures = figures;
    this.#lines = scopes.length;
    this.#interferents = scopes.map(({ analyte, lineNm }) =>
      interferentsOf(context.index, analyte, lineNm)
        .map((name) => scopes.findIndex((scope) => scope.analyte === name))
        .filter((line) => line >= 0),
    );
    this.#isDriftTaken = scopes.map((_, line) => checksRead(context, run, line) > 1);
    this.#highest = run.signals.calibrations.map(highestStandard);
    this.#factors = scopes.map(({ analyte }) => ratioFactor(context, analyte));
  }

  /** Remarks on the result of digestion `d` on a line. */
  of(d: number, line: number): ResultRemark[] {
    const remarks: ResultRemark[] = [];
    const { signals, readings } = this.#run;
    const cell = d * this.#lines + line;
    if (this.#figures.blanks[line] === null) remarks.push('no blank subtracted');
    if (!this.#isDriftTaken[line]) remarks.push('drift not corrected (fewer than two check solutions)');
    if (this.#isBeyond(d, line)) remarks.push('above the highest standard');
    if (this.#interferents[line]!.some((other) => this.#isBeyond(d, other)))
      remarks.push('an interferent above the highest standard');
    if (this.#figures.values[cell]! < readings.scopes[line]!.lowestReported)
      remarks.push('below the lowest content reported');
    if (signals.ratioUncertainties[cell] === 0) remarks.push('scatter of readings not in the uncertainty');
    const { melt, solution, densityGPerML } = signals.digestions[d]!;
    if (melt !== 'clear') remarks.push('melt not clear');
    if (solution !== 'clear') remarks.push('residue in the solution');
    if (densityGPerML === null) remarks.push('no density of the solution (taken as 1 g/mL)');
    return remarks;
  }

  /** Why digestion `d`, read on a line, has no result there; null where it has one, was not read there, or is a blank. */
  withoutResult(d: number, line: number): WithoutResult | null {
    const { signals, readings } = this.#run;
    const cell = d * this.#lines + line;
    const { digestion, kind, vesselEmptyG } = signals.digestions[d]!;
    if (kind === 'blank' || signals.places[cell]! < 0 || !Number.isNaN(this.#figures.values[cell]))
      return null;
    if (!usable(this.#context.index, digestion, readings.scopes[line]!.analyte)) return 'excluded';
    return vesselEmptyG === null ? 'no mass of the empty vessel' : 'an interferent was not read in the run';
  }

  /** Content of the solution that was read, against the highest standard of its line. */
  #isBeyond(d: number, line: number): boolean {
    const { places, ratios, drifts, calibrations } = this.#run.signals;
    const cell = d * this.#lines + line;
    const calibration = calibrations[line];
    if (calibration === undefined || places[cell]! < 0) return false;
    const ratio = (ratios[cell]! * this.#factors[line]!) / drifts[cell]!;
    return contentOfRatio(calibration, ratio) > this.#highest[line]!;
  }
}

function checksRead({ records }: StreamContext, { readings }: OpenRun, line: number): number {
  const { places, counts, scopes } = readings;
  const isRead = (place: number) => counts[place * scopes.length + line]! > 0;
  return places.filter(({ solution }, p) => solution === records.plan.driftCheckSolution && isRead(p)).length;
}

function highestStandard(calibration: Calibration | undefined): number {
  return calibration === undefined
    ? Number.POSITIVE_INFINITY
    : Math.max(...calibration.points.map(({ content }) => content));
}

/** See `contentMeasured`, with the internal standard on line. */
function ratioFactor({ index }: StreamContext, analyte: string): number {
  if (analyte === index.records.plan.internalStandard.element) return 1;
  const pump = stated(index, 'pump flow ratio', analyte)?.estimate ?? 1;
  return pump * (1 + (stated(index, 'native internal standard', analyte)?.estimate ?? 0));
}
