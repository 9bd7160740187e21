import { InputError, requireFinite, requireNonNegative, requirePositive } from '../../errors.js';
import { limitsOfEstimate, scaleLimits } from '../confidence-limits.js';
import type { Finding } from '../finding.js';
import { type FindingOptions, makeFinding } from '../make-finding.js';
import { type MeanOverDays, meanOverDays } from '../mean-over-days.js';
import { noScatter } from '../no-scatter.js';
import { rowsOf } from '../result-row.js';
import { unitsForMean } from '../results-needed.js';
import { scaleOf } from '../scale.js';
import { type SharedPartners, sharedPartners, type UnspikedRow } from './shared-partners.js';
import type { SpikeRow } from './spike-row.js';

export type SpikeStage = 'before fusion' | 'after dissolution';

export interface SpikeRecoveryOptions extends Omit<FindingOptions, 'unit'> {
  readonly stage: SpikeStage;
  /** All results of the samples without addition, the partners among them: they tell the scatter of a partner that several days share. */
  readonly unspiked?: readonly UnspikedRow[];
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
  /** Of the mean recovery: scatter of the days, and what the days share by the amounts added and by their unspiked digestions. */
  readonly standardUncertainty: number;
  readonly standardUncertaintyOfAddition: number;
  readonly partners: SharedPartners;
  readonly degreesOfFreedom: number;
}

/**
 * Recovery of additions, R = (m_found − w_unspiked·m_p)/m_added, its mean over days and limits.
 *
 * The additions come from one standard, so their relative uncertainty is taken as common to all and does not average out. Nor
 * does the error of an unspiked digestion that spikes of several days lean on: `sharedPartners` adds what they have in common.
 * Spikes after dissolution do not test losses in fusion, and no spike shows an additive error such as an overlap.
 *
 * Where nothing tells how that digestion scatters, there are no limits and nothing is shown.
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
  const partners = sharedPartners(rows, options.unspiked ?? []);
  const figures = { spikes, overDays, partners, standardUncertaintyOfAddition: addition };
  const whole = { ...figures, ...combined(figures) };
  return { finding: findingOf(rows, options, whole), ...whole };
}

/** Scatter of the days, amounts added and shared partners, with Welch–Satterthwaite degrees of freedom. */
function combined({
  overDays,
  partners,
  standardUncertaintyOfAddition: addition,
}: Pick<SpikeRecovery, 'overDays' | 'partners' | 'standardUncertaintyOfAddition'>) {
  const observed = overDays.standardUncertainty ?? 0;
  const shared = partners.standardUncertainty ?? 0;
  const standardUncertainty = Math.hypot(observed, addition, shared);
  const parts =
    observed ** 4 / Math.max(1, overDays.degreesOfFreedom) + shared ** 4 / partners.degreesOfFreedom;
  return { standardUncertainty, degreesOfFreedom: parts > 0 ? standardUncertainty ** 4 / parts : Infinity };
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
  const scattered = overDays.standardUncertainty !== null;
  const known = scattered && figures.partners.standardUncertainty !== null;
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
      notes: [...notesOf(options.stage, figures.spikes), ...partnerNotes(figures), ...(options.notes ?? [])],
      notShownBecause: !scattered
        ? 'All spikes are of one day: spikes on at least 2 days are needed to see how recovery varies.'
        : !known
          ? 'Spikes of several days share unspiked digestions, whose error is common to them, and nothing tells how these scatter from day to day: digest the sample without addition on at least 2 days, better on each day of the spikes.'
          : overDays.standardUncertainty === 0
            ? noScatter('The recoveries of the days', 'they do not show how recovery varies')
            : null,
      remedy: () => remedyOf(options, figures, scale.factor),
    },
  );
}

function remedyOf(
  { criterion }: SpikeRecoveryOptions,
  { overDays, partners, standardUncertaintyOfAddition: addition }: Omit<SpikeRecovery, 'finding'>,
  factor: number,
): string {
  const shared = partners.standardUncertainty ?? 0;
  const days = overDays.days.length;
  const spread = (overDays.standardUncertainty ?? 0) * Math.sqrt(days);
  const unspiked =
    shared > addition
      ? ' Unspiked digestions on each day of the spikes take away what the days have in common.'
      : '';
  const fixed = { standardUncertainty: Math.hypot(shared, addition) * factor, degreesOfFreedom: Infinity };
  if (shared > 0)
    fixed.degreesOfFreedom = Math.hypot(shared, addition) ** 4 / (shared ** 4 / partners.degreesOfFreedom);
  return `${unitsForMean(overDays.mean * factor, spread * factor, fixed, days, criterion, 'days')}${unspiked}`;
}

function partnerNotes({
  partners: { standardUncertainty },
  overDays,
}: Omit<SpikeRecovery, 'finding'>): string[] {
  if (standardUncertainty === null || standardUncertainty === 0) return [];
  const percent = Number(((100 * standardUncertainty) / Math.abs(overDays.mean)).toPrecision(2));
  return [
    `Spikes of several days share unspiked digestions: their common error, ${percent} % of the mean recovery (standard uncertainty, from the scatter of the unspiked results), is in the limits.`,
  ];
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
