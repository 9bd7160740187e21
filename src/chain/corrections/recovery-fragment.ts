import type { InputQuantity } from '../../uncertainty/input-quantity.js';
import { identifier, type ModelFragment, recordedValue } from '../model-fragment.js';
import { type ResultOrigin, sharedKey } from '../shared-quantity.js';
import {
  type LastingError,
  type RecoveryFactor,
  recoveryErrorName,
  recoveryName,
} from './recovery-factor.js';

/**
 * Step "recovery": R by which the net amount is divided. An error that both the experiment and this result hold stands in R with
 * its own name, so that what is proportional cancels: the result is then traceable through the experiment's reference values. What
 * only the experiment holds widens R, each error for itself: another result may hold it, and it is common to all that R corrects.
 *
 * @param inputs of the result without recovery
 * @see JCGM 100:2008, 5.2 and F.1.2.3; QUAM:2012, 7.7 (clause from memory)
 */
export function recoveryFragment(
  recovery: RecoveryFactor,
  origin: ResultOrigin,
  inputs: readonly InputQuantity[],
): ModelFragment {
  const a = identifier(recovery.analyte);
  const byKey = new Map(
    inputs.flatMap((input) =>
      input.standardUncertainty > 0 ? [[sharedKey(input, origin), input] as const] : [],
    ),
  );
  const terms = recovery.lasting.map((error, at) => {
    const input = byKey.get(error.key);
    return input !== undefined && isSame(input, error)
      ? { shared: error.key, ...termOf(error, input) }
      : { shared: null, ...unmatchedTerm(recovery, at, input !== undefined) };
  });
  const shared = terms.flatMap((term) => term.shared ?? []).join(', ') || 'nothing';
  const base = { step: 'recovery', source: recovery.source };
  return {
    equations: [
      {
        name: recoveryName(recovery.analyte),
        description: `recovery of ${recovery.analyte}, with what its experiment shares with this result: ${shared}`,
        unit: '1',
        expression: `R_${a} * (1 + d_R_${a}${terms.map((term) => term.text).join('')})`,
      },
    ],
    inputs: [
      {
        ...recordedValue(`R_${a}`, `recovery of ${recovery.analyte}`, '1', recovery.estimate, '', ''),
        ...base,
        standardUncertainty: recovery.standardUncertainty,
        degreesOfFreedom: recovery.degreesOfFreedom,
        distribution: Number.isFinite(recovery.degreesOfFreedom) ? { kind: 't' } : { kind: 'normal' },
        evaluation: 'A',
      },
      {
        ...recordedValue(`d_R_${a}`, 'further lasting errors of the recovery experiment', '1', 0, '', ''),
        ...base,
        standardUncertainty: recovery.furtherLasting,
      },
      ...terms.flatMap((term) => term.inputs.map((input) => ({ ...input, step: base.step }))),
    ],
    correlations: [],
  };
}

/** An error relative to a load differs in size from digestion to digestion and is one error all the same. */
function isSame(input: InputQuantity, error: LastingError): boolean {
  if (error.standardUncertainty === 0 || input.estimate !== error.estimate) return false;
  return input.standardUncertainty === error.standardUncertainty || input.name.startsWith('ecc_');
}

/**
 * Error that the experiment has and this result has not, as an input of its own. Where the result holds another value under the
 * same key, or the error is no single input, it is known as the experiment's.
 */
function unmatchedTerm(recovery: RecoveryFactor, at: number, isOther: boolean) {
  const { key, effect, standardUncertainty } = recovery.lasting[at]!;
  const name = recoveryErrorName(recovery.analyte, at, isOther || standardUncertainty === 0);
  const description = `lasting error of the recovery experiment: ${key}`;
  return {
    text: ` ${effect < 0 ? '-' : '+'} ${name}`,
    inputs: [
      {
        ...recordedValue(name, description, '1', 0, '', recovery.source),
        standardUncertainty: Math.abs(effect),
      },
    ],
  };
}

/** Digits of a slope in the equation: more than count, few enough to read. */
const slopeDigits = 12;

/**
 * Relative change of R with a quantity x: ∂ln R/∂ln x · (x/x₀ − 1), or its effect times x/u where x is an error about 0. What x is
 * divided by is a constant of its own where x has a unit.
 */
function termOf({ effect }: LastingError, input: InputQuantity) {
  const { name, unit, estimate, standardUncertainty, source } = input;
  const isError = estimate === 0;
  const divisor = isError ? standardUncertainty : estimate;
  const slope = Number(((effect * divisor) / standardUncertainty).toPrecision(slopeDigits));
  const exact = `${name}_ref`;
  const ratio = `${name} / ${unit === '1' ? divisor : exact}`;
  const described = `${input.description}, its ${isError ? 'standard uncertainty' : 'estimate'}`;
  return {
    text: ` ${slope < 0 ? '-' : '+'} ${Math.abs(slope)} * ${isError ? ratio : `(${ratio} - 1)`}`,
    inputs: unit === '1' ? [] : [recordedValue(exact, described, unit, divisor, 'recovery', source)],
  };
}
