/** A function of one argument with what the engine needs to know of it. */
export interface FunctionRule {
  readonly value: (x: number) => number;
  /** First, second and third derivative; the second argument is the function's own value at x. */
  readonly first: (x: number, value: number) => number;
  readonly second: (x: number, value: number) => number;
  readonly third: (x: number, value: number) => number;
  /** The first derivative as a formula in `x`. */
  readonly derivative: string;
  /** Unit of the value: that of a pure number, that of the argument, or a root of it. */
  readonly unit: 'number' | 'same' | 'square root' | 'cube root';
}

const ln2 = Math.LN2;
const ln10 = Math.LN10;

/** The functions a formula may call. There are no others, and a formula cannot define one. */
export const functionRules: Readonly<Record<string, FunctionRule>> = Object.freeze({
  sqrt: {
    value: Math.sqrt,
    first: (_x, y) => 0.5 / y,
    second: (x, y) => -0.25 / (x * y),
    third: (x, y) => 0.375 / (x * x * y),
    derivative: '1/(2*sqrt(x))',
    unit: 'square root',
  },
  cbrt: {
    value: Math.cbrt,
    first: (_x, y) => 1 / (3 * y * y),
    second: (x, y) => -2 / (9 * x * y * y),
    third: (x, y) => 10 / (27 * x * x * y * y),
    derivative: '1/(3*cbrt(x)^2)',
    unit: 'cube root',
  },
  exp: {
    value: Math.exp,
    first: (_x, y) => y,
    second: (_x, y) => y,
    third: (_x, y) => y,
    derivative: 'exp(x)',
    unit: 'number',
  },
  expm1: {
    value: Math.expm1,
    first: (x) => Math.exp(x),
    second: (x) => Math.exp(x),
    third: (x) => Math.exp(x),
    derivative: 'exp(x)',
    unit: 'number',
  },
  log: {
    value: Math.log,
    first: (x) => 1 / x,
    second: (x) => -1 / (x * x),
    third: (x) => 2 / (x * x * x),
    derivative: '1/x',
    unit: 'number',
  },
  log10: {
    value: Math.log10,
    first: (x) => 1 / (x * ln10),
    second: (x) => -1 / (x * x * ln10),
    third: (x) => 2 / (x * x * x * ln10),
    derivative: '1/(x*log(10))',
    unit: 'number',
  },
  log2: {
    value: Math.log2,
    first: (x) => 1 / (x * ln2),
    second: (x) => -1 / (x * x * ln2),
    third: (x) => 2 / (x * x * x * ln2),
    derivative: '1/(x*log(2))',
    unit: 'number',
  },
  log1p: {
    value: Math.log1p,
    first: (x) => 1 / (1 + x),
    second: (x) => -1 / (1 + x) ** 2,
    third: (x) => 2 / (1 + x) ** 3,
    derivative: '1/(1+x)',
    unit: 'number',
  },
  abs: {
    value: Math.abs,
    first: (x, y) => x / y,
    second: (x) => (x === 0 ? Number.NaN : 0),
    third: (x) => (x === 0 ? Number.NaN : 0),
    derivative: 'x/abs(x)',
    unit: 'same',
  },
  sin: {
    value: Math.sin,
    first: (x) => Math.cos(x),
    second: (_x, y) => -y,
    third: (x) => -Math.cos(x),
    derivative: 'cos(x)',
    unit: 'number',
  },
  cos: {
    value: Math.cos,
    first: (x) => -Math.sin(x),
    second: (_x, y) => -y,
    third: (x) => Math.sin(x),
    derivative: '-sin(x)',
    unit: 'number',
  },
  tan: {
    value: Math.tan,
    first: (_x, y) => 1 + y * y,
    second: (_x, y) => 2 * y * (1 + y * y),
    third: (_x, y) => 2 * (1 + y * y) * (1 + 3 * y * y),
    derivative: '1/cos(x)^2',
    unit: 'number',
  },
  asin: {
    value: Math.asin,
    first: (x) => 1 / Math.sqrt((1 - x) * (1 + x)),
    second: (x) => x / ((1 - x) * (1 + x)) ** 1.5,
    third: (x) => (1 + 2 * x * x) / ((1 - x) * (1 + x)) ** 2.5,
    derivative: '1/sqrt(1-x^2)',
    unit: 'number',
  },
  acos: {
    value: Math.acos,
    first: (x) => -1 / Math.sqrt((1 - x) * (1 + x)),
    second: (x) => -x / ((1 - x) * (1 + x)) ** 1.5,
    third: (x) => -(1 + 2 * x * x) / ((1 - x) * (1 + x)) ** 2.5,
    derivative: '-1/sqrt(1-x^2)',
    unit: 'number',
  },
  atan: {
    value: Math.atan,
    first: (x) => 1 / (1 + x * x),
    second: (x) => (-2 * x) / (1 + x * x) ** 2,
    third: (x) => (6 * x * x - 2) / (1 + x * x) ** 3,
    derivative: '1/(1+x^2)',
    unit: 'number',
  },
  sinh: {
    value: Math.sinh,
    first: (x) => Math.cosh(x),
    second: (_x, y) => y,
    third: (x) => Math.cosh(x),
    derivative: 'cosh(x)',
    unit: 'number',
  },
  cosh: {
    value: Math.cosh,
    first: (x) => Math.sinh(x),
    second: (_x, y) => y,
    third: (x) => Math.sinh(x),
    derivative: 'sinh(x)',
    unit: 'number',
  },
  tanh: {
    value: Math.tanh,
    first: (x) => 1 / Math.cosh(x) ** 2,
    second: (x, y) => (-2 * y) / Math.cosh(x) ** 2,
    third: (x, y) => (6 * y * y - 2) / Math.cosh(x) ** 2,
    derivative: '1/cosh(x)^2',
    unit: 'number',
  },
} satisfies Record<string, FunctionRule>);

/** The rule of a function, or nothing where a formula may not call it. */
export function functionRule(name: string): FunctionRule | undefined {
  return Object.hasOwn(functionRules, name) ? functionRules[name] : undefined;
}
