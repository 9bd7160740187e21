import type { CalibrationRecord } from '../../records/tables/calibration.js';
import { calibrationKey } from '../run-calibrations.js';
import { stockOf } from '../stock-of-calibration.js';
import { type StudyIndex, spectrometerOn } from '../study-index.js';
import type { RunReadings } from './run-readings.js';
import { type RunSignals, runSignals } from './run-signals.js';
import type { StreamContext } from './stream-context.js';
import type { OpenRun } from './template-store.js';

/** Opens one run after the other. */
export class RunOpener {
  readonly #context: StreamContext;
  /** Stocks as text by analyte and name: runs share them. */
  readonly #stocks = new Map<string, string>();

  constructor(context: StreamContext) {
    this.#context = context;
  }

  /**
   * @throws InputError a solution of the run that is no digestion, dilution, standard or check; a calibration without fit; a stock
   *   that the table of standards does not hold
   */
  open(readings: RunReadings): OpenRun {
    const context = this.#context;
    const signals = runSignals(context, readings);
    const calibration = context.calibrationOf.get(readings.run) ?? [];
    const spectrometer = spectrometerOn(context.records.equipment, readings.day);
    let index: StudyIndex | null = null;
    return {
      readings,
      signals,
      spectrometer,
      stocks: this.#stocksOf(readings, signals, calibration),
      // Asked for where a template is made or single results are: in few runs.
      index: () => {
        index ??= indexOf(context, signals, calibration, spectrometer);
        return index;
      },
    };
  }

  #stocksOf(
    { run, scopes }: RunReadings,
    { calibrations }: RunSignals,
    calibration: readonly CalibrationRecord[],
  ): string[] {
    const names = stockNames(calibration);
    const stocks: string[] = [];
    for (let line = 0; line < scopes.length; line++) {
      const { analyte } = scopes[line]!;
      stocks.push(
        calibrations[line] === undefined ? '' : this.#stock(run, analyte, names.get(analyte), calibration),
      );
    }
    return stocks;
  }

  #stock(
    run: string,
    analyte: string,
    name: string | undefined,
    calibration: readonly CalibrationRecord[],
  ): string {
    const key = `${analyte}|${name ?? ''}`;
    const known = this.#stocks.get(key);
    if (known !== undefined) return known;
    const stock = stockOf({ ...this.#context.records, calibration }, run, analyte);
    const text = `${stock.name}|${stock.relativeStandardUncertainty}`;
    this.#stocks.set(key, text);
    return text;
  }
}

/** What the first standard of each analyte that names a stock was made from: see `stockOf`. */
function stockNames(calibration: readonly CalibrationRecord[]): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  for (const { analyte, preparedFrom } of calibration) {
    if (preparedFrom !== '' && !names.has(analyte)) names.set(analyte, preparedFrom);
  }
  return names;
}

function indexOf(
  context: StreamContext,
  signals: RunSignals,
  calibration: readonly CalibrationRecord[],
  spectrometer: string,
): StudyIndex {
  const calibrations = new Map(
    signals.calibrations.flatMap((c) =>
      c === undefined ? [] : [[calibrationKey(c.run, c.analyte, c.lineNm), c] as const],
    ),
  );
  return { ...context.index, records: { ...context.records, calibration }, calibrations, spectrometer };
}
