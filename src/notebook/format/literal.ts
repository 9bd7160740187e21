/** What a parameter may hold. */
export type Literal = string | number | boolean | null | readonly Literal[];

/** Reads a text from left to right, a pattern at a time. */
export interface Scanner {
  /** The match of a sticky pattern at the present place, which moves behind it; `null` leaves the place as it was. */
  take(pattern: RegExp): RegExpExecArray | null;
  atEnd(): boolean;
  /** Line of the present place, counted from 1. */
  line(): number;
}

/** Space and comments. */
export const blank: RegExp = /(?:\s|\/\/[^\n]*|\/\*[\s\S]*?\*\/)*/y;

const number = /-?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
const word = /(?:true|false|null)\b/y;
const quoted = /'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"/y;
const escapes: Readonly<Record<string, string>> = { n: '\n', t: '\t', r: '\r' };

/** A scanner at the start of a text. */
export function scanner(source: string): Scanner {
  let at = 0;
  return {
    take(pattern) {
      pattern.lastIndex = at;
      const match = pattern.exec(source);
      if (match) at = pattern.lastIndex;
      return match;
    },
    atEnd: () => at >= source.length,
    line: () => source.slice(0, at).split('\n').length,
  };
}

/**
 * The literal at a scanner's place: number, text in quotes, true, false, null, or a list of these.
 *
 * @returns `undefined` where something else stands there
 * @example
 * readLiteral(scanner("[1.5, 'a', true]")) // => [1.5, 'a', true]
 */
export function readLiteral(scan: Scanner): Literal | undefined {
  const figure = scan.take(number);
  if (figure) return Number(figure[0]);
  const named = scan.take(word);
  if (named) return JSON.parse(named[0]) as boolean | null;
  const text = scan.take(quoted);
  if (text) return unquoted(text[0]);
  return scan.take(/\[/y) ? readItems(scan) : undefined;
}

function readItems(scan: Scanner): Literal[] | undefined {
  const items: Literal[] = [];
  for (;;) {
    scan.take(blank);
    if (scan.take(/\]/y)) return items;
    const item = readLiteral(scan);
    scan.take(blank);
    if (item === undefined || (!scan.take(/,/y) && !scan.take(/(?=\])/y))) return undefined;
    items.push(item);
  }
}

function unquoted(text: string): string {
  return text
    .slice(1, -1)
    .replace(/\\u([0-9a-fA-F]{4})|\\(.)/g, (_all, code: string | undefined, letter: string) =>
      code ? String.fromCharCode(Number.parseInt(code, 16)) : (escapes[letter] ?? letter),
    );
}
