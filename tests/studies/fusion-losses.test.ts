import { describe, expect, it } from 'vitest';
import type { DigestionRecord } from '../../src/records/tables/digestions.js';
import { fusionLosses as lossesOf } from '../../src/studies/fusion-losses.js';
import { smallStudy } from '../records/small-study.js';

const fusionLosses = (digestions: readonly DigestionRecord[]) =>
  lossesOf({ digestions, equipment: smallStudy.equipment });

/** A fusion of 0.2 g with 2 g of flux whose melt is lighter by this, mg. */
const fusion = (
  digestion: string,
  sample: string,
  lossMg: number | null,
  kind = 'sample',
): DigestionRecord => ({
  ...smallStudy.digestions[0]!,
  digestion,
  sample,
  kind: kind as DigestionRecord['kind'],
  crucibleG: 30,
  crucibleWithPortionG: kind === 'blank' ? 30 : 30.2,
  fluxG: 2,
  crucibleWithMeltG: lossMg === null ? null : (kind === 'blank' ? 32 : 32.2) - lossMg / 1000,
});

const scattering = [10.1, 9.9, 10.0, 10.2, 9.8, 10.1, 9.9, 10.0];
const of = (sample: string, losses: readonly number[], kind = 'sample') =>
  losses.map((loss, i) => fusion(`${sample}-${i + 1}`, sample, loss, kind));

describe('mass balance of the fusions', () => {
  it('is what crucible, portion and flux lost until the melt was weighed', () => {
    const [group, ...more] = fusionLosses([fusion('D-1', 'S-1', 11), fusion('D-2', 'S-1', null)]);
    expect(more).toEqual([]);
    expect(group!.losses).toHaveLength(1);
    const [loss] = group!.losses;
    // 30.2 + 2 − 32.189 = 0.011 g of 2.2 g: 0.5 %.
    expect(loss!.lossG).toAgreeWithin(0.011, 1e-12);
    expect(loss!.portionAndFluxG).toAgreeWithin(2.2, 1e-12);
    expect(loss!.lossPercent).toAgreeWithin(0.5, 1e-12);
    expect(group!.medianPercent).toBe(loss!.lossPercent);
    expect(group!.outlying).toBeNull();
    expect(fusionLosses([fusion('D-2', 'S-1', null)])).toEqual([]);
  });

  it('holds fusions of one charge against each other: what one material loses is no outlier of another', () => {
    const groups = fusionLosses([
      ...of('RM-1', scattering),
      // Carbonate: four times the loss, each time.
      ...of(
        'carbonate',
        scattering.map((loss) => 4 * loss),
      ),
      ...of('S-1', [10.1, 10.0]),
      ...of('S-2', [9.9, 10.0]),
      ...of('procedure blank', [8.1, 8.0], 'blank'),
      ...of('memory blank', [8.0], 'blank'),
    ]);
    expect(groups.map(({ charge, losses, outlying }) => [charge, losses.length, outlying])).toEqual([
      ['RM-1', 8, []],
      ['carbonate', 8, []],
      ['other samples', 4, null],
      ['other blanks', 3, null],
    ]);
  });

  it('finds a charge that spat, and one that lost too little', () => {
    const [spat] = fusionLosses([...of('RM-1', scattering), fusion('D-9', 'RM-1', 16)]);
    expect(spat!.outlying).toEqual(['D-9']);
    const [less] = fusionLosses([...of('RM-1', scattering), fusion('D-9', 'RM-1', 4)]);
    expect(less!.outlying).toEqual(['D-9']);
  });

  it('finds none where all lost the same', () => {
    // One of them in another crucible, where the difference of the readings ends in other bits.
    const rows = of('RM-1', [10, 10, 10, 10, 10, 10, 10]).map((row, i) => {
      const crucibleG = i === 0 ? 41.3 : 30.1;
      return {
        ...row,
        crucibleG,
        crucibleWithPortionG: crucibleG + 0.2,
        crucibleWithMeltG: crucibleG + 2.19,
      };
    });
    expect(fusionLosses(rows)[0]!.outlying).toEqual([]);
  });

  it('takes nothing for an outlier that weighing explains', () => {
    // Repeatability and scale interval of 0.1 mg: 3·√2·√(0.1² + 0.1²/12) = 0.44 mg.
    const found = (lossMg: number) => fusionLosses(of('RM-1', [10, 10, 10, 10, 10, 10, lossMg]))[0]!.outlying;
    expect(found(10.4)).toEqual([]);
    expect(found(10.5)).toEqual(['RM-1-7']);
  });
});
