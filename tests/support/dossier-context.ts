import type { DossierContext } from '../../src/report/dossier/validation-report.js';

/** Around a report whose content alone is looked at: no files, no self-check, a fixed provenance. */
export const dossierContext: DossierContext = {
  files: [],
  selfCheck: [],
  provenance: {
    issue: 'zircon-pigment/0001',
    created: '2026-04-01T09:00:00Z',
    versions: {},
    seed: null,
    parameters: {},
    notes: [],
  },
};
