/** Elements without an end tag. */
const voids = new Set(['meta', 'br', 'img', 'hr', 'input', 'link', 'rect', 'path', 'circle']);

export interface HtmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
}

/**
 * Reads HTML as our renderers write it (quoted attributes, every element closed) and lists its elements.
 * Anything else throws: an element left open, one closed twice, a bare `<`.
 */
export function htmlElements(html: string): HtmlElement[] {
  const found: HtmlElement[] = [];
  const open: string[] = [];
  const pattern =
    /<!DOCTYPE html>|<(script|style)((?:\s+[\w-]+(?:="[^"<>]*")?)*)>[\s\S]*?<\/\1>|<\/([a-z0-9]+)>|<([a-z0-9]+)((?:\s+[\w:-]+(?:="[^"<]*")?)*)\s*(\/?)>|</gi;
  for (const match of html.matchAll(pattern)) {
    const [whole, raw, rawAttributes, closing, opening, attributes, selfClosing] = match;
    if (whole === '<') throw new Error(`stray "<" at ${html.slice(match.index, match.index + 60)}`);
    const name = (raw ?? opening)?.toLowerCase();
    if (name !== undefined) {
      const pairs = (rawAttributes ?? attributes ?? '').matchAll(/([\w:-]+)(?:="([^"]*)")?/g);
      found.push({
        name,
        attributes: Object.fromEntries([...pairs].map(([, key, value]) => [key, value ?? ''])),
      });
    }
    if (opening !== undefined && selfClosing === '' && !voids.has(opening)) open.push(opening);
    if (closing !== undefined) {
      const last = open.pop();
      if (last !== closing) throw new Error(`</${closing}> closes <${last}>`);
    }
  }
  if (open.length > 0) throw new Error(`left open: ${open.join(' ')}`);
  return found;
}
