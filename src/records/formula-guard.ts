// A spreadsheet runs a cell that begins so, even one that came from a plain text file.
const opensFormula = /^'*[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/;
const guarded = /^'+[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/;

/**
 * Text that no spreadsheet takes for a formula: an apostrophe goes before a beginning such as `=`, `+`, `-` or `@`.
 * `unguardFormula` gives the text back. Numbers need no guard: pass text cells only.
 * @example
 * guardFormula('=2+3') // => "'=2+3"
 * guardFormula('zircon') // => 'zircon'
 */
export function guardFormula(text: string): string {
  return opensFormula.test(text) ? `'${text}` : text;
}

/**
 * The text before `guardFormula`: takes one apostrophe away where a guard put it.
 * @example
 * unguardFormula("'=2+3") // => '=2+3'
 * unguardFormula("'tis") // => "'tis"
 */
export function unguardFormula(text: string): string {
  return guarded.test(text) ? text.slice(1) : text;
}
