import { unexplainedStep } from '../../chain/counting-route.js';
import { median } from '../../statistics/descriptive/median.js';
import { observedStep } from '../../studies/chain-uncertainty/chain-shares.js';
import type { ChainUncertainty, LevelChain } from '../../studies/chain-uncertainty/chain-uncertainty.js';

const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;

/** What no budget of an analyte holds, one sentence an analyte. */
export function outsideSentences({ levels }: ChainUncertainty): string[] {
  const found = new Map(
    levels.flatMap((l) => (l.outsideBudget === null ? [] : [[l.analyte, l.outsideBudget]])),
  );
  return [...found].map(
    ([analyte, why]) =>
      `${analyte}: ${why} Its budgets do not hold this; they describe its scatter, not the uncertainty of its results, and its function is not for routine results until this is settled.`,
  );
}

/** The answers in a few sentences. */
export function chainAnswer({ levels }: ChainUncertainty): string[] {
  const n = levels.length;
  const count = (holds: (level: LevelChain) => boolean) => levels.filter(holds).length;
  const shown = count((l) => l.scatter.unexplainedInterval.low > 0);
  const below = count((l) => l.routes.positionAlone === 'below');
  const within = count((l) => l.routes.position === 'within');
  return [
    `Largest steps, by the median of their shares over ${n} results: ${largestSteps(levels)}.`,
    `The 95 % interval of the unexplained fusion–dissolution variation leaves out 0 in ${shown} of ${n} results: there the method scatters more than its components predict.`,
    `Components alone fall below what the observed scatter allows in ${below} of ${n} results; with the unexplained variation the component route lies within it in ${within} of ${n}.`,
    `Law of propagation and simulation agree in ${agreeing(levels, 'components')} of ${n} results by the component route and in ${agreeing(levels, 'precision')} by the precision route; with all standard uncertainties taken as known ${knownWords(levels)}.`,
  ];
}

function knownWords(levels: readonly LevelChain[]): string {
  const count = (outcome: string) =>
    levels.filter((l) => l.methods.known.comparison.outcome === outcome).length;
  const open = count('not decided');
  const undecided = open === 0 ? '' : `; ${open} would need more trials to decide`;
  return `they differ in ${count('differ')} and agree in ${count('agree')}${undecided}`;
}

/** Width of the simulated interval over that of the law of propagation: smallest and largest of all results. */
function widths(levels: readonly LevelChain[], route: 'components' | 'precision'): string {
  const ratios = levels.map(({ methods }) => {
    const { budget, simulated } = methods[route];
    return (simulated.symmetric.high - simulated.symmetric.low) / (2 * budget.expandedUncertainty);
  });
  return `${Math.min(...ratios).toFixed(2)} to ${Math.max(...ratios).toFixed(2)} times`;
}

function agreeing(levels: readonly LevelChain[], route: 'components' | 'precision'): number {
  return levels.filter((l) => l.methods[route].comparison.outcome === 'agree').length;
}

function largestSteps(levels: readonly LevelChain[]): string {
  const steps = [...new Set(levels.flatMap((l) => l.shares.map((s) => s.step)))];
  const medians = steps.map((step) => {
    const shares = levels.map((l) => l.shares.find((s) => s.step === step)?.share ?? 0);
    return { step, median: median(shares) };
  });
  return medians
    .sort((a, b) => b.median - a.median)
    .slice(0, 4)
    .map(({ step, median }) => `${step} ${percent(median)}`)
    .join(', ');
}

/** What the comparison of the two methods means. */
export function methodsSentences({ levels, simulation }: ChainUncertainty): string[] {
  const known = levels.filter((l) => l.methods.known.comparison.outcome === 'differ');
  const few = levels.filter((l) => l.methods.components.simulated.standardUncertainty === null);
  const names = (list: readonly LevelChain[]) => list.map((l) => `${l.analyte} ${l.level}`).join(', ');
  const cause =
    known.length === 0
      ? 'With every standard uncertainty taken as known no result differs: the model is as good as linear within its uncertainties, and what differs otherwise comes from limited degrees of freedom alone.'
      : `Even with every standard uncertainty taken as known ${names(known)} differ: the model or the shape of an input does not suit the law of propagation there, and the simulation stands.`;
  return [
    `Each budget was simulated with ${simulation.trials} trials (seed ${simulation.seed}) and compared by JCGM 101:2008, clause 8, with δ half a unit of the second digit of u.`,
    cause,
    `An estimate from few observations enters the simulation as a t distribution, whose standard deviation is √(ν/(ν − 2)) times the u of the law of propagation; for ν between 3 and 10 a wider interval is expected. By the component route this is the ${unexplainedStep}, a difference of two variances; by the precision route the ${observedStep}, which has the degrees of freedom of the days.`,
    `The simulated 95 % interval is ${widths(levels, 'components')} as wide as that of the law of propagation by the component route, and ${widths(levels, 'precision')} by the precision route. Where they differ the simulation stands; this report’s U and k are those of the law of propagation, whose k allows for limited degrees of freedom in its own way (GUM, Annex G).`,
    ...(few.length === 0
      ? []
      : [
          `${names(few)}: the ${unexplainedStep} is so small beside the scatter it is taken from that two degrees of freedom or fewer are left. The simulated interval of the component route is then too wide to be useful; the precision route, which needs no such difference, is the one to hold by.`,
        ]),
  ];
}
