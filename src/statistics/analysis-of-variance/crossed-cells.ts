import { InputError } from '../../errors.js';
import { solveFactored, tryCholesky } from '../arithmetic/cholesky.js';
import {
  add,
  type DoubleDouble,
  divide,
  multiply,
  narrow,
  subtract,
  wide,
  zero,
} from '../arithmetic/double-double.js';

/** A factor of a crossed design: its name and the level of each value. */
export interface CrossedFactor {
  readonly name: string;
  readonly levels: readonly (string | number)[];
}

/** Sizes and means of the levels of one factor, or of the cells. */
export interface LevelMeans {
  /** Level of each value, from 0. */
  readonly code: readonly number[];
  readonly sizes: readonly number[];
  readonly means: readonly DoubleDouble[];
}

/** Cells of two crossed factors; cells without values do not appear. */
export interface CrossedCells {
  readonly mean: DoubleDouble;
  readonly rows: LevelMeans;
  readonly columns: LevelMeans;
  readonly cells: LevelMeans;
  /** Row and column of each cell. */
  readonly rowOfCell: readonly number[];
  readonly columnOfCell: readonly number[];
}

export function crossedCells(
  values: readonly number[],
  rowFactor: CrossedFactor,
  columnFactor: CrossedFactor,
): CrossedCells {
  const rows = levelMeans(values, rowFactor.levels);
  const columns = levelMeans(values, columnFactor.levels);
  const cells = levelMeans(
    values,
    rows.code.map((row, i) => row * columns.sizes.length + columns.code[i]!),
  );
  const rowOfCell: number[] = [];
  const columnOfCell: number[] = [];
  cells.code.forEach((cell, i) => {
    rowOfCell[cell] = rows.code[i]!;
    columnOfCell[cell] = columns.code[i]!;
  });
  const total = values.reduce((sum, value) => add(sum, wide(value)), zero);
  return { mean: divide(total, wide(values.length)), rows, columns, cells, rowOfCell, columnOfCell };
}

function levelMeans(values: readonly number[], levels: readonly (string | number)[]): LevelMeans {
  const seen = new Map<string | number, number>();
  const sizes: number[] = [];
  const sums: DoubleDouble[] = [];
  const code = levels.map((level, i) => {
    const c = seen.get(level) ?? seen.size;
    seen.set(level, c);
    sizes[c] = (sizes[c] ?? 0) + 1;
    sums[c] = add(sums[c] ?? zero, wide(values[i]!));
    return c;
  });
  return { code, sizes, means: sums.map((sum, c) => divide(sum, wide(sizes[c]!))) };
}

/** Columns after rows: sum of squares, and traces that carry the components of columns and cells in its expectation. */
export interface AdjustedColumns {
  readonly sumOfSquares: number;
  readonly columnTrace: number;
  readonly cellTrace: number;
}

/**
 * Columns adjusted for rows, from the reduced normal equations R = D_b − Nᵀ·D_a⁻¹·N.
 *
 * @throws InputError rows and columns that fall into unconnected parts
 */
export function columnsAdjustedForRows(design: CrossedCells, columnName: string): AdjustedColumns {
  const { rows, cells, rowOfCell } = design;
  const { reduced, score, w } = reducedEquations(design);
  const factor = tryCholesky(reduced, 1e-9);
  if (!factor) {
    throw new InputError(
      `${columnName}: found levels that no common row connects, expected a connected design`,
    );
  }
  const solution = solveFactored(factor, score);
  let cellTrace = 0;
  for (let cell = 0; cell < cells.sizes.length; cell++) {
    const column = w.map((row) => row[cell]!);
    cellTrace += solveFactored(factor, column).reduce((total, v, j) => total + v * column[j]!, 0);
  }
  const inRows = rowOfCell.reduce(
    (total, row, cell) => total + cells.sizes[cell]! ** 2 / rows.sizes[row]!,
    0,
  );
  return {
    sumOfSquares: solution.reduce((total, v, j) => total + v * score[j]!, 0),
    columnTrace: cells.code.length - inRows,
    cellTrace,
  };
}

/** R, its right-hand side, and W = Zᵀ_columns·(what is left of the cells beyond rows): one row a column, one entry a cell. */
function reducedEquations(design: CrossedCells): {
  reduced: number[][];
  score: number[];
  w: Float64Array[];
} {
  const { rows, columns, cells, rowOfCell, columnOfCell } = design;
  // The last column is left out: columns are compared, not placed.
  const b = columns.sizes.length - 1;
  const reduced = Array.from({ length: b }, (_, j) =>
    Array.from({ length: b }, (__, k) => (j === k ? columns.sizes[j]! : 0)),
  );
  const right = new Array<DoubleDouble>(b).fill(zero);
  const w = Array.from({ length: b }, () => new Float64Array(cells.sizes.length));
  const cellsOfRow = rows.sizes.map((): number[] => []);
  rowOfCell.forEach((row, cell) => {
    cellsOfRow[row]!.push(cell);
  });
  cellsOfRow.forEach((members, row) => {
    for (const cell of members) {
      const j = columnOfCell[cell]!;
      if (j >= b) continue;
      const size = cells.sizes[cell]!;
      const deviation = subtract(cells.means[cell]!, rows.means[row]!);
      right[j] = add(right[j]!, multiply(deviation, wide(size)));
      for (const other of members) {
        const product = (size * cells.sizes[other]!) / rows.sizes[row]!;
        w[j]![other] = (other === cell ? size : 0) - product;
        const k = columnOfCell[other]!;
        if (k < b) reduced[j]![k]! -= product;
      }
    }
  });
  return { reduced, score: right.map(narrow), w };
}
