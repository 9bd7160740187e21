/** A number as decimal digits: ± 0.d₁d₂d₃… · 10^exponent. Zero has no digits. */
interface Decimal {
  readonly negative: boolean;
  readonly digits: string;
  readonly exponent: number;
}

/**
 * Fifteen digits hold every decimal number as it was typed; what binary arithmetic adds behind them, such as the last
 * digits of 0.1 + 0.2, is not part of the figure.
 */
function toDecimal(value: number): Decimal {
  const [mantissa = '', power = '0'] = Math.abs(value).toExponential(14).split('e');
  const digits = mantissa.replace('.', '').replace(/0+$/, '');
  return { negative: value < 0, digits, exponent: digits === '' ? 0 : Number(power) + 1 };
}

function oneMore(digits: string): { readonly digits: string; readonly carried: boolean } {
  const cut = digits.replace(/9+$/, '');
  if (cut === '') return { digits: '1', carried: true };
  return { digits: cut.slice(0, -1) + String(Number(cut.at(-1)) + 1), carried: false };
}

/** Keeps `count` digits (0 or fewer keeps what carrying leaves), a half going to the even neighbour. */
function keepDigits(decimal: Decimal, count: number): Decimal {
  const { negative, digits, exponent } = decimal;
  if (digits.length <= count) return decimal;
  const kept = digits.slice(0, Math.max(0, count));
  const rest = count < 0 ? `0${digits}` : digits.slice(count);
  const half = rest[0] === '5' && /^50*$/.test(rest);
  const up = half ? Number(kept.at(-1) ?? '0') % 2 === 1 : rest[0]! >= '5';
  if (!up) return trimmed(negative, kept, exponent);
  if (kept === '') return { negative, digits: '1', exponent: exponent - Math.min(count, 0) + 1 };
  const next = oneMore(kept);
  return { negative, digits: next.digits, exponent: next.carried ? exponent + 1 : exponent };
}

function trimmed(negative: boolean, digits: string, exponent: number): Decimal {
  const kept = digits.replace(/0+$/, '');
  return { negative, digits: kept, exponent: kept === '' ? 0 : exponent };
}

function toPlainText({ negative, digits, exponent }: Decimal, decimals: number): string {
  const places = Math.max(0, decimals);
  const padded =
    exponent > 0 ? digits.padEnd(exponent, '0') : '0'.repeat(1 - exponent) + (digits === '' ? '0' : digits);
  const point = Math.max(1, exponent);
  const fraction = padded.slice(point).padEnd(places, '0').slice(0, places);
  const text = fraction === '' ? padded.slice(0, point) : `${padded.slice(0, point)}.${fraction}`;
  return negative && digits !== '' ? `-${text}` : text;
}

/** Text of a number with so many decimals (negative: to tens, hundreds …), a half going to the even digit. */
export function toDecimals(value: number, decimals: number): string {
  const decimal = toDecimal(value);
  return toPlainText(keepDigits(decimal, decimal.exponent + decimals), decimals);
}

/** Decimals needed to show so many significant digits of a number, after rounding it: 0.0996 to two digits needs 2. */
export function decimalsFor(value: number, digits: number): number {
  return digits - keepDigits(toDecimal(value), digits).exponent;
}

/** Text with so many significant digits in the form 1.23e-7. */
export function toScientific(value: number, digits: number): string {
  const { negative, digits: kept, exponent } = keepDigits(toDecimal(value), digits);
  const padded = kept.padEnd(digits, '0');
  const mantissa = digits > 1 ? `${padded[0]}.${padded.slice(1)}` : padded;
  return `${negative ? '-' : ''}${mantissa}e${exponent - 1}`;
}
