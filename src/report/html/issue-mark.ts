import { InputError } from '../../errors.js';
import { quoteForStyle } from './escape.js';

/** What stands on every page until the report has a number. */
const draft = 'draft, not issued';

/** The element at the head of a report that says which issue it is; a draft says that it is none. */
export const issueMark = markOf(draft);

/** The same at the foot of every printed page. */
export const issueFoot = footOf(draft);

// Text from records cannot form either: it is escaped in the page, and quoted in the style.
function markOf(words: string): string {
  return `<p class="issue">Report: <strong>${words}</strong></p>`;
}

function footOf(words: string): string {
  return `@bottom-center{content:${quoteForStyle(words)}`;
}

/**
 * A rendered report with its number in the place of the words of a draft: at the head and at the foot of every printed page.
 *
 * @param html the page as `renderHtml` gives it
 * @param issue study and number
 * @throws InputError a page without the words of a draft in both places, each once
 * @see ISO/IEC 17025:2017, 7.8.2.1 d (unique identification on each page)
 */
export function withIssueNumber(
  html: string,
  { study, number }: { readonly study: string; readonly number: string },
): string {
  return [
    [issueMark, markOf(`${study}/${number}`)],
    [issueFoot, footOf(`${study}/${number}`)],
  ].reduce((page, [place, words]) => replaceOnce(page, place as string, words as string), html);
}

function replaceOnce(html: string, place: string, words: string): string {
  const parts = html.split(place);
  if (parts.length !== 2) {
    throw new InputError(
      `report: found ${parts.length - 1} places for the number of the issue, expected one at its head and one at the foot of its pages`,
    );
  }
  return parts.join(words);
}
