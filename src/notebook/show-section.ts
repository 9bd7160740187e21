import { InputError } from '../errors.js';
import type { ReportDocument, Section } from '../report/document.js';
import { show } from './display.js';

/**
 * Shows one section of a report in the notebook, without its sub-sections unless they are asked for by their own names.
 *
 * @param id of the section, such as `verdicts` or `characteristic/trueness`
 * @throws InputError no such section, with the names there are
 */
export function showSection(report: ReportDocument, id: string): void {
  const all = flattened(report.sections);
  const section = all.find((s) => s.id === id);
  if (section === undefined) {
    throw new InputError(`section ${id}: expected one of ${all.map((s) => s.id).join(', ')}`);
  }
  show({ ...section, sections: [] });
}

function flattened(sections: readonly Section[]): Section[] {
  return sections.flatMap((section) => [section, ...flattened(section.sections)]);
}
