import { InputError } from '../errors.js';
import { type Dimension, dimensionless, unitSymbols } from './unit-symbols.js';

/** A unit of measurement: a quantity of value 1 in it is `scale` in coherent SI units. */
export interface Unit {
  readonly text: string;
  readonly scale: number;
  /** Powers of metre, kilogram, second, ampere, kelvin, mole, candela. */
  readonly dimension: Dimension;
}

const pattern = /\s*(?:([·*])|(\/)|(\()|(\))|(\d+(?:\.\d+)?)|([A-Za-zµμΩ°%]+)(?:\^?([-−]?\d)|([⁻]?[²³¹]))?)/y;

/**
 * A unit from its text: SI units and those used with them, with prefixes; products by a space, `·` or `*`, one solidus,
 * powers as `m2`, `m^2` or `m²`, numbers as in `g/100 g`; `1` and `%` for pure numbers.
 *
 * @throws InputError text that is no unit, with the position from 1
 * @see SI brochure, 9th edition 2019, chapters 2 to 5
 * @example
 * parseUnit('mg/kg').scale // => 1e-6
 */
export function parseUnit(text: string): Unit {
  const known = parsed.get(text);
  if (known !== undefined) return known;
  const unit = new UnitReader(text).read();
  if (parsed.size < 1000) parsed.set(text, unit);
  return unit;
}

const parsed = new Map<string, Unit>();

class UnitReader {
  readonly #text: string;
  #at = 0;

  constructor(text: string) {
    this.#text = text;
  }

  read(): Unit {
    const unit = this.#ratio();
    if (this.#at < this.#text.trimEnd().length) this.#fail('expected a unit, with one "/" at most');
    return unit;
  }

  #fail(expected: string): never {
    const rest = this.#text.slice(this.#at).trimStart();
    const found = rest === '' ? 'the end' : `"${rest.slice(0, 12)}"`;
    const position = this.#text.length - rest.length + 1;
    throw new InputError(`unit "${this.#text}", position ${position}: found ${found}; ${expected}`);
  }

  #next(): RegExpExecArray | null {
    pattern.lastIndex = this.#at;
    return pattern.exec(this.#text);
  }

  #ratio(): Unit {
    const above = this.#product();
    const solidus = this.#next();
    if (solidus?.[2] === undefined) return above;
    this.#at = pattern.lastIndex;
    const below = this.#number() ?? { text: '', scale: 1, dimension: dimensionless };
    const divisor = combine(below, this.#factor() ?? this.#fail('expected a unit after "/"'), 1);
    if (this.#peeksFactor()) this.#fail('expected parentheses around a product after "/"');
    return { ...combine(above, divisor, -1), text: this.#text };
  }

  #product(): Unit {
    let unit = this.#number() ?? this.#factor();
    if (unit === undefined) this.#fail('expected a unit');
    for (;;) {
      const sign = this.#next()?.[1];
      if (sign !== undefined) this.#at = pattern.lastIndex;
      const factor = this.#factor();
      if (factor === undefined) {
        if (sign !== undefined) this.#fail(`expected a unit after "${sign}"`);
        return { ...unit, text: this.#text };
      }
      unit = combine(unit, factor, 1);
    }
  }

  #peeksFactor(): boolean {
    const match = this.#next();
    return match !== null && match[4] === undefined;
  }

  #number(): Unit | undefined {
    const digits = this.#next()?.[5];
    if (digits === undefined) return undefined;
    if (Number(digits) === 0) this.#fail('expected a number above 0');
    this.#at = pattern.lastIndex;
    return { text: digits, scale: Number(digits), dimension: dimensionless };
  }

  #factor(): Unit | undefined {
    const match = this.#next();
    if (match === null) return undefined;
    const [, , , open, , , symbol, power, raised] = match;
    if (open !== undefined) {
      this.#at = pattern.lastIndex;
      const inner = this.#ratio();
      if (this.#next()?.[4] === undefined) this.#fail('expected ")"');
      this.#at = pattern.lastIndex;
      return inner;
    }
    if (symbol === undefined) return undefined;
    const base = unitSymbols.get(symbol) ?? this.#fail('expected a unit of the SI or one used with it');
    this.#at = pattern.lastIndex;
    return raise(base, powerOf(power, raised));
  }
}

function powerOf(power: string | undefined, raised: string | undefined): number {
  if (power !== undefined) return Number(power.replace('−', '-'));
  if (raised === undefined) return 1;
  const size = '¹²³'.indexOf(raised.at(-1)!) + 1;
  return raised.startsWith('⁻') ? -size : size;
}

function raise(unit: { readonly scale: number; readonly dimension: Dimension }, power: number): Unit {
  return { text: '', scale: unit.scale ** power, dimension: unit.dimension.map((d) => d * power) };
}

function combine(first: Unit, second: Unit, sign: 1 | -1): Unit {
  return {
    text: '',
    scale: sign === 1 ? first.scale * second.scale : first.scale / second.scale,
    dimension: first.dimension.map((d, i) => d + sign * second.dimension[i]!),
  };
}

/** Whether two units measure one kind of dimension. */
export function sameDimension(first: Dimension, second: Dimension): boolean {
  return first.every((power, i) => Math.abs(power - second[i]!) < 1e-9);
}

/**
 * Number by which a value in one unit is multiplied to be in another. A temperature in °C is an interval here.
 *
 * @throws InputError units of different dimension
 * @example
 * conversionFactor('g/100 g', 'mg/kg') // => 10000
 */
export function conversionFactor(from: string, to: string): number {
  const [source, target] = [parseUnit(from), parseUnit(to)];
  if (!sameDimension(source.dimension, target.dimension)) {
    throw new InputError(`a value in ${from} has no value in ${to}: their dimensions differ`);
  }
  return Number((source.scale / target.scale).toPrecision(15));
}
