import { formatSignificant, roundToUncertainty } from '../../quantities/rounding.js';
import type { OutputEvaluation, SimulationRecord } from '../../studies/measurement/evaluate-measurement.js';

/** How a simulation went, in a sentence. */
export function simulationSentence({ trials, seed, stopped }: SimulationRecord): string {
  const stop = {
    fixed: 'a fixed number',
    stable: 'until the figures were stable',
    cap: 'the cap, reached before the figures were stable',
  }[stopped];
  return `Simulation of ${trials} trials (${stop}), seed ${seed}.`;
}

/** What a simulation found for one output, in sentences. */
export function simulatedSentences({ budget, simulated }: OutputEvaluation): string[] {
  if (simulated === null) return [];
  const { estimate, standardUncertainty: u, symmetric, shortest } = simulated;
  const unit = budget.unit === '1' ? '' : ` ${budget.unit}`;
  const width = symmetric.high - symmetric.low;
  // To a hundredth of the half-width: enough to compare with U of two digits, no more than the trials know.
  const at = (value: number): string =>
    width > 0 ? roundToUncertainty(value, width / 2, 3).valueText : String(value);
  const spread = u === null ? 'it has no standard uncertainty' : `u = ${formatSignificant(u, 3)}${unit}`;
  const percent = Number((100 * symmetric.coverage).toPrecision(6));
  return [
    `Simulation: ${budget.output} = ${at(estimate)}${unit}, ${spread}`,
    `  ${percent} % interval, symmetric in probability: ${at(symmetric.low)} to ${at(symmetric.high)}${unit}; ` +
      `shortest: ${at(shortest.low)} to ${at(shortest.high)}${unit}`,
  ];
}
