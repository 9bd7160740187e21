/** Control characters and marks that turn the direction of writing: they could make a name read as something else. */
const deceptive = /(?![\t\n])[\p{Cc}\p{Bidi_Control}]/gu;

const entities: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/**
 * Text made safe for the content and the quoted attributes of HTML. Control characters and marks that reverse the
 * direction of writing become the replacement character, so that no record can pass for another.
 *
 * @example
 * escapeHtml('<b> & "c"') // => "&lt;b&gt; &amp; &quot;c&quot;"
 */
export function escapeHtml(text: string): string {
  return text.replace(deceptive, '\ufffd').replace(/[&<>"']/g, (character) => entities[character] ?? '');
}

/**
 * JSON that cannot end the script element it stands in.
 *
 * @example
 * escapeJsonForScript('"</script>"') // => "\"\\u003c/script>\""
 */
export function escapeJsonForScript(json: string): string {
  return json.replace(
    /[<\u2028\u2029\p{Bidi_Control}]/gu,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}

/**
 * Text as a quoted string of a style sheet: everything but letters, digits and spaces is written as a code point.
 *
 * @example
 * quoteForStyle('a"</style>') // => "\"a\\22 \\3c \\2f style\\3e \""
 */
export function quoteForStyle(text: string): string {
  const safe = text
    .replace(deceptive, '\ufffd')
    .replace(/[^A-Za-z0-9 ]/gu, (character) => `\\${(character.codePointAt(0) ?? 0xfffd).toString(16)} `);
  return `"${safe}"`;
}
