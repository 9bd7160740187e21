import { type Characteristic, signedCharacteristics } from '../../validation/characteristic.js';
import { quoteFound } from '../issue-list.js';
import type { Refuse } from '../json/shape.js';
import type { PlannedCriterion, StudyPlan } from '../study.js';
import { planSolutions } from './plan-solutions.js';
import type { StudyView } from './study-view.js';

/** One criterion for each thing that there is, in a unit and of a kind that fit what is judged, its limits in order. */
export function checkCriteria(view: StudyView, plan: StudyPlan, refuse: Refuse): void {
  const places = new Set<string>();
  const known = namesOfLevels(view, plan);
  plan.criteria.forEach((criterion, i) => {
    const { characteristic, analyte, level } = criterion;
    const place = [characteristic, analyte, level].join(', ');
    if (places.has(place))
      refuse(`criteria[${i}]`, place, 'one criterion for each characteristic, analyte and level');
    places.add(place);
    checkKindAndLimits(criterion, `criteria[${i}]`, refuse);
    const units = unitsOf(criterion, view, plan);
    if (!units.includes(criterion.unit)) {
      const expected = `a unit of ${characteristic}: ${units.map((unit) => `"${unit}"`).join(', ')}`;
      refuse(`criteria[${i}].unit`, quoteText(criterion.unit), expected);
    }
    if (known === null || level === '*' || level.split(', ').every((name) => known.has(name))) return;
    const levels = plan.levels.map((each) => each.level);
    const expected = `a level of the plan (${levels.join(', ')}), a sample, material or solution of the tables, or *`;
    refuse(`criteria[${i}].level`, quoteFound(level), expected);
  });
}

function checkKindAndLimits(criterion: PlannedCriterion, path: string, refuse: Refuse): void {
  const { characteristic, kind, limit } = criterion;
  const isSigned = signedCharacteristics.has(characteristic);
  if (kind !== 'within' && isSigned) {
    const kept = kind === 'at most' ? 'negative' : 'positive';
    const expected = `"within", as ${characteristic} lies on either side of 0 and "${kind}" keeps any ${kept} value`;
    refuse(`${path}.kind`, quoteFound(kind), expected);
  } else if (criterion.lower !== undefined && kind !== 'within') {
    refuse(`${path}.lower`, String(criterion.lower), 'no such key, as the kind is not "within"');
  }
  if (characteristic === 'solution stability' && kind !== 'at least')
    refuse(`${path}.kind`, quoteFound(kind), '"at least", as the solution shall be stable so long');
  const lower = kind === 'within' ? (criterion.lower ?? -limit) : -Infinity;
  if (limit < 0 && !isSigned) {
    refuse(`${path}.limit`, String(limit), `a number of at least 0, as ${characteristic} is a size`);
  } else if (lower >= limit) {
    refuse(`${path}.limit`, String(limit), `a number above the lower limit ${lower}`);
  }
}

const relative = ['%', '1'];
const ofContent = ['mg/kg', 'g/100 g'];

/** Characteristics whose criteria have units of their own; all others are relative or a content of the solid. */
const ownUnits: Readonly<Partial<Record<Characteristic, readonly string[]>>> = {
  'recovery before fusion': relative,
  'recovery after dissolution': relative,
  linearity: relative,
  'second line': relative,
  'native internal standard': relative,
  'internal standard recovery': relative,
  'matrix effect': relative,
  'sample trend': relative,
  'precision after change': relative,
  'limit of quantification': ofContent,
  'procedure blank': ofContent,
  'total of oxides': ofContent,
  'weighing of the portion': [...relative, 'g'],
  'solution stability': ['h'],
};

/** Units that the criterion of a characteristic can be brought to. */
function unitsOf({ characteristic }: PlannedCriterion, view: StudyView, plan: StudyPlan): readonly string[] {
  const own = ownUnits[characteristic as Characteristic];
  if (own !== undefined) return own;
  const usual = [...relative, ...ofContent];
  if (characteristic === 'shift after change') return [...usual, ...view.values('history', 'unit')];
  if (characteristic === 'ruggedness')
    return [...usual, ...(plan.ruggedness === undefined ? [] : [plan.ruggedness.unit])];
  const inSolution = ['check solution', 'second-source standard', 'carry-over'];
  return inSolution.includes(characteristic) ? [...usual, 'mg/L'] : usual;
}

/** Everything that findings are about; null where tables are missing that may name more. */
function namesOfLevels(view: StudyView, plan: StudyPlan): ReadonlySet<string> | null {
  if (!view.isComplete('digestions')) return null;
  if (
    !(['references', 'calibration', 'comparison', 'history', 'homogeneity'] as const).every((name) =>
      view.isCompleteOrAbsent(name),
    )
  )
    return null;
  const lines = plan.analytes.flatMap(({ lineNm, secondLineNm }) => [lineNm, secondLineNm ?? lineNm]);
  return new Set([
    ...plan.levels.map(({ level }) => level),
    ...view.values('digestions', 'sample'),
    ...view.values('references', 'material'),
    ...view.values('history', 'material'),
    ...view.values('homogeneity', 'sample'),
    ...view.values('comparison', 'method'),
    ...view.values('calibration', 'solution'),
    ...planSolutions(plan),
    ...(view.study.equipment ?? []).map(({ id }) => id),
    ...[plan.internalStandard.lineNm, ...lines].map((lineNm) => `${lineNm} nm`),
    // Places of findings that are of no sample: calibration function, blanks, course of a run.
    'calibration',
    'blank',
    'sequence',
  ]);
}

function quoteText(text: string): string {
  return text === '' ? '""' : quoteFound(text);
}
