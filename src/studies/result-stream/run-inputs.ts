import type { Balance } from '../../chain/balance.js';
import type { Blank } from '../../chain/blank.js';
import { dilutionFragment } from '../../chain/dilution.js';
import { InputError } from '../../errors.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import type { Lane, LaneInputs } from '../../uncertainty/propagation/propagate-lanes.js';
import {
  calibrationCorrelations,
  type InputSource,
  type ResultTemplate,
  weighingInputs,
} from './result-template.js';
import type { StreamContext } from './stream-context.js';
import type { OpenRun } from './template-store.js';

/** Estimate and standard uncertainty of an input at each of some results. */
interface LanePair {
  readonly estimates: Lane;
  readonly standardUncertainties: Lane;
}

/** Inputs of the results of one run, gathered from its records. */
export class RunInputs {
  readonly #context: StreamContext;
  readonly #run: OpenRun;
  readonly #lines: number;
  readonly #kinds: readonly string[];
  /** By name, over all digestions of the run. */
  readonly #weighings = new Map<
    string,
    { readonly estimates: Float64Array; readonly uncertainties: Float64Array }
  >();
  readonly #memory = new Map<string, LanePair>();
  #gathered: readonly number[] = [];

  constructor(context: StreamContext, run: OpenRun) {
    this.#context = context;
    this.#run = run;
    this.#lines = run.readings.scopes.length;
    const { digestions } = run.signals;
    this.#kinds = digestions.map((row) => kindOf(context, row));
    for (const [d, row] of digestions.entries()) this.#weigh(row, d);
  }

  isWithoutPortion(d: number): boolean {
    const { crucibleG, crucibleWithPortionG } = this.#run.signals.digestions[d]!;
    return crucibleWithPortionG === crucibleG;
  }

  /**
   * What tells the equations of results on one line apart: kind of digestion, signals there are, and which of them share
   * a dilution. Null where there is no result: the line or that of an interferent was not read.
   *
   * @param lines of the signals, the own first; −1 for an interferent that the plan does not measure
   */
  makeOf(d: number, lines: readonly number[]): string | null {
    const { places } = this.#run.signals;
    let make = this.#kinds[d]!;
    const dilutions: string[] = [];
    for (let i = 0; i < lines.length; i++) {
      const line = lines[i]!;
      const place = line < 0 ? -1 : places[d * this.#lines + line]!;
      if (place < 0) {
        if (i === 0 || this.#run.signals.digestions[d]!.kind !== 'blank') return null;
        make += '-';
        continue;
      }
      const { solution } = this.#run.readings.places[place]!;
      if (!this.#context.dilutions.has(solution) || solution === this.#run.signals.digestions[d]!.digestion) {
        make += '0';
        continue;
      }
      if (!dilutions.includes(solution)) dilutions.push(solution);
      make += dilutions.indexOf(solution) + 1;
    }
    return make;
  }

  /** Inputs of a template at some digestions. */
  lanes(template: ResultTemplate, digestions: readonly number[], blank: Blank | null): LaneInputs {
    if (!isSameList(digestions, this.#gathered)) {
      this.#memory.clear();
      this.#gathered = digestions;
    }
    const scopes = this.#run.readings.scopes;
    const signalLines = template.signals.map((name) => scopes.findIndex((s) => s.analyte === name));
    const pairs = template.sources.map((source) => this.#pair(source, signalLines, digestions, blank));
    return {
      lanes: digestions.length,
      estimates: pairs.map((pair) => pair.estimates),
      standardUncertainties: pairs.map((pair, i) => (template.isExact[i] ? 0 : pair.standardUncertainties)),
      correlations: calibrationCorrelations(template, (signal) => {
        const { varianceIntercept, varianceSlope, covariance } = this.#calibration(signalLines[signal]!);
        const sigma = Math.sqrt(varianceIntercept * varianceSlope);
        return sigma > 0 ? covariance / sigma : 0;
      }),
    };
  }

  #pair(
    source: InputSource,
    signalLines: readonly number[],
    digestions: readonly number[],
    blank: Blank | null,
  ): LanePair {
    switch (source.kind) {
      case 'constant':
        return { estimates: source.estimate, standardUncertainties: source.standardUncertainty };
      case 'digestion':
        return this.#weighing(source.name, digestions);
      case 'dilution':
        return this.#dilution(source, signalLines[source.signal]!, digestions);
      case 'ratio': {
        const { ratios, ratioUncertainties } = this.#run.signals;
        return this.#cells(ratios, ratioUncertainties, signalLines[source.signal]!, digestions);
      }
      case 'drift': {
        const { drifts, driftUncertainties } = this.#run.signals;
        return this.#cells(drifts, driftUncertainties, signalLines[source.signal]!, digestions);
      }
      case 'intercept': {
        const { intercept, varianceIntercept } = this.#calibration(signalLines[source.signal]!);
        return { estimates: intercept, standardUncertainties: Math.sqrt(varianceIntercept) };
      }
      case 'slope': {
        const { slope, varianceSlope } = this.#calibration(signalLines[source.signal]!);
        return { estimates: slope, standardUncertainties: Math.sqrt(varianceSlope) };
      }
      default:
        return this.#ofSolid(source.kind, digestions, blank);
    }
  }

  #ofSolid(
    kind: 'blank mean' | 'blank deviation' | 'flux' | 'loss',
    digestions: readonly number[],
    blank: Blank | null,
  ): LanePair {
    const rows = digestions.map((d) => this.#run.signals.digestions[d]!);
    if (kind === 'flux') {
      return { estimates: Float64Array.from(rows, (row) => row.fluxG), standardUncertainties: 0 };
    }
    if (kind === 'loss') {
      const losses = rows.map((row) => this.#context.moisture.get(row.sample)!);
      return {
        estimates: Float64Array.from(losses, (loss) => loss.lossGPer100G / 100),
        standardUncertainties: Float64Array.from(losses, (loss) => loss.standardUncertaintyGPer100G / 100),
      };
    }
    // A template with these inputs was made with a blank.
    const { mean, standardDeviation, n } = blank!;
    return kind === 'blank mean'
      ? { estimates: mean, standardUncertainties: standardDeviation / Math.sqrt(n) }
      : { estimates: 0, standardUncertainties: standardDeviation };
  }

  #calibration(line: number) {
    const calibration = this.#run.signals.calibrations[line];
    if (calibration !== undefined) return calibration;
    const { run, scopes } = this.#run.readings;
    const { analyte, lineNm } = scopes[line]!;
    throw new InputError(
      `run ${run}: found readings of ${analyte} at ${lineNm} nm, expected a calibration of it`,
    );
  }

  #cells(
    estimates: Float64Array,
    uncertainties: Float64Array,
    line: number,
    digestions: readonly number[],
  ): LanePair {
    const values = new Float64Array(digestions.length);
    const us = new Float64Array(digestions.length);
    for (let lane = 0; lane < values.length; lane++) {
      const cell = digestions[lane]! * this.#lines + line;
      values[lane] = estimates[cell]!;
      us[lane] = uncertainties[cell]!;
    }
    return { estimates: values, standardUncertainties: us };
  }

  /** The same weighings serve all analytes of the digestions. */
  #weighing(name: string, digestions: readonly number[]): LanePair {
    const known = this.#memory.get(name);
    if (known !== undefined) return known;
    const { estimates, uncertainties } = this.#weighings.get(name)!;
    const pair = {
      estimates: gathered(estimates, digestions),
      standardUncertainties: gathered(uncertainties, digestions),
    };
    this.#memory.set(name, pair);
    return pair;
  }

  #dilution(
    { dilution, name }: Extract<InputSource, { kind: 'dilution' }>,
    line: number,
    digestions: readonly number[],
  ): LanePair {
    const key = `${dilution}|${name}|${line}`;
    const known = this.#memory.get(key);
    if (known !== undefined) return known;
    const estimates = new Map<string, Float64Array>();
    const uncertainties = new Map<string, Float64Array>();
    digestions.forEach((d, lane) => {
      for (const input of this.#dilutionInputs(dilution, line, d)) {
        laneOf(estimates, input.name, digestions.length)[lane] = input.estimate;
        laneOf(uncertainties, input.name, digestions.length)[lane] = input.standardUncertainty;
      }
    });
    for (const [each, values] of estimates) {
      const pair = {
        estimates: equalised(values),
        standardUncertainties: equalised(uncertainties.get(each)!),
      };
      this.#memory.set(`${dilution}|${each}|${line}`, pair);
    }
    return this.#memory.get(key)!;
  }

  #dilutionInputs(name: string, line: number, d: number) {
    const row = this.#run.signals.digestions[d]!;
    const place = this.#run.signals.places[d * this.#lines + line]!;
    const record = this.#context.dilutions.get(this.#run.readings.places[place]!.solution)!;
    if (record.finalG === null) {
      throw new InputError(
        `dilution ${record.dilution}: expected a final mass in g; dilution to a volume needs a calibration in mg/L`,
      );
    }
    const { dilution, aliquotG, finalG } = record;
    const balance = this.#balance(row.vesselBalance);
    return dilutionFragment(name, { dilution, balance, aliquotG, finalG }).inputs;
  }

  #balance(id: string): Balance {
    const balance = this.#context.index.balances.get(id);
    if (balance === undefined)
      throw new InputError(`balance ${id}: expected a balance of the equipment register`);
    return balance;
  }

  #weigh(row: DigestionRecord, d: number): void {
    const { digestion, crucibleG, crucibleWithPortionG, vesselEmptyG, vesselWithSolutionAndCrucibleG } = row;
    const balance = this.#balance(row.portionBalance);
    // Densities other than that of the solution hold for all digestions: they are constants of the templates.
    const density = { estimate: 1.2, standardUncertainty: 0, distribution: 'normal' as const, source: '' };
    const count = this.#run.signals.digestions.length;
    const inputs = weighingInputs({
      portion: {
        ...{ digestion, balance, crucibleG, crucibleWithPortionG },
        ...{ airDensity: density, portionDensity: density },
      },
      solution: {
        ...{ digestion, vesselBalance: this.#balance(row.vesselBalance), crucibleBalance: balance },
        ...{ crucibleG, vesselEmptyG, vesselWithSolutionAndCrucibleG, airDensity: density },
        solutionDensityKgPerM3: (row.densityGPerML ?? 1) * 1000,
      },
    });
    for (const { name, estimate, standardUncertainty } of inputs) {
      let lane = this.#weighings.get(name);
      if (lane === undefined) {
        lane = { estimates: new Float64Array(count), uncertainties: new Float64Array(count) };
        this.#weighings.set(name, lane);
      }
      lane.estimates[d] = estimate;
      lane.uncertainties[d] = standardUncertainty;
    }
  }
}

function kindOf(context: StreamContext, row: DigestionRecord): string {
  const isBlank = row.crucibleWithPortionG === row.crucibleG;
  const hasLoss = context.moisture.has(row.sample);
  return `${row.kind === 'blank'}|${isBlank}|${hasLoss}|${row.portionBalance === row.vesselBalance}|`;
}

function laneOf(lanes: Map<string, Float64Array>, name: string, length: number): Float64Array {
  let lane = lanes.get(name);
  if (lane === undefined) {
    lane = new Float64Array(length);
    lanes.set(name, lane);
  }
  return lane;
}

function gathered(values: Float64Array, places: readonly number[]): Lane {
  return equalised(Float64Array.from(places, (place) => values[place]!));
}

/** One number where all are the same. */
function equalised(values: Float64Array): Lane {
  const first = values[0]!;
  return values.every((value) => value === first) ? first : values;
}

function isSameList(first: readonly number[], second: readonly number[]): boolean {
  return first.length === second.length && first.every((value, i) => value === second[i]);
}
