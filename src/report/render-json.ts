import type { ReportDocument } from './document.js';
import { exactJson } from './exact-json.js';

/** Name and version of the form, so that a reader of the file knows what to expect. */
export const reportSchema = 'meltbook report 1';

/**
 * A report as JSON: every number at full precision (the shortest text that reads back to the same number), keys in
 * alphabetical order, so that equal documents give equal bytes. An unlimited number is the text "Infinity".
 *
 * @param document the report; `data` is carried whole
 * @returns JSON text ending in a line feed
 * @throws InputError a value that is not a number, or of a kind that JSON does not know; its place is named
 * @example
 * JSON.parse(renderJson({ title: 'T', subtitle: '', banner: '', facts: [], sections: [], data: { w: 0.1 } })).data.w // => 0.1
 */
export function renderJson(document: ReportDocument): string {
  return `${exactJson({ schema: reportSchema, ...document }, 'report')}\n`;
}
