import type { NestedFactor } from '../../../src/statistics/analysis-of-variance/nested-classes.js';
import { factorialColumns, treatmentContrasts } from '../../support/contrasts.js';
import { blockAt, type JsonObject, type ReferenceSet } from '../../support/reference-sets.js';

/** A mixed model whose fit the reference holds. */
export interface MixedModel {
  readonly name: string;
  readonly results: JsonObject;
  readonly values: readonly number[];
  /** Random factors under the reference's names; levels of nested ones are compound. */
  readonly factors: readonly NestedFactor[];
  readonly fixed: readonly (readonly number[])[];
  /** True where the factors are nested in the order given and the mean is the one fixed effect. */
  readonly nested: boolean;
}

const both = (a: readonly string[], b: readonly string[]) => a.map((value, i) => `${value}/${b[i]}`);

function plain(
  set: ReferenceSet,
  values: string,
  factors: readonly NestedFactor[],
  nested = true,
): MixedModel {
  const y = set.numbers(values);
  return { name: set.name, results: set.results, values: y, factors, fixed: [y.map(() => 1)], nested };
}

/** Models of the classical sets. */
export function classicalModels(read: (name: string) => ReferenceSet): MixedModel[] {
  const oneWay: [string, string, string, string][] = [
    ['dyestuff', 'yield_g', 'batch', 'g'],
    ['dyestuff2', 'yield_simulated', 'batch', 'g'],
    ['gravity', 'g_minus_980000_1e3cm_s2', 'series', 'g'],
    ['rail', 'travel_ns_minus_36100', 'rail', 'g'],
    ['morley', 'speed_km_s_minus_299000', 'experiment', 'g'],
    ['igf-control', 'conc_ng_mL', 'lot', 'lot_f'],
  ];
  const models = oneWay.map(([name, values, factor, as]) => {
    const set = read(name);
    return plain(set, values, [{ name: as, levels: set.text(factor) }]);
  });
  const pastes = read('pastes');
  const batch = pastes.text('batch');
  models.push(
    plain(pastes, 'strength', [
      { name: 'batch', levels: batch },
      { name: 'cask_in_batch', levels: both(batch, pastes.text('cask')) },
    ]),
  );
  const penicillin = read('penicillin');
  models.push(
    plain(
      penicillin,
      'diameter_mm',
      [
        { name: 'plate', levels: penicillin.text('plate') },
        { name: 'sample', levels: penicillin.text('sample') },
      ],
      false,
    ),
  );
  return [...models, ...withFixedEffects(read), ...cooperativeTrial(read('coop-trial'))];
}

function withFixedEffects(read: (name: string) => ReferenceSet): MixedModel[] {
  const cake = read('cake');
  const recipe = cake.text('recipe');
  const plate = read('assay-plate');
  const [block, sample, dilution] = [plate.text('block'), plate.text('sample'), plate.text('dilution')];
  const wafer = read('wafer');
  const v = wafer.numbers('voltage_V');
  return [
    {
      name: 'cake',
      results: cake.results,
      values: cake.numbers('angle_degree'),
      factors: [{ name: 'recipe_replicate', levels: both(recipe, cake.text('replicate')) }],
      fixed: factorialColumns(treatmentContrasts(recipe), treatmentContrasts(cake.numbers('temperature_F'))),
      nested: false,
    },
    {
      name: 'assay plate',
      results: plate.results,
      values: plate.numbers('log_optical_density'),
      factors: [
        { name: 'block', levels: block },
        { name: 'bs', levels: both(block, sample) },
        { name: 'bd', levels: both(block, dilution) },
      ],
      fixed: factorialColumns(treatmentContrasts(sample), treatmentContrasts(dilution)),
      nested: false,
    },
    {
      name: 'wafer',
      results: wafer.results,
      values: wafer.numbers('current_mA'),
      factors: [
        { name: 'wafer', levels: wafer.text('wafer') },
        { name: 'ws', levels: both(wafer.text('wafer'), wafer.text('site')) },
      ],
      fixed: [v.map(() => 1), v, v.map((x) => x * x)],
      nested: false,
    },
  ];
}

function cooperativeTrial(set: ReferenceSet): MixedModel[] {
  const specimens = set.text('specimen');
  return Object.keys(blockAt(set.results, 'by_specimen')).map((specimen) => {
    const rows = specimens.flatMap((s, i) => (s === specimen ? [i] : []));
    const pick = (column: string) => rows.map((i) => set.text(column)[i]!);
    const values = pick('conc_g_kg').map(Number);
    return {
      name: `co-operative trial, ${specimen}`,
      results: blockAt(set.results, 'by_specimen', specimen),
      values,
      factors: [
        { name: 'lab', levels: pick('lab') },
        { name: 'lb', levels: both(pick('lab'), pick('batch')) },
      ],
      fixed: [values.map(() => 1)],
      nested: true,
    };
  });
}

/** Models of the open sets that are not part of the project. */
export function openModels(read: (name: string) => ReferenceSet): MixedModel[] {
  const calcium = read('serum_calcium_labs');
  const [lab, solution] = [calcium.text('lab'), calcium.text('sol')];
  const ferrozine = read('ferrozine_plates');
  const roles = ferrozine.text('inferred_role');
  const rows = roles.flatMap((role, i) => (role.startsWith('low_level') ? [i] : []));
  const level = rows.map((i) => roles[i]!);
  const plate = rows.map((i) => ferrozine.text('plate')[i]!);
  const values = rows.map((i) => Number(ferrozine.text('absorbance')[i]));
  return [
    plain(
      calcium,
      'calcium',
      [
        { name: 'lab', levels: lab },
        { name: 'sol', levels: solution },
        { name: 'ls', levels: both(lab, solution) },
      ],
      false,
    ),
    {
      name: 'ferrozine plates',
      results: blockAt(ferrozine.results, 'all_low_levels_crossed'),
      values,
      factors: [
        { name: 'plate', levels: plate },
        { name: 'pl', levels: both(plate, level) },
      ],
      fixed: [values.map(() => 1), ...treatmentContrasts(level)],
      nested: false,
    },
  ];
}
