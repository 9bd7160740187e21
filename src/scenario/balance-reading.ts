import type { EquipmentRecord } from '../records/study.js';
import { drawNormal, drawRectangular } from './draw.js';

/** What a load on the pan stands for: the deviation from linearity belongs to the load, not to the weighing. */
export type LoadKind =
  | 'crucible'
  | 'crucible with portion'
  | 'flux'
  | 'vessel'
  | 'vessel with solution and crucible'
  | 'acid'
  | 'aliquot'
  | 'final';

/** One weighing: the indication an ideal balance would give in this air, and which row it makes. */
export interface Weighing {
  readonly idealG: number;
  readonly load: LoadKind;
  readonly row: string;
  readonly day: number;
}

/** Indication in g of an ideal balance, adjusted in air against masses of 8000 kg/m3, for a true mass and density in kg/m3. */
export function idealIndication(trueMassG: number, density: number, airDensity: number): number {
  return (trueMassG * (1 - airDensity / density)) / (1 - airDensity / 8000);
}

/** The true mass in g behind an indication of an ideal balance. */
export function trueMass(indicationG: number, density: number, airDensity: number): number {
  return (indicationG * (1 - airDensity / 8000)) / (1 - airDensity / density);
}

/** Rounds to a scale interval of a power of ten, without the tail of binary arithmetic. */
export function roundToInterval(value: number, interval: number): number {
  return Number((Math.round(value / interval) * interval).toFixed(Math.round(-Math.log10(interval))));
}

/** A balance with its own drawn faults: gives readings in g from ideal indications. */
export type BalanceReader = (weighing: Weighing) => number;

/** A reader for one balance of the register, every error from its certificate and specification. */
export function balanceReader(seed: number, equipment: EquipmentRecord): BalanceReader {
  const { id, balance: spec } = equipment;
  if (spec === undefined) throw new TypeError(`${id} is not a balance`);
  const fixedGain =
    drawNormal(seed, spec.sensitivityRelative, ['equipment', id, 'sensitivity']) +
    drawRectangular(seed, spec.driftRelative, ['equipment', id, 'drift']);
  const dayGains = new Map<number, number>();
  const deviations = new Map<LoadKind, number>();
  return ({ idealG, load, row, day }) => {
    const warmth = remembered(
      dayGains,
      day,
      () =>
        spec.temperatureCoefficientPerK *
        drawRectangular(seed, spec.temperatureHalfWidthK, ['equipment', id, 'temperature', day]),
    );
    const deviation = remembered(deviations, load, () =>
      drawRectangular(seed, spec.linearityG, ['equipment', id, 'linearity', load]),
    );
    const corner = drawRectangular(seed, spec.eccentricityRelative, ['weighing', row, load, 'eccentricity']);
    const repeat = drawNormal(seed, spec.repeatabilityG, ['weighing', row, load, 'repeatability']);
    return roundToInterval(
      idealG * (1 + fixedGain + warmth + corner) + deviation + repeat,
      spec.scaleIntervalG,
    );
  };
}

function remembered<K>(values: Map<K, number>, key: K, draw: () => number): number {
  const known = values.get(key);
  if (known !== undefined) return known;
  const drawn = draw();
  values.set(key, drawn);
  return drawn;
}
