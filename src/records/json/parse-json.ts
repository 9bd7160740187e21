/** JSON as it was parsed, or what is wrong with its form. */
export type ParsedJson = { readonly json: unknown } | { readonly problem: string };

/**
 * Parses the bytes of a JSON file; a problem of its form is told with line and column, and a decimal comma is named as such.
 *
 * @param content UTF-8
 */
export function parseJson(content: Uint8Array): ParsedJson {
  let text = '';
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(content);
    return { json: JSON.parse(text) as unknown };
  } catch (error) {
    return { problem: located(error instanceof Error ? error.message : String(error), text) };
  }
}

/** The message of the parser with its position as line and column. */
function located(message: string, text: string): string {
  const position = Number(/at position (\d+)/.exec(message)?.[1] ?? Number.NaN);
  if (!Number.isInteger(position)) return message;
  const before = text.slice(0, position);
  const line = before.split('\n').length;
  const column = position - before.lastIndexOf('\n');
  const place = message.replace(/ (in JSON )?at position \d+.*$/s, ` at line ${line}, column ${column}`);
  const comma = /[:[,]\s*(-?\d+),$/.exec(before) !== null && /^\d/.test(text.slice(position));
  return comma ? `${place}; a number takes a decimal point, no comma` : place;
}
