import type { Blank } from '../../chain/blank.js';
import type { RandomParts } from '../../chain/result-model.js';
import { InputError } from '../../errors.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import type { MeasuredSolution } from '../measured-solutions.js';
import { interferentsOf, observe } from '../observations.js';
import { type StudyIndex, solutionKey } from '../study-index.js';
import { ResultForms } from './result-forms.js';
import { type ResultTemplate, resultTemplate } from './result-template.js';
import type { RunReadings } from './run-readings.js';
import type { RunSignals } from './run-signals.js';
import { digestionOf, type StreamContext } from './stream-context.js';

/** How the random parts of each analyte's results are counted. */
export type RandomPartsOf = (analyte: string) => RandomParts;

/** One run while its results are worked out. */
export interface OpenRun {
  readonly readings: RunReadings;
  readonly signals: RunSignals;
  readonly spectrometer: string;
  /** Index of what the runs share, with the calibrations and standards of this run. */
  readonly index: () => StudyIndex;
  /** Stock of each line as text: its name and uncertainty are constants of a template. */
  readonly stocks: readonly string[];
}

type BySolution = ReadonlyMap<string, readonly MeasuredSolution[]>;

/** Templates by what tells the results of one line apart. */
export type LineTemplates = Map<string, ResultTemplate>;

/** Keeps the templates of a stream: a year of results needs some hundreds. */
export class TemplateStore {
  readonly #context: StreamContext;
  readonly #randomOf: RandomPartsOf;
  readonly #templates = new Map<string, LineTemplates>();
  readonly #shapes = new Map<string, number>();
  readonly #forms = new ResultForms();
  readonly #signals = new Map<ResultTemplate, readonly number[]>();
  readonly #interferents = new Map<string, readonly number[]>();
  #last: {
    readonly readings: RunReadings;
    readonly digestion: DigestionRecord;
    readonly bySolution: BySolution;
  } | null = null;

  constructor(context: StreamContext, randomOf: RandomPartsOf) {
    this.#context = context;
    this.#randomOf = randomOf;
  }

  /** Lines of the signals that a result of the line rests on, its own first. */
  signalLines({ readings }: OpenRun, line: number): readonly number[] {
    const { analyte, lineNm } = readings.scopes[line]!;
    const known = this.#interferents.get(analyte);
    if (known !== undefined) return known;
    const names = [analyte, ...interferentsOf(this.#context.index, analyte, lineNm)];
    const lines = names.map((name) => readings.scopes.findIndex((s) => s.analyte === name));
    this.#interferents.set(analyte, lines);
    return lines;
  }

  /** Templates of the results of one line in a run, by what tells these apart (`Group.make`): there are few, for many groups. */
  ofLine(run: OpenRun, line: number, blank: Blank | null): LineTemplates {
    let key = `${line}|${blank === null ? '' : 'blank'}|`;
    if (blank !== null) for (const { label } of blank.calibrations ?? []) key += `${label},`;
    for (const signal of this.signalLines(run, line)) key += `|${run.stocks[signal] ?? ''}`;
    let known = this.#templates.get(key);
    if (known === undefined) {
      known = new Map();
      this.#templates.set(key, known);
    }
    return known;
  }

  /** Template of the results of one line that are made alike, of which digestion `d` is one. */
  template(
    known: LineTemplates,
    run: OpenRun,
    line: number,
    d: number,
    make: string,
    blank: Blank | null,
  ): ResultTemplate {
    const found = known.get(make);
    if (found !== undefined) return found;
    const made = this.#make(run, line, d, blank);
    known.set(make, made);
    return made;
  }

  /** Lines of the signals of a template, in their order. */
  linesOf({ readings }: OpenRun, template: ResultTemplate): readonly number[] {
    const known = this.#signals.get(template);
    if (known !== undefined) return known;
    const lines = template.signals.map((name) => readings.scopes.findIndex((s) => s.analyte === name));
    this.#signals.set(template, lines);
    return lines;
  }

  #make(run: OpenRun, line: number, d: number, blank: Blank | null): ResultTemplate {
    const digestion = run.signals.digestions[d]!;
    const { analyte } = run.readings.scopes[line]!;
    const index = { ...run.index(), bySolution: this.#solutionsOf(run.readings, digestion) };
    const observation = observe(index, digestion.digestion, analyte, blank);
    if (observation === null) {
      throw new InputError(
        `run ${run.readings.run}: found no reading of ${analyte} in ${digestion.digestion}`,
      );
    }
    const canPropagate = digestion.crucibleWithPortionG > digestion.crucibleG;
    return resultTemplate(observation, this.#randomOf(analyte), canPropagate, this.#shapes, this.#forms);
  }

  /** What was read of one digestion: the first of those of one kind serves all lines. */
  #solutionsOf(readings: RunReadings, digestion: DigestionRecord): BySolution {
    const last = this.#last;
    if (last?.readings === readings && last.digestion === digestion) return last.bySolution;
    const bySolution = solutionsOf(this.#context, readings, digestion);
    this.#last = { readings, digestion, bySolution };
    return bySolution;
  }
}

/** What was read of one digestion, as `observe` looks it up. */
function solutionsOf(context: StreamContext, readings: RunReadings, digestion: DigestionRecord): BySolution {
  const found = new Map<string, MeasuredSolution[]>();
  const { run, places, scopes, counts, means } = readings;
  const own: number[] = [];
  for (let place = 0; place < places.length; place++) {
    if (digestionOf(context, places[place]!.solution) === digestion) own.push(place);
  }
  own.sort((a, b) => places[a]!.milliseconds - places[b]!.milliseconds);
  for (const place of own) {
    const { solution, position, milliseconds } = places[place]!;
    scopes.forEach(({ analyte, lineNm }, line) => {
      const cell = place * scopes.length + line;
      if (counts[cell] === 0) return;
      const key = solutionKey(solution, analyte, lineNm);
      const measured = {
        ...{ run, position, timeHours: milliseconds / 3_600_000, solution, analyte, lineNm },
        ...{ ratios: new Array<number>(counts[cell]!).fill(means[cell]!), meanRatio: means[cell]! },
        ...{ readingStandardDeviation: null, internalStandard: null },
      };
      found.set(key, [...(found.get(key) ?? []), measured]);
    });
  }
  return found;
}
