import { InputError, requireFinite, requireNonNegative, requirePositive } from '../../errors.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { type MeanOverDays, meanOverDays } from '../mean-over-days.js';
import { rowsOf } from '../result-row.js';
import { unitsForMean } from '../results-needed.js';
import { scaleOf } from '../scale.js';

/** One addition of a known amount, with what was found in the spiked and in the unspiked digestion. */
export interface SpikeRow {
  /** Spiked digestion, and the digestions of the same sample without addition. */
  readonly key: string;
  readonly partners: readonly string[];
  readonly day: string;
  /** Amount found in the spiked digestion, blank taken off. */
  readonly foundMg: number;
  /** Mass fraction of the unspiked sample and the portion that was spiked, on one basis. */
  readonly unspikedMgPerKg: number;
  readonly portionG: number;
  readonly addedMg: number;
  readonly addedStandardUncertaintyMg: number;
}

export type SpikeStage = 'before fusion' | 'after dissolution';

export interface SpikeRecoveryOptions extends Omit<FindingOptions, 'unit'> {
  readonly stage: SpikeStage;
  /** What else bears on the finding. */
  readonly notes?: readonly string[];
}

/** Recovery of one addition; 1 is complete. */
export interface SpikeResult {
  readonly key: string;
  readonly day: string;
  readonly recovery: number;
  /** Addition ÷ native amount: below about 0.5 the difference of two large numbers is judged. */
  readonly addedPerNative: number;
}

/** Recovery of additions at one stage, with everything its table and figure need. */
export interface SpikeRecovery {
  readonly finding: Finding;
  readonly spikes: readonly SpikeResult[];
  readonly overDays: MeanOverDays;
  /** Of the mean recovery: scatter of the days, and of the amounts added, which share their standard. */
  readonly standardUncertainty: number;
  readonly standardUncertaintyOfAddition: number;
  readonly degreesOfFreedom: number;
}

/**
 * Recovery of additions, R = (m_found − w_unspiked·m_p)/m_added, its mean over days and limits.
 *
 * The additions come from one standard, so their relative uncertainty is taken as common to all and does not average out.
 * Spikes after dissolution do not test losses in fusion, and no spike shows an additive error such as an overlap.
 *
 * @throws InputError no spike, an amount added or a portion not above 0
 * @see Thompson, Ellison, Fajgelj, Willetts and Wood 1999, Pure Appl. Chem. 71, 337 (use of recovery information)
 */
export function spikeRecovery(rows: readonly SpikeRow[], options: SpikeRecoveryOptions): SpikeRecovery {
  if (rows.length === 0) throw new InputError('spikes: found none, expected at least 1');
  const spikes = rows.map(recoveryOf);
  const overDays = meanOverDays(spikes.map(({ day, recovery }) => ({ day, value: recovery })));
  const addition =
    overDays.mean * Math.max(...rows.map((row) => row.addedStandardUncertaintyMg / row.addedMg));
  const observed = overDays.standardUncertainty;
  const standardUncertainty = Math.hypot(observed ?? 0, addition);
  const degreesOfFreedom =
    observed === null || observed === 0
      ? Infinity
      : (standardUncertainty / observed) ** 4 * overDays.degreesOfFreedom;
  const figures = {
    spikes,
    overDays,
    standardUncertainty,
    standardUncertaintyOfAddition: addition,
    degreesOfFreedom,
  };
  return { finding: findingOf(rows, options, figures), ...figures };
}

function recoveryOf(row: SpikeRow): SpikeResult {
  requireFinite([row.foundMg, row.unspikedMgPerKg], `spike ${row.key}`);
  requirePositive(row.portionG, `portion of ${row.key}`);
  requirePositive(row.addedMg, `amount added to ${row.key}`);
  requireNonNegative(
    row.addedStandardUncertaintyMg,
    `standard uncertainty of the amount added to ${row.key}`,
  );
  const nativeMg = (row.unspikedMgPerKg * row.portionG) / 1000;
  return {
    key: row.key,
    day: row.day,
    recovery: (row.foundMg - nativeMg) / row.addedMg,
    addedPerNative: nativeMg > 0 ? row.addedMg / nativeMg : Infinity,
  };
}

function findingOf(
  rows: readonly SpikeRow[],
  options: SpikeRecoveryOptions,
  figures: Omit<SpikeRecovery, 'finding'>,
): Finding {
  const { overDays, standardUncertainty, degreesOfFreedom } = figures;
  const scale = scaleOf(options.criterion, 'recovery', 1);
  const known = overDays.standardUncertainty !== null;
  const days = overDays.days.length;
  const stage = options.stage === 'before fusion' ? 'recovery before fusion' : 'recovery after dissolution';
  return makeFinding(
    stage,
    { ...options, unit: scale.unit },
    {
      quantity: `mean recovery of additions ${options.stage}`,
      unit: scale.unit,
      estimate: overDays.mean * scale.factor,
      limits: known
        ? scaleLimits(limitsOfEstimate(overDays.mean, standardUncertainty, degreesOfFreedom), scale.factor)
        : null,
      degreesOfFreedom: known ? degreesOfFreedom : null,
      n: days,
      clause:
        'IUPAC, Pure Appl. Chem. 71 (1999) 337; Eurachem, Fitness for Purpose 2014, 6.5.3 (clause from memory)',
      method:
        'mean of the recoveries over days, limits by t, uncertainty of the amount added taken as common',
      rows: [
        rowsOf('spikes', rows),
        { table: 'digestions', keys: [...new Set(rows.flatMap((row) => [row.key, ...row.partners]))] },
      ],
      notes: [...notesOf(options.stage, figures.spikes), ...(options.notes ?? [])],
      notShownBecause: known
        ? null
        : 'All spikes are of one day: spikes on at least 2 days are needed to see how recovery varies.',
      remedy: () =>
        unitsForMean(
          overDays.mean * scale.factor,
          (overDays.standardUncertainty ?? 0) * Math.sqrt(days) * scale.factor,
          figures.standardUncertaintyOfAddition * scale.factor,
          days,
          options.criterion,
          'days',
        ),
    },
  );
}

function notesOf(stage: SpikeStage, spikes: readonly SpikeResult[]): string[] {
  const notes = ['Recovery of additions does not show an additive error, such as a spectral overlap.'];
  if (stage === 'after dissolution') notes.push('Additions after dissolution do not test losses in fusion.');
  const small = spikes.filter((spike) => spike.addedPerNative < 0.5);
  if (small.length > 0) {
    notes.push(
      `Additions below half the native amount: ${small.map((spike) => spike.key).join(', ')}; their recovery is the small difference of large amounts.`,
    );
  }
  return notes;
}
