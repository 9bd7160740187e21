import { InputError } from '../errors.js';
import type { InterferenceCoefficient } from './interference.js';
import { identifier, type ModelFragment, recordedValue } from './model-fragment.js';

const coefficientName = (k: InterferenceCoefficient) =>
  `K_${identifier(k.analyte)}_${identifier(k.interferent)}`;

/**
 * Step "interference": `c_<analyte>` from `app_<analyte>` for every analyte named, interferents before those they disturb.
 * The linear system (I + K) · c = c_app is written out as equations; two analytes that disturb each other are solved in
 * closed form.
 *
 * @throws InputError more than two analytes that disturb each other in a circle
 */
export function interferenceFragment(
  analytes: readonly string[],
  coefficients: readonly InterferenceCoefficient[],
): ModelFragment {
  const own = coefficients.filter((k) => analytes.includes(k.analyte) && analytes.includes(k.interferent));
  const equations = orderOfCorrection(analytes, own).flatMap((group) =>
    group.length === 1 ? [single(group[0]!, own)] : group.map((analyte) => mutual(analyte, group, own)),
  );
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

function equation(analyte: string, expression: string) {
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

/** Groups of analytes in an order in which each needs only those before it. */
function orderOfCorrection(analytes: readonly string[], own: readonly InterferenceCoefficient[]): string[][] {
  const done = new Set<string>();
  const groups: string[][] = [];
  const open = (analyte: string, group: readonly string[]) =>
    own.some((k) => k.analyte === analyte && !done.has(k.interferent) && !group.includes(k.interferent));
  while (done.size < analytes.length) {
    const left = analytes.filter((analyte) => !done.has(analyte));
    const free = left.find((analyte) => !open(analyte, []));
    const pair = left
      .flatMap((a) => left.filter((b) => b !== a).map((b) => [a, b]))
      .find((g) => g.every((a) => !open(a, g)));
    const group = free === undefined ? pair : [free];
    if (group === undefined) {
      throw new InputError(
        `interference among ${left.join(', ')}: more than two analytes disturb each other in a circle`,
      );
    }
    for (const analyte of group) done.add(analyte);
    groups.push(group);
  }
  return groups;
}
