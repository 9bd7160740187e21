import type { Finding, Verdict } from '../validation/finding.js';
import type { ScenarioSwitches } from './scenario-options.js';

/** What the study must find for one characteristic; `*` stands for every analyte or level not named otherwise. */
export interface ExpectedVerdict {
  readonly characteristic: string;
  readonly analyte: string;
  readonly level: string;
  readonly verdict: Verdict;
  /** What was planted, in words. */
  readonly because: string;
}

function expected(
  characteristic: string,
  analyte: string,
  verdict: Verdict,
  because: string,
  level = '*',
): ExpectedVerdict {
  return { characteristic, analyte, level, verdict, because };
}

/** Planted verdicts that depart from *met*; every other finding that has a criterion is expected to be met. */
export function expectedVerdicts(switches: ScenarioSwitches): ExpectedVerdict[] {
  const overlap = 'zirconium feigns aluminium on the reported line';
  const scoop = 'eight of twelve blanks excluded for calcium';
  return [
    ...(switches.overlap
      ? [
          expected('trueness', 'Al', 'not met', overlap, 'QRM-1'),
          expected('trueness', 'Al', 'not met', overlap, 'QRM-2'),
          expected('trueness', 'Al', 'not met', overlap, 'QRM-3'),
          expected('interference check', 'Al', 'not met', overlap),
          expected('target uncertainty', 'Al', 'not shown', 'the bias of aluminium is in no budget'),
          expected('second line', 'Al', 'not met', overlap),
          expected('method comparison', 'Al', 'not met', overlap),
        ]
      : []),
    ...(switches.calciumBlanksUsable === 4
      ? [
          expected('limit of quantification', 'Ca', 'not shown', scoop),
          expected('procedure blank', 'Ca', 'not shown', scoop),
        ]
      : []),
    expected('crucible memory', 'Fe', 'not met', 'the crucible keeps 1.5 % of the iron'),
    expected('solution stability', 'Si', 'not met', 'silicon falls after 48 h'),
    expected('native internal standard', '*', 'not met', 'native scandium at 0.5 % of the dose', 'ZP-4'),
    ...(switches.repeatabilityFactor > 2.1
      ? [expected('weighing of the portion', '*', 'not met', 'repeatability of the new balance')]
      : []),
    expected('*', '*', 'met', 'nothing is wrong'),
  ];
}

/**
 * The verdict expected of a finding that has a criterion: the first entry that fits it.
 *
 * @example
 * expectedVerdictOf([{ characteristic: '*', analyte: '*', level: '*', verdict: 'met', because: '' }], { characteristic: 'trueness', analyte: 'Fe', level: 'QRM-1' }) // => 'met'
 */
export function expectedVerdictOf(
  expectedVerdicts: readonly ExpectedVerdict[],
  finding: Pick<Finding, 'characteristic' | 'analyte' | 'level'>,
): Verdict {
  const fits = (wanted: string, found: string) => wanted === '*' || wanted === found;
  const entry = expectedVerdicts.find(
    (e) =>
      fits(e.characteristic, finding.characteristic) &&
      fits(e.analyte, finding.analyte) &&
      fits(e.level, finding.level),
  );
  return entry?.verdict ?? 'met';
}
