/**
 * Why values whose estimated standard deviation is exactly 0 show nothing: the sentence of every *not shown* that rests on it.
 *
 * @param what the values, in the plural, as the start of the sentence
 * @param consequence what they therefore do not give
 * @example
 * noScatter('The blanks', 'no limit can be worked out') // => 'The blanks do not scatter at all: their values are cut or rounded, so no limit can be worked out.'
 */
export function noScatter(what: string, consequence: string): string {
  return `${what} do not scatter at all: their values are cut or rounded, so ${consequence}.`;
}
