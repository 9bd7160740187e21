/**
 * An identifier as anchor and file name: letters, digits and hyphens stay, `/` becomes `.`, everything else is written
 * as its code point between underscores, so that two identifiers never share an anchor.
 *
 * @example
 * anchor('trueness/Al/QRM 2') // => "trueness.Al.QRM_20_2"
 */
export function anchor(id: string): string {
  return id.replace(/[^A-Za-z0-9-]/gu, (character) =>
    character === '/' ? '.' : `_${(character.codePointAt(0) ?? 0).toString(16)}_`,
  );
}
