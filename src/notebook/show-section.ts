import { InputError } from '../errors.js';
import type { ReportDocument, Section } from '../report/document.js';
import { characteristicId } from '../report/sections/finding-order.js';
import { characteristics } from '../validation/characteristic.js';
import { show } from './display.js';

/**
 * Shows one section of a report in the notebook, without its sub-sections unless they are asked for by their own names.
 * A characteristic that was not studied has no section: one line says so, and the notebook goes on.
 *
 * @param id of the section, such as `verdicts` or `characteristic/trueness`
 * @throws InputError no report has such a section, with the names this one has
 */
export function showSection(report: ReportDocument, id: string): void {
  show(sectionOrAbsence(report, id));
}

/**
 * A section of a report by its identifier, or the sentence that says why a report of this kind is without it.
 *
 * @throws InputError no report of this kind has such a section, with the names this one has
 */
export function sectionOrAbsence(report: ReportDocument, id: string): Section | string {
  const all = flattened(report.sections);
  const section = all.find((s) => s.id === id);
  if (section !== undefined) return { ...section, sections: [] };
  const characteristic = characteristics.find((name) => characteristicId(name) === id);
  if (characteristic === undefined || !all.some((s) => s.id === 'characteristics')) {
    throw new InputError(`section ${id}: expected one of ${all.map((s) => s.id).join(', ')}`);
  }
  return `No section on ${characteristic} in this report: nothing was studied for it.`;
}

function flattened(sections: readonly Section[]): Section[] {
  return sections.flatMap((section) => [section, ...flattened(section.sections)]);
}
