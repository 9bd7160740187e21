import type { BalanceSpecification } from '../../chain/balance.js';
import { type LossOfMass, lossName } from '../../chain/mass-on-basis.js';
import { InputError } from '../../errors.js';
import type { DigestionRecord } from '../../records/tables/digestions.js';
import { dilutionBalance } from '../../records/tables/dilutions.js';
import { lossesOfPortion } from '../losses-of-portion.js';
import type { StreamContext } from './stream-context.js';
import type { OpenRun } from './template-store.js';
import { equalised, numbersOf, WeighingColumns } from './weighing-columns.js';

/**
 * Weighings of the dilutions that digestions were read in.
 *
 * @param places where each of the digestions was read
 * @throws InputError a dilution to a volume, a balance that the register does not hold
 */
export function dilutionColumns(
  context: StreamContext,
  run: OpenRun,
  digestions: readonly number[],
  places: Int32Array,
): WeighingColumns {
  const count = digestions.length;
  const [aliquots, finals] = [new Float64Array(count), new Float64Array(count)];
  const balances: BalanceSpecification[] = [];
  for (let i = 0; i < count; i++) {
    const record = context.dilutions.get(run.readings.places[places[i]!]!.solution)!;
    if (record.finalG === null) {
      throw new InputError(
        `dilution ${record.dilution}: expected a final mass in g; dilution to a volume needs a calibration in mg/L`,
      );
    }
    aliquots[i] = record.aliquotG;
    finals[i] = record.finalG;
    balances.push(balanceOf(context, dilutionBalance(record, run.signals.digestions[digestions[i]!]!)));
  }
  const columns = new WeighingColumns();
  columns.putReadings('aliquot_', balances, aliquots);
  columns.putReadings('aliquot_0', balances, new Float64Array(count));
  columns.putReadings('final_', balances, finals);
  columns.putReadings('final_0', balances, new Float64Array(count));
  return columns;
}

function balancesOf(
  context: StreamContext,
  rows: readonly DigestionRecord[],
  field: 'portionBalance' | 'vesselBalance',
): BalanceSpecification[] {
  const balances: BalanceSpecification[] = [];
  for (const row of rows) balances.push(balanceOf(context, row[field]));
  return balances;
}

function balanceOf(context: StreamContext, id: string): BalanceSpecification {
  const balance = context.index.balances.get(id);
  if (balance === undefined)
    throw new InputError(`balance ${id}: expected a balance of the equipment register`);
  return balance.specification;
}

/**
 * Weighings of digestions, their density, flux and losses of mass to the basis reported.
 *
 * @param rows of one kind
 * @throws InputError a balance that the register does not hold, a loss of mass that is not recorded
 */
export function weighingColumns(context: StreamContext, rows: readonly DigestionRecord[]): WeighingColumns {
  const columns = new WeighingColumns();
  const portion = balancesOf(context, rows, 'portionBalance');
  const vessel = balancesOf(context, rows, 'vesselBalance');
  const numbers = (of: (row: DigestionRecord) => number) => numbersOf(rows, of);
  const crucibleWithPortion = numbers((row) => row.crucibleWithPortionG);
  columns.putReadings('cp', portion, crucibleWithPortion);
  const crucible = numbers((row) => row.crucibleG);
  columns.putReadings('c', portion, crucible);
  const vesselWithSolution = numbers((row) => row.vesselWithSolutionAndCrucibleG);
  columns.putReadings('vs', vessel, vesselWithSolution);
  const vesselEmpty = numbers((row) => row.vesselEmptyG ?? Number.NaN);
  columns.putReadings('v', vessel, vesselEmpty);
  columns.putSensitivity('S_p', portion);
  columns.putSensitivity('S_v', vessel);
  columns.put('rho_s', equalised(numbers((row) => (row.densityGPerML ?? 1) * 1000)), 0);
  columns.put('flux', equalised(numbers((row) => row.fluxG)), 0);
  putLosses(context, columns, rows);
  return columns;
}

function putLosses(context: StreamContext, columns: WeighingColumns, rows: readonly DigestionRecord[]): void {
  const losses: (readonly LossOfMass[])[] = [];
  for (const row of rows) losses.push(lossesOfPortion(context.index, row));
  // The rows are of one kind: all have the same steps, or none.
  for (let i = 0; i < losses[0]!.length; i++) {
    columns.put(
      lossName(losses[0]![i]!),
      equalised(numbersOf(losses, (own) => own[i]!.fraction)),
      equalised(numbersOf(losses, (own) => own[i]!.standardUncertainty)),
    );
  }
}
