import { functionRule, functionRules } from './functions.js';
import { type BinaryOperator, type Expression, ExpressionError } from './syntax-tree.js';
import { type Token, tokenize } from './tokenize.js';

/** Deepest nesting of parentheses, signs and powers accepted. */
const deepest = 200;

/**
 * Syntax tree of a formula.
 *
 * A formula holds numbers, names, + - * / ^, parentheses, signs and the functions of `functionRules`; precedence is that
 * of mathematics (a power binds tighter than a sign, and from right to left). `pi` is the number. It is data: there are
 * no properties, assignments, strings or definitions, so nothing in it can reach the machine.
 *
 * @param text such as `c * m_s * (1 - moisture)`
 * @throws ExpressionError text that is no formula, with reason and position
 * @example
 * parseExpression('2 * a').kind // => 'operation'
 */
export function parseExpression(text: string): Expression {
  return new Parser(text).parse();
}

class Parser {
  readonly #text: string;
  readonly #tokens: readonly Token[];
  #index = 0;
  #depth = 0;

  constructor(text: string) {
    this.#text = text;
    this.#tokens = tokenize(text);
  }

  parse(): Expression {
    const tree = this.#sum();
    if (this.#token.kind !== 'end') this.#fail('expected an operator or the end of the formula');
    return tree;
  }

  get #token(): Token {
    return this.#tokens[this.#index]!;
  }

  #fail(expected: string, token = this.#token): never {
    const found = token.kind === 'end' ? 'the end of the formula' : `"${token.text}"`;
    throw new ExpressionError(`found ${found}; ${expected}`, token.position, this.#text);
  }

  #take(...signs: readonly string[]): Token | undefined {
    const token = this.#token;
    if (token.kind !== 'sign' || !signs.includes(token.text)) return undefined;
    this.#index++;
    return token;
  }

  #within<T>(inner: () => T): T {
    if (++this.#depth > deepest) this.#fail(`expected at most ${deepest} levels of nesting`);
    const result = inner();
    this.#depth--;
    return result;
  }

  #chain(next: () => Expression, ...operators: readonly string[]): Expression {
    let left = next();
    for (;;) {
      const sign = this.#take(...operators);
      if (sign === undefined) return left;
      const operator = sign.text as BinaryOperator;
      left = { kind: 'operation', operator, left, right: next(), position: sign.position };
    }
  }

  #sum(): Expression {
    return this.#chain(() => this.#product(), '+', '-');
  }

  #product(): Expression {
    return this.#chain(() => this.#signed(), '*', '/');
  }

  #signed(): Expression {
    const sign = this.#take('-', '+');
    if (sign === undefined) return this.#power();
    const operand = this.#within(() => this.#signed());
    return sign.text === '+' ? operand : { kind: 'negation', operand, position: sign.position };
  }

  #power(): Expression {
    const base = this.#atom();
    const sign = this.#take('^');
    if (sign === undefined) return base;
    const right = this.#within(() => this.#signed());
    return { kind: 'operation', operator: '^', left: base, right, position: sign.position };
  }

  #atom(): Expression {
    const token = this.#token;
    if (token.kind === 'number') return this.#number(token);
    if (token.kind === 'name') return this.#name(token);
    if (this.#take('(') === undefined) this.#fail('expected a number, a name or "("');
    return this.#closing(token);
  }

  #closing(open: Token): Expression {
    const inner = this.#within(() => this.#sum());
    if (this.#take(')') === undefined) {
      this.#fail(`expected an operator or ")" for the "(" at position ${open.position}`);
    }
    return inner;
  }

  #number(token: Token): Expression {
    const value = Number(token.text);
    if (!Number.isFinite(value)) this.#fail('expected a number within the range of double precision');
    this.#index++;
    if (this.#token.kind === 'name' || this.#token.kind === 'number') {
      this.#fail('expected an operator (a product needs its "*")');
    }
    return { kind: 'number', value, position: token.position };
  }

  #name(token: Token): Expression {
    this.#index++;
    const open = this.#take('(');
    if (open === undefined) {
      if (functionRule(token.text) !== undefined) this.#fail(`expected "(" after the function ${token.text}`);
      if (token.text === 'pi') return { kind: 'number', value: Math.PI, position: token.position };
      return { kind: 'name', name: token.text, position: token.position };
    }
    if (functionRule(token.text) === undefined) {
      this.#fail(`expected one of the functions ${Object.keys(functionRules).join(', ')}`, token);
    }
    return { kind: 'function', name: token.text, operand: this.#closing(open), position: token.position };
  }
}
