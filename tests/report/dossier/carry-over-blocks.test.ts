import { describe, expect, it } from 'vitest';
import type { Cell, Table } from '../../../src/report/document.js';
import { carryOverBlocks } from '../../../src/report/dossier/carry-over-blocks.js';
import { demonstrationSeed, zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { mean } from '../../../src/statistics/descriptive/mean.js';
import { validateMatrix } from '../../../src/studies/matrix/validate-matrix.js';

const { records } = zirconPigmentStudy({ seed: demonstrationSeed });
const validation = validateMatrix(records);
const [inSolid, rows] = carryOverBlocks(validation) as [Table, Table];
const numberIn = (cell: Cell | undefined): number => {
  if (cell?.kind !== 'number') throw new Error(`found ${JSON.stringify(cell)}, expected a number`);
  return cell.value;
};

describe('blocks on carry-over in the spectrometer', () => {
  it('show the excess as content of a sample beside the limit of quantification', () => {
    const fe = inSolid.rows.find(([analyte]) => analyte?.kind === 'text' && analyte.text === 'Fe')!;
    const { excess, limits } = validation.carryOvers.find(({ finding }) => finding.analyte === 'Fe')!;
    // 100 g of solution from 0.2 g of portion: 1 mg/kg in solution is 500 mg/kg of Fe; Fe2O3 is 159.687/(2 × 55.845) of it.
    // Portions are weighed as received, and 1 − moisture of them is dry: the mean over the digestions of samples.
    const { results, index } = validation.study;
    const moistureOf = new Map(index.records.moisture.map((m) => [m.sample, m.lossGPer100G / 100]));
    const dry = results.flatMap(({ kind, analyte, sample }) =>
      kind === 'sample' && analyte === 'Fe' ? [1 - moistureOf.get(sample)!] : [],
    );
    const perUnit = (500 * 159.687) / (2 * 55.845) / mean(dry);
    expect(numberIn(fe[3])).toAgreeWithin(excess * perUnit, 1e-5);
    expect(numberIn(fe[5])).toAgreeWithin(limits!.high * perUnit, 1e-5);
    const quantification = validation.limits.find(({ analyte }) => analyte === 'Fe')!.quantification!.value!;
    expect(numberIn(fe[6])).toBe(quantification);
    expect(numberIn(fe[7])).toAgreeWithin((100 * numberIn(fe[5])) / quantification, 1e-12);
  });

  it('show every zero solution of every run', () => {
    expect(rows.rows.length).toBe(validation.carryOvers.reduce((sum, c) => sum + c.rows.length, 0));
    expect(inSolid.rows.length).toBe(8);
  });

  it('leave the content of a sample out where no digestion gave a result', () => {
    const study = { ...validation.study, results: [] };
    const blocks = carryOverBlocks({ ...validation, study }) as Table[];
    expect(blocks.map(({ id }) => id)).toEqual(['carry-over/rows']);
  });

  it('stay empty where nothing was read', () => {
    expect(carryOverBlocks({ ...validation, carryOvers: [] })).toEqual([]);
  });

  it('name what one run cannot give', () => {
    const [first, ...rest] = validation.carryOvers;
    const [table] = carryOverBlocks({
      ...validation,
      carryOvers: [{ ...first!, limits: null }, ...rest],
    }) as [Table];
    expect(table.rows[0]![4]).toEqual({ kind: 'empty', reason: 'one run only' });
  });
});
