import { formatSignificant, roundToUncertainty } from '../../quantities/rounding.js';
import type { OutputEvaluation, SimulationRecord } from '../../studies/measurement/evaluate-measurement.js';
import type { SimulatedOutput } from '../../uncertainty/simulation/simulation.js';

/** How a simulation went, in a sentence. */
export function simulationSentence({ trials, seed, stopped }: SimulationRecord): string {
  const stop = {
    fixed: 'a fixed number',
    stable: 'until the figures were stable',
    cap: 'the cap, reached before the figures were stable',
  }[stopped];
  return `Simulation of ${trials} trials (${stop}), seed ${seed}.`;
}

/** A figure to a hundredth of the half-width: enough to compare with U of two digits, no more than the trials know. */
function shown(value: number, { symmetric }: SimulatedOutput): string {
  const width = symmetric.high - symmetric.low;
  return width > 0 ? roundToUncertainty(value, width / 2, 3).valueText : String(value);
}

/** What a simulation found for one output, in sentences. */
export function simulatedSentences({ budget, simulated }: OutputEvaluation): string[] {
  if (simulated === null) return [];
  const { estimate, standardUncertainty: u, symmetric, shortest } = simulated;
  const unit = budget.unit === '1' ? '' : ` ${budget.unit}`;
  const at = (value: number): string => shown(value, simulated);
  const spread = u === null ? 'it has no standard uncertainty' : `u = ${formatSignificant(u, 3)}${unit}`;
  const percent = Number((100 * symmetric.coverage).toPrecision(6));
  return [
    `Simulation: ${budget.output} = ${at(estimate)}${unit}, ${spread}`,
    `  ${percent} % interval, symmetric in probability: ${at(symmetric.low)} to ${at(symmetric.high)}${unit}; ` +
      `shortest: ${at(shortest.low)} to ${at(shortest.high)}${unit}`,
  ];
}

/**
 * Which of the two results of one output is to be reported, and why; empty where there is only one or none.
 *
 * @see JCGM 101:2008, 8.1, 8.2
 */
export function sentenceOnReporting({ budget, simulated, comparison, reported }: OutputEvaluation): string[] {
  if (simulated === null || comparison === null) return [];
  const { output, unit } = budget;
  const shownUnit = unit === '1' ? '' : ` ${unit}`;
  if (comparison.outcome === 'not decided')
    return [
      `To report for ${output}: not decided yet, as the simulation is too short to tell; take more trials.`,
    ];
  if (comparison.outcome === 'agree')
    return reported === null
      ? []
      : [`To report: ${reported.result}, from the law of propagation, with which the simulation agrees.`];
  const { estimate, symmetric } = simulated;
  const [at, low, high] = [estimate, symmetric.low, symmetric.high].map((value) => shown(value, simulated));
  const percent = Number((100 * symmetric.coverage).toPrecision(6));
  return [
    `To report: ${output} = ${at}${shownUnit} with the ${percent} % interval ${low} to ${high}${shownUnit}, from the simulation, as the law of propagation does not agree with it.`,
  ];
}
