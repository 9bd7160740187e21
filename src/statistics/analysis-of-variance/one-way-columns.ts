import { InputError, requireInteger, requireSameLength } from '../../errors.js';
import {
  add,
  type DoubleDouble,
  divide,
  multiply,
  narrow,
  square,
  subtract,
  twoSum,
  wide,
  zero,
} from '../arithmetic/double-double.js';
import { type OneWayAnalysis, oneWayTable } from './one-way.js';

/**
 * One-way analyses of many analytes over long typed columns in one pass, without making lists of groups: for a table of
 * results with one row a value.
 *
 * @param values n results
 * @param analytes n analyte numbers, 0 to `analyteCount` − 1
 * @param groups n group numbers, 0 to `groupCount` − 1; the same numbering for all analytes
 * @returns one analysis an analyte; groups without values of an analyte are left out of its analysis
 * @throws InputError unequal lengths, a value that is not finite, a number out of range, an analyte with too few groups or values
 * @see ISO 5725-2:2019, 7.4
 * @example
 * oneWayColumns(Float64Array.of(1, 2, 3, 5), Int32Array.of(0, 0, 0, 0), Int32Array.of(0, 0, 1, 1), 1, 2)[0].f // => 5
 */
export function oneWayColumns(
  values: Float64Array,
  analytes: ArrayLike<number>,
  groups: ArrayLike<number>,
  analyteCount: number,
  groupCount: number,
): OneWayAnalysis[] {
  requireInteger(analyteCount, 'number of analytes', 1);
  requireInteger(groupCount, 'number of groups', 2);
  requireSameLength(values, 'values', analytes, 'analytes');
  requireSameLength(values, 'values', groups, 'groups');
  const cells = accumulate(values, analytes, groups, analyteCount, groupCount);
  return Array.from({ length: analyteCount }, (_, analyte) => {
    const used: number[] = [];
    for (let g = 0; g < groupCount; g++) {
      const at = (analyte * groupCount + g) * stride;
      if (cells[at]! > 0) used.push(at);
    }
    return analysisOf(analyte, used, cells);
  });
}

/** A cell's run in the array of sums: count, origin, then sum and sum of squares about the origin, each with its rest. */
const stride = 8;
const splitter = 134217729;

/**
 * Sums about the first value of each cell, with the rounding error of every addition and product kept: two running numbers
 * hold each sum to about 32 digits.
 */
function accumulate(
  values: Float64Array,
  analytes: ArrayLike<number>,
  groups: ArrayLike<number>,
  analyteCount: number,
  groupCount: number,
): Float64Array {
  const cells = new Float64Array(analyteCount * groupCount * stride);
  for (let i = 0; i < values.length; i++) {
    const analyte = analytes[i]!;
    const group = groups[i]!;
    const value = values[i]!;
    if (
      !(
        analyte >= 0 &&
        analyte < analyteCount &&
        group >= 0 &&
        group < groupCount &&
        Math.abs(value) <= 1e150
      )
    ) {
      throw new InputError(rowProblem(i, value, analyte, group));
    }
    const at = (analyte * groupCount + group) * stride;
    if (cells[at]!++ === 0) cells[at + 1] = value;
    const d = value - cells[at + 1]!;
    const sum = cells[at + 2]!;
    const next = sum + d;
    const part = next - sum;
    cells[at + 3]! += sum - (next - part) + (d - part);
    cells[at + 2] = next;
    const product = d * d;
    const cut = splitter * d;
    const high = cut - (cut - d);
    const low = d - high;
    const squares = cells[at + 4]!;
    const total = squares + product;
    const added = total - squares;
    cells[at + 5]! +=
      squares - (total - added) + (product - added) + (high * high - product + 2 * high * low + low * low);
    cells[at + 4] = total;
  }
  return cells;
}

function rowProblem(i: number, value: number, analyte: number, group: number): string {
  return Math.abs(value) <= 1e150
    ? `row ${i + 1}: found analyte ${analyte}, group ${group}, expected numbers within the counts`
    : `values: found ${value} at position ${i + 1}, expected a finite number of at most 1e150`;
}

function analysisOf(analyte: number, used: readonly number[], cells: Float64Array): OneWayAnalysis {
  const groupSizes = used.map((at) => cells[at]!);
  const n = groupSizes.reduce((a, b) => a + b, 0);
  if (used.length < 2 || n === used.length) {
    throw new InputError(
      `analyte ${analyte}: found ${n} value(s) in ${used.length} group(s), expected two groups and a repeated value`,
    );
  }
  let within = zero;
  const means = used.map((at): DoubleDouble => {
    const size = wide(cells[at]!);
    const sum = twoSum(cells[at + 2]!, cells[at + 3]!);
    const squares = twoSum(cells[at + 4]!, cells[at + 5]!);
    within = add(within, subtract(squares, divide(square(sum), size)));
    return add(wide(cells[at + 1]!), divide(sum, size));
  });
  const total = means.reduce((sum, mean, i) => add(sum, multiply(mean, wide(groupSizes[i]!))), zero);
  const grandMean = divide(total, wide(n));
  const between = means.reduce(
    (sum, mean, i) => add(sum, multiply(square(subtract(mean, grandMean)), wide(groupSizes[i]!))),
    zero,
  );
  return oneWayTable({
    grandMean: narrow(grandMean),
    groupMeans: means.map(narrow),
    groupSizes,
    between,
    within: narrow(within) > 0 ? within : zero,
  });
}
