import { InputError } from '../errors.js';

/** Standard atomic weight as a rectangular distribution over its interval, relative to 1/12 of carbon 12 (g/mol). */
export interface AtomicWeight {
  readonly element: string;
  readonly value: number;
  readonly standardUncertainty: number;
  /** Half-width of the rectangular distribution. */
  readonly halfWidth: number;
  /** As the table prints it: an interval, or a value with its uncertainty in units of the last digit. */
  readonly standard: string;
}

/** IUPAC/CIAAW standard atomic weights 2024, as printed. */
const standardAtomicWeights: Readonly<Record<string, string>> = {
  H: '[1.00784,1.00811]',
  He: '4.002602(2)',
  Li: '[6.938,6.997]',
  Be: '9.0121831(5)',
  B: '[10.806,10.821]',
  C: '[12.0096,12.0116]',
  N: '[14.00643,14.00728]',
  O: '[15.99903,15.99977]',
  F: '18.998403162(5)',
  Ne: '20.1797(6)',
  Na: '22.98976928(2)',
  Mg: '[24.304,24.307]',
  Al: '26.9815384(3)',
  Si: '[28.084,28.086]',
  P: '30.973761998(5)',
  S: '[32.059,32.076]',
  Cl: '[35.446,35.457]',
  Ar: '[39.792,39.963]',
  K: '39.0983(1)',
  Ca: '40.078(4)',
  Sc: '44.955907(4)',
  Ti: '47.867(1)',
  V: '50.9415(1)',
  Cr: '51.9961(6)',
  Mn: '54.938043(2)',
  Fe: '55.845(2)',
  Co: '58.933194(3)',
  Ni: '58.6934(4)',
  Cu: '63.546(3)',
  Zn: '65.38(2)',
  Ga: '69.723(1)',
  Ge: '72.630(8)',
  As: '74.921595(6)',
  Se: '78.971(8)',
  Br: '[79.901,79.907]',
  Kr: '83.798(2)',
  Rb: '85.4678(3)',
  Sr: '87.62(1)',
  Y: '88.905838(2)',
  Zr: '91.222(3)',
  Nb: '92.90637(1)',
  Mo: '95.95(1)',
  Ru: '101.07(2)',
  Rh: '102.90549(2)',
  Pd: '106.42(1)',
  Ag: '107.8682(2)',
  Cd: '112.414(4)',
  In: '114.818(1)',
  Sn: '118.710(7)',
  Sb: '121.760(1)',
  Te: '127.60(3)',
  I: '126.90447(3)',
  Xe: '131.293(6)',
  Cs: '132.90545196(6)',
  Ba: '137.327(7)',
  La: '138.90547(7)',
  Ce: '140.116(1)',
  Pr: '140.90766(1)',
  Nd: '144.242(3)',
  Sm: '150.36(2)',
  Eu: '151.964(1)',
  Gd: '157.249(2)',
  Tb: '158.925354(7)',
  Dy: '162.500(1)',
  Ho: '164.930329(5)',
  Er: '167.259(3)',
  Tm: '168.934219(5)',
  Yb: '173.045(10)',
  Lu: '174.96669(5)',
  Hf: '178.486(6)',
  Ta: '180.94788(2)',
  W: '183.84(1)',
  Re: '186.207(1)',
  Os: '190.23(3)',
  Ir: '192.217(2)',
  Pt: '195.084(9)',
  Au: '196.966570(4)',
  Hg: '200.592(3)',
  Tl: '[204.382,204.385]',
  Pb: '[206.14,207.94]',
  Bi: '208.98040(1)',
  Th: '232.0377(4)',
  Pa: '231.03588(1)',
  U: '238.02891(3)',
};

/** Symbols of the elements that have a standard atomic weight, by atomic number; Pa after Th. */
export const elementSymbols: readonly string[] = Object.freeze(Object.keys(standardAtomicWeights));

/**
 * Standard atomic weight of an element: the middle of its interval with the standard uncertainty of a rectangular
 * distribution over it; for `x(n)` the interval is x ± n units of the last digit.
 *
 * @throws InputError no element with a standard atomic weight has this symbol
 * @see IUPAC/CIAAW Standard Atomic Weights 2024; rectangular distribution: Possolo et al. 2018, Pure Appl. Chem. 90, 395
 * @example
 * atomicWeight('Zr').standardUncertainty // => 0.00173205
 */
export function atomicWeight(element: string): AtomicWeight {
  if (!Object.hasOwn(standardAtomicWeights, element)) {
    throw new InputError(
      `found element "${element}"; expected the symbol of an element with a standard atomic weight`,
    );
  }
  const standard = standardAtomicWeights[element]!;
  const { value, halfWidth } = standard.startsWith('[') ? fromInterval(standard) : fromDigits(standard);
  return { element, value, standardUncertainty: halfWidth / Math.sqrt(3), halfWidth, standard };
}

function fromInterval(text: string): { value: number; halfWidth: number } {
  const [low = '', high = ''] = text.slice(1, -1).split(',');
  return { value: (Number(low) + Number(high)) / 2, halfWidth: (Number(high) - Number(low)) / 2 };
}

function fromDigits(text: string): { value: number; halfWidth: number } {
  const [value = '', units = ''] = text.slice(0, -1).split('(');
  const decimals = value.split('.')[1]?.length ?? 0;
  return { value: Number(value), halfWidth: Number(`${units}e-${decimals}`) };
}
