import type { ReadingRecord } from '../../records/tables/readings.js';
import { randomStream } from '../../uncertainty/random-stream.js';
import { timeOfDay } from '../calendar.js';
import { names, nominal, trueComponents } from '../design/components.js';
import { nativeRunDay } from '../design/schedule.js';
import type { DigestionContents } from '../digestion-contents.js';
import type { CalibrationSolution } from './calibration.js';

/** Response of the internal-standard line, counts per second per mg/kg; background as content, mg/kg; noise floor, mg/kg. */
const line = { response: 80_000, background: 0.01, floor: 0.0003, relative: 0.004 } as const;

/** The run without internal standard: standards of its element, then digestions that may hold it natively. */
export function nativeReadings(
  seed: number,
  calibration: readonly CalibrationSolution[],
  digestions: readonly DigestionContents[],
): ReadingRecord[] {
  const element = names.internalStandard;
  const pumped = [
    ...calibration.map(({ solution, contents }) => ({ solution, content: contents.get(element)!.actual })),
    ...digestions.map(({ scheduled, nativeInternalStandard }) => ({
      solution: scheduled.digestion,
      content: nativeInternalStandard * nominal.internalStandardMgPerKg,
    })),
  ];
  return pumped.flatMap(({ solution, content }, index) => {
    const stream = randomStream(seed, 'readings', names.nativeRun, solution, 0, 'noise');
    return Array.from({ length: names.readings }, (_, repeat): ReadingRecord => {
      const noise = Math.hypot(line.floor, line.relative * content) * stream.normal();
      const flicker = 1 + trueComponents.flicker * stream.normal();
      return {
        run: names.nativeRun,
        position: index + 1,
        time: timeOfDay(nativeRunDay, 10 * 3600 + index * 120 + repeat * 20),
        solution,
        analyte: element,
        lineNm: names.internalStandardLineNm,
        repeat: repeat + 1,
        intensity: Math.round(line.response * flicker * (line.background + content + noise)),
        internalStandardIntensity: null,
      };
    });
  });
}
