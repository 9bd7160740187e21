import type { ModelEquation } from '../uncertainty/measurement-model.js';
import type { InterferenceCoefficient } from './interference.js';
import { identifier, type ModelFragment, recordedValue } from './model-fragment.js';

const coefficientName = (k: InterferenceCoefficient) =>
  `K_${identifier(k.analyte)}_${identifier(k.interferent)}`;

/**
 * Step "interference": `c_<analyte>` from `app_<analyte>` for every analyte named, interferents before those they disturb.
 * The linear system (I + K) · c = c_app is written out as equations; two analytes that disturb each other are solved in
 * closed form, more of them in a circle by elimination.
 */
export function interferenceFragment(
  analytes: readonly string[],
  coefficients: readonly InterferenceCoefficient[],
): ModelFragment {
  const own = coefficients.filter((k) => analytes.includes(k.analyte) && analytes.includes(k.interferent));
  const equations = orderOfCorrection(analytes, own).flatMap((group) => {
    if (group.length === 1) return [single(group[0]!, own)];
    return group.length === 2 ? group.map((analyte) => mutual(analyte, group, own)) : eliminated(group, own);
  });
  return {
    equations,
    inputs: own.map((k) => ({
      ...recordedValue(
        coefficientName(k),
        `apparent ${k.analyte} per ${k.interferent}`,
        '1',
        k.value,
        'interference',
        k.source,
      ),
      standardUncertainty: k.standardUncertainty,
    })),
    correlations: [],
  };
}

function equation(analyte: string, expression: string): ModelEquation {
  return {
    name: `c_${identifier(analyte)}`,
    description: `mass fraction of ${analyte} in the solution of the digestion`,
    unit: 'mg/kg',
    expression,
  };
}

function disturbance(
  analyte: string,
  own: readonly InterferenceCoefficient[],
  without: readonly string[],
): string {
  return own
    .filter((k) => k.analyte === analyte && !without.includes(k.interferent))
    .map((k) => ` - ${coefficientName(k)} * c_${identifier(k.interferent)}`)
    .join('');
}

function single(analyte: string, own: readonly InterferenceCoefficient[]) {
  return equation(analyte, `app_${identifier(analyte)}${disturbance(analyte, own, [])}`);
}

function mutual(analyte: string, group: readonly string[], own: readonly InterferenceCoefficient[]) {
  const other = group.find((name) => name !== analyte)!;
  const k = coefficientName(own.find((c) => c.analyte === analyte && c.interferent === other)!);
  const back = coefficientName(own.find((c) => c.analyte === other && c.interferent === analyte)!);
  const net = (name: string) => `(app_${identifier(name)}${disturbance(name, own, group)})`;
  return equation(analyte, `(${net(analyte)} - ${k} * ${net(other)}) / (1 - ${k} * ${back})`);
}

/** Groups of analytes in an order in which each needs only those before it: none alone, or a circle as a whole. */
function orderOfCorrection(analytes: readonly string[], own: readonly InterferenceCoefficient[]): string[][] {
  const groups: string[][] = [];
  let left = [...analytes];
  while (left.length > 0) {
    const needs = left.map((analyte) => neededFor(analyte, left, own));
    const fewest = Math.min(...needs.map((group) => group.length));
    const group = needs.find(({ length }) => length === fewest)!;
    groups.push(group);
    left = left.filter((analyte) => !group.includes(analyte));
  }
  return groups;
}

/** The analyte and all of `left` that it is disturbed by, in turn; in the order of `left`. */
function neededFor(analyte: string, left: readonly string[], own: readonly InterferenceCoefficient[]) {
  const found = new Set([analyte]);
  for (const name of found) {
    for (const k of own) if (k.analyte === name && left.includes(k.interferent)) found.add(k.interferent);
  }
  return left.filter((name) => found.has(name));
}

/**
 * Gaussian elimination of a circle, the last analyte first: the pivots stand on the diagonal, near 1 as the coefficients are
 * small. A name `k<n>_<analyte>_<interferent>` is what is left of a coefficient after n eliminations, `rest<n>_<analyte>` of
 * the apparent mass fraction.
 */
function eliminated(group: readonly string[], own: readonly InterferenceCoefficient[]): ModelEquation[] {
  const { equations, entries, rests } = startOf(group, own);
  for (let pivot = group.length - 1; pivot > 0; pivot--) {
    const step = group.length - pivot;
    const last = group[pivot]!;
    for (let row = 0; row < pivot; row++) {
      const factor = entries[row]![pivot];
      if (factor == null) continue;
      const name = group[row]!;
      const put = (to: string, description: string, unit: string, before: string | null, by: string) => {
        const change = `${factor} * ${by}${over(entries[pivot]![pivot]!)}`;
        const expression = before === null ? `-${change}` : `${before} - ${change}`;
        equations.push({ name: to, description, unit, expression });
        return to;
      };
      for (let column = 0; column < pivot; column++) {
        const by = entries[pivot]![column];
        if (by == null) continue;
        const to = `k${step}_${identifier(name)}_${identifier(group[column]!)}`;
        const description = `${group[column]} in the equation of ${name} once ${last} is eliminated`;
        entries[row]![column] = put(to, description, '1', entries[row]![column]!, by);
      }
      const to = `rest${step}_${identifier(name)}`;
      const description = `apparent mass fraction of ${name} once ${last} is eliminated`;
      rests[row] = put(to, description, 'mg/kg', rests[row]!, rests[pivot]!);
    }
  }
  return [...equations, ...group.map((name, row) => solvedFor(name, row, group, entries[row]!, rests[row]!))];
}

const over = (pivot: string) => (pivot === '1' ? '' : ` / ${pivot}`);

/** The system of one circle as names: null where an analyte does not disturb another; what disturbs from outside is taken off. */
function startOf(group: readonly string[], own: readonly InterferenceCoefficient[]) {
  const equations: ModelEquation[] = [];
  const rests = group.map((analyte) => {
    const apparent = `app_${identifier(analyte)}`;
    const outside = disturbance(analyte, own, group);
    if (outside === '') return apparent;
    const name = `rest0_${identifier(analyte)}`;
    const description = `apparent mass fraction of ${analyte} without what disturbs it from outside its circle`;
    equations.push({ name, description, unit: 'mg/kg', expression: `${apparent}${outside}` });
    return name;
  });
  const entries = group.map((analyte) =>
    group.map((interferent): string | null => {
      if (analyte === interferent) return '1';
      const found = own.find((k) => k.analyte === analyte && k.interferent === interferent);
      return found === undefined ? null : coefficientName(found);
    }),
  );
  return { equations, entries, rests };
}

/** From its row of the triangle and those solved before. */
function solvedFor(
  analyte: string,
  row: number,
  group: readonly string[],
  entries: readonly (string | null)[],
  rest: string,
): ModelEquation {
  const before = group
    .slice(0, row)
    .map((name, column) => (entries[column] == null ? '' : ` - ${entries[column]} * c_${identifier(name)}`));
  return equation(analyte, `(${rest}${before.join('')})${over(entries[row]!)}`);
}
