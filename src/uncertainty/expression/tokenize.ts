import { ExpressionError } from './syntax-tree.js';

export interface Token {
  readonly kind: 'number' | 'name' | 'sign' | 'end';
  readonly text: string;
  readonly position: number;
}

const pattern = /\s*(?:((?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)|([A-Za-z][A-Za-z0-9_]*)|([-+*/^()]))/y;

/** Longest formula accepted, in characters. */
export const longestFormula = 10_000;

function explain(text: string, at: number): string {
  const found = text[at]!;
  if (found === ',') return 'found ","; expected a decimal point, and functions have one argument';
  if (found === '.' || found === '[' || found === ']') {
    return `found "${found}"; a formula has no properties or elements`;
  }
  if (found === '=') return 'found "="; expected the right-hand side of an equation only';
  if (found === '_') return 'found "_"; expected a name that begins with a letter A to Z';
  return `found "${found}"; expected a number, a name, + - * / ^ or parentheses`;
}

/** @throws ExpressionError a character that no formula holds */
export function tokenize(text: string): Token[] {
  if (text.length > longestFormula) {
    throw new ExpressionError(`found ${text.length} characters; expected at most ${longestFormula}`, 1, '');
  }
  const tokens: Token[] = [];
  let at = 0;
  for (;;) {
    pattern.lastIndex = at;
    const match = pattern.exec(text);
    if (match === null) break;
    const [whole, number, name, sign] = match;
    const word = number ?? name ?? sign!;
    at += whole.length;
    const kind = number !== undefined ? 'number' : name !== undefined ? 'name' : 'sign';
    tokens.push({ kind, text: word, position: at - word.length + 1 });
  }
  while (at < text.length && /\s/.test(text[at]!)) at++;
  if (at < text.length) throw new ExpressionError(explain(text, at), at + 1, text);
  tokens.push({ kind: 'end', text: '', position: text.length + 1 });
  return tokens;
}
