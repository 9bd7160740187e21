import { InputError } from '../../errors.js';

export type BinaryOperator = '+' | '-' | '*' | '/' | '^';

/** Syntax tree of a formula. `position` counts characters from 1. */
export type Expression =
  | { readonly kind: 'number'; readonly value: number; readonly position: number }
  | { readonly kind: 'name'; readonly name: string; readonly position: number }
  | { readonly kind: 'negation'; readonly operand: Expression; readonly position: number }
  | {
      readonly kind: 'operation';
      readonly operator: BinaryOperator;
      readonly left: Expression;
      readonly right: Expression;
      readonly position: number;
    }
  | {
      readonly kind: 'function';
      readonly name: string;
      readonly operand: Expression;
      readonly position: number;
    };

/** A fault in a formula: the reason, and the place where it was found. */
export class ExpressionError extends InputError {
  readonly reason: string;
  /** Character position from 1. */
  readonly position: number;

  constructor(reason: string, position: number, text: string) {
    super(`${reason} at position ${position}\n  ${text}\n  ${' '.repeat(Math.max(0, position - 1))}^`);
    this.reason = reason;
    this.position = position;
  }
}
