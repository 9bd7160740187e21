import { equipmentFile, planFile } from '../study-folder.js';
import type { StudyView } from './study-view.js';

/** What the plan's internal-standard mode, calibration basis and dilutions to a volume need of the records. */
export function checkMeasurementModes(view: StudyView): void {
  const { plan } = view.study;
  if (plan === null) return;
  checkInternalStandard(view);
  checkDensities(view);
  checkVolumes(view);
  const { basis } = plan.calibration;
  const field = basis === 'mg/kg' ? 'massFractionMgPerKg' : 'concentrationMgPerL';
  const expected = `a content in ${basis}, as the plan calibrates in it`;
  view.each('calibration', (row) =>
    row[field] === null ? { code: 'content', field, found: 'an empty cell', expected } : null,
  );
}

function checkInternalStandard(view: StudyView): void {
  const { internalStandard, nativeCheckDigestions } = view.study.plan!;
  const { mode, solution } = internalStandard;
  if (mode === 'on line') return;
  if (solution === undefined) {
    const expected = `the solution it is added as, as its mode is "${mode}"`;
    view.refuseKey(planFile, 'internalStandard.solution', 'no such key', expected);
  }
  const diluted = view.values('dilutions', 'digestion');
  view.each('digestions', ({ digestion, internalStandardG }) => {
    const without =
      nativeCheckDigestions.includes(digestion) || (mode === 'in the diluent' && diluted.has(digestion));
    if (internalStandardG !== null || without) return null;
    const expected = `the mass of internal-standard solution, as its mode is "${mode}"`;
    return { code: 'internal standard', field: 'internalStandardG', found: 'an empty cell', expected };
  });
  if (mode !== 'added to the digestion') return;
  view.each('dilutions', ({ internalStandardG }) =>
    internalStandardG === null
      ? null
      : {
          code: 'internal standard',
          field: 'internalStandardG',
          expected: 'nothing, as the internal standard is added to the digestion',
        },
  );
}

function checkDensities(view: StudyView): void {
  const plan = view.study.plan!;
  const volumes = view.records('dilutions').some((d) => d.finalML !== null);
  const byVolume = plan.calibration.basis === 'mg/L';
  if (!byVolume && !volumes) return;
  const why = byVolume ? 'the calibration is in mg/L' : 'a dilution is made up to a volume';
  if (plan.density === undefined) {
    view.refuseKey(planFile, 'density', 'no such key', `how densities were measured, as ${why}`);
  } else if (plan.density.dilutionGPerML === undefined && view.records('dilutions').length > 0) {
    view.refuseKey(planFile, 'density.dilutionGPerML', 'no such key', `a density, as ${why}`);
  }
  // A routine run goes on without: what needs the density has no result then.
  if (plan.routine !== undefined) return;
  view.each('digestions', ({ densityGPerML }) =>
    densityGPerML !== null
      ? null
      : { code: 'density', field: 'densityGPerML', found: 'an empty cell', expected: `a density, as ${why}` },
  );
}

function checkVolumes(view: StudyView): void {
  const { plan, equipment } = view.study;
  if (!view.records('dilutions').some((d) => d.finalML !== null)) return;
  const { flask } = plan!;
  if (flask === undefined) {
    view.refuseKey(planFile, 'flask', 'no such key', 'the flask, as a dilution is made up to a volume');
  } else if (equipment !== null && equipment.find((e) => e.id === flask.equipment)?.volume === undefined) {
    const expected = `the id of equipment with a volume in ${equipmentFile}`;
    view.refuseKey(planFile, 'flask.equipment', JSON.stringify(flask.equipment), expected);
  }
}
