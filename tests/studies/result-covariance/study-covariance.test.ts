import { describe, expect, it } from 'vitest';
import { correlatedResult } from '../../../src/chain/correlated-result.js';
import { identifier, recordedValue } from '../../../src/chain/model-fragment.js';
import { type ResultModel, resultModel } from '../../../src/chain/result-model.js';
import { sharedKey } from '../../../src/chain/shared-quantity.js';
import { calibrationInputs } from '../../../src/chain/signal-inputs.js';
import { signalLabel } from '../../../src/chain/solution-signal.js';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { zirconPigmentStudy } from '../../../src/scenario/zircon-pigment-study.js';
import { symmetricEigen } from '../../../src/statistics/arithmetic/symmetric-eigen.js';
import { type DigestionResult, evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { covarianceLoads } from '../../../src/studies/result-covariance/covariance-loads.js';
import { nestedLevels } from '../../../src/studies/result-covariance/nested-levels.js';
import { scatterOfResults } from '../../../src/studies/result-covariance/scatter-of-results.js';
import { studyCovariance } from '../../../src/studies/result-covariance/study-covariance.js';
import { meanOfResults, sumOfResults } from '../../../src/uncertainty/correlated-results/combine-results.js';
import {
  covarianceMatrixOf,
  effectiveDegreesOfFreedomOf,
  standardUncertaintyOf,
} from '../../../src/uncertainty/correlated-results/correlated-result.js';
import type { Correlation, InputQuantity } from '../../../src/uncertainty/input-quantity.js';
import type { ModelEquation } from '../../../src/uncertainty/measurement-model.js';
import { propagate } from '../../../src/uncertainty/propagate.js';
import { withInternalStandardNoise } from '../../support/internal-standard-noise.js';
import { measuredDensity } from '../../support/measured-density.js';

const { records } = zirconPigmentStudy({ seed: 4 });
const study = evaluateStudy(records);
const parts = { route: 'components', unexplained: null } as const;
const modelOf = (r: DigestionResult): ResultModel => resultModel(r.observation, parts);
const pick = (digestion: string, analyte: string) =>
  study.results.find((r) => r.digestion === digestion && r.analyte === analyte)!;
const sample = study.results.filter((r) => r.sample === 'ZP-2' && r.value !== null);
const [first, second] = [...new Set(sample.filter((r) => r.day === sample[0]!.day).map((r) => r.digestion))];

/** The study with its dilutions made up in a flask. */
function dilutedByVolume(from: StudyRecords): StudyRecords {
  const volume = { nominalML: 200, toleranceML: 0.1, repeatabilityML: 0.02, expansionPerK: 1e-5 };
  const flask = { ...from.equipment[0]!, id: 'FL-1', kind: 'other' as const, volume };
  return {
    ...from,
    plan: {
      ...from.plan,
      density: measuredDensity,
      flask: { equipment: 'FL-1', temperatureC: 20, temperatureStandardUncertaintyK: 1 },
    },
    equipment: [...from.equipment, flask],
    dilutions: from.dilutions.map((d) => ({ ...d, finalG: null, finalML: d.finalG! / 1.012 })),
  };
}

/** The study with its internal standard weighed into each digestion. */
function withInternalStandardAdded(from: StudyRecords): StudyRecords {
  const { internalStandard } = from.plan;
  const solution = {
    massFractionMgPerKg: 500,
    relativeStandardUncertainty: 0.002,
    densityGPerML: 1,
    source: 'Sc 500',
  };
  return {
    ...from,
    plan: {
      ...from.plan,
      internalStandard: { ...internalStandard, mode: 'added to the digestion', solution },
    },
    digestions: from.digestions.map((d) => ({ ...d, internalStandardG: internalStandard.doseMgPerKg / 5 })),
  };
}

/**
 * Several results as one measurement model: every input under the key it has among all results, every equation under the number
 * of its result, drift factors written out over their check solutions.
 */
function joined(results: readonly DigestionResult[]) {
  const inputs = new Map<string, InputQuantity>();
  const correlations = new Map<string, Correlation>();
  const equations: ModelEquation[] = [];
  results.forEach((result, i) => {
    const { observation } = result;
    const { model, inputs: own, correlations: pairs } = modelOf(result);
    const names = new Map<string, string>();
    for (const equation of model.equations) names.set(equation.name, `q${i}_${equation.name}`);
    for (const input of own) {
      const signal = observation.signals.find((s) => input.name === `drift_${identifier(signalLabel(s))}`);
      if (signal !== undefined && input.standardUncertainty > 0) {
        names.set(input.name, `q${i}_${input.name}`);
        equations.push(driftEquation(`q${i}_${input.name}`, signal, input, inputs));
        continue;
      }
      const constant = input.standardUncertainty === 0;
      if (input.name.startsWith('R_') && !constant) {
        // R with the scatter it shares with other analytes, and the rest for itself.
        const { shared } = observation.basis.recovery!.scatter!;
        const own = identifier(sharedKey(input, observation));
        const rest = input.standardUncertainty ** 2 - shared.reduce((sum, s) => sum + s.value ** 2, 0);
        const terms = [...shared, { key: own, value: Math.sqrt(rest) }].map(({ key, value }) => {
          const name = identifier(key);
          const normal = { kind: 'normal' } as const;
          inputs.set(name, { ...input, name, estimate: 0, standardUncertainty: 1, distribution: normal });
          return `${value < 0 ? '-' : '+'} ${Math.abs(value)} * ${name}`;
        });
        names.set(input.name, `(${input.estimate} ${terms.join(' ')})`);
        continue;
      }
      const error = observation.basis.recovery?.lasting.find((_, at) =>
        new RegExp(`^d_R_[A-Za-z]+_${at + 1}(_apart)?$`).test(input.name),
      );
      if (error !== undefined) {
        // In other results it may stand as the quantity itself, in its unit: written here as a multiple of that.
        const key = identifier(sharedKey(input, observation));
        const holder = results
          .flatMap((r) => modelOf(r).inputs.map((own) => ({ own, r })))
          .find(
            ({ own, r }) => identifier(sharedKey(own, r.observation)) === key && !own.name.startsWith('d_R_'),
          )?.own;
        const { unit, estimate, standardUncertainty } = holder ?? input;
        if (holder === undefined) inputs.set(key, { ...input, name: key });
        for (const [name, value] of [
          [`${key}_centre`, estimate],
          [`${key}_size`, standardUncertainty],
        ] as const) {
          inputs.set(name, recordedValue(name, name, unit, value, 'recovery', 'test'));
        }
        names.set(input.name, `(${Math.abs(error.effect)} * (${key} - ${key}_centre) / ${key}_size)`);
        continue;
      }
      if (input.name.startsWith('cal_other_')) {
        names.set(input.name, otherCalibrations(input, observation, inputs, correlations));
        continue;
      }
      if (input.name.startsWith('ecc_') && !constant) {
        // One error relative to the load, whose size differs from digestion to digestion.
        const key = identifier(sharedKey(input, observation));
        names.set(input.name, `(${input.standardUncertainty} * ${key})`);
        inputs.set(key, { ...input, name: key, standardUncertainty: 1, distribution: { kind: 'normal' } });
        continue;
      }
      const [line] = observation.signals as [(typeof observation.signals)[number]];
      const read = observation.signals.find((s) => input.name === `ratio_${identifier(signalLabel(s))}`);
      const isTold = read === line || read?.readTogether?.place !== line.readTogether?.place;
      if (!constant && read?.readTogether !== undefined && isTold) {
        // The ratio with the noise that all lines read there share, and the rest for itself.
        const { place, standardUncertainty: shared } = read.readTogether;
        const rest = Math.sqrt(input.standardUncertainty ** 2 - shared ** 2);
        const terms = [
          [identifier(sharedKey(input, observation)), rest],
          [identifier(`internal standard ${place}`), shared],
        ] as const;
        for (const [name] of terms) inputs.set(name, { ...input, name, estimate: 0, standardUncertainty: 1 });
        names.set(
          input.name,
          `(${input.estimate} ${terms.map(([name, value]) => `+ ${value} * ${name}`).join(' ')})`,
        );
        continue;
      }
      const key = constant ? `k${i}_${input.name}` : identifier(sharedKey(input, observation));
      names.set(input.name, key);
      const { jointSource: _, ...rest } = input;
      inputs.set(key, { ...rest, name: key });
    }
    for (const { first: a, second: b, coefficient } of pairs) {
      // Written out, what other calibrations do to two coefficients is correlated by itself.
      if (a.startsWith('cal_other_')) continue;
      const pair = { first: names.get(a)!, second: names.get(b)!, coefficient };
      correlations.set(`${pair.first}|${pair.second}`, pair);
    }
    for (const equation of model.equations) {
      const expression = equation.expression.replace(
        /[A-Za-z_][A-Za-z0-9_]*/g,
        (word) => names.get(word) ?? word,
      );
      equations.push({ ...equation, name: names.get(equation.name)!, expression });
    }
  });
  const outputs = results.map((_, i) => `q${i}_w`);
  return propagate({ title: 'joint', equations, outputs }, [...inputs.values()], [...correlations.values()]);
}

/** The errors of the calibrations of other runs, each as the quantity that the results of its run bear. */
function otherCalibrations(
  { name, unit }: InputQuantity,
  { blank, signals }: DigestionResult['observation'],
  inputs: Map<string, InputQuantity>,
  correlations: Map<string, Correlation>,
): string {
  const coefficient = name.startsWith('cal_other_f_') ? 'b_f' : 'b_0';
  const one = `one_${coefficient}`;
  inputs.set(one, recordedValue(one, `1 ${unit}`, unit, 1, 'blank', 'test'));
  const terms = blank!.calibrations!.flatMap(({ label, calibration: c, effects }) => {
    const own = signals.some((s) => signalLabel(s) === label && s.calibration.run === c.run);
    if (own || !name.endsWith(`_${identifier(label)}`)) return [];
    const signal = signals.find((s) => signalLabel(s) === label)!;
    const [first, second] = calibrationInputs({ ...signal, calibration: c }, identifier(label)).map(
      ({ jointSource: _, ...input }) => {
        const key = identifier(`${input.name}@${c.run}/${c.lineNm}`);
        if (!inputs.has(key)) inputs.set(key, { ...input, name: key });
        const exact = { ...input, name: `${key}_ref`, standardUncertainty: 0 };
        inputs.set(exact.name, { ...exact, distribution: { kind: 'normal' } });
        return key;
      },
    ) as [string, string];
    const coefficientOfBoth = c.covariance / Math.sqrt(c.varianceIntercept * c.varianceSlope);
    correlations.set(`${first}|${second}`, { first, second, coefficient: coefficientOfBoth });
    const { byIntercept, bySlope } = effects[coefficient]!;
    return [
      `(${byIntercept * c.intercept}) * ${one} * (${first} / ${first}_ref - 1)`,
      `(${bySlope * c.slope}) * ${one} * (${second} / ${second}_ref - 1)`,
    ];
  });
  return `(${terms.join(' + ')})`;
}

function driftEquation(
  name: string,
  { drift, analyte, calibration, lineNm }: DigestionResult['observation']['signals'][number],
  input: InputQuantity,
  inputs: Map<string, InputQuantity>,
): ModelEquation {
  const slopes = new Map<number, number>();
  const add = (check: number, slope: number) => slopes.set(check, (slopes.get(check) ?? 0) + slope);
  add(drift.checks[0], 1 - drift.weight);
  add(drift.checks[1], drift.weight);
  add(0, -drift.factor);
  const scale = input.standardUncertainty / Math.hypot(...slopes.values());
  const terms = [...slopes].map(([check, slope]) => {
    const key = identifier(`check_${check}_${analyte}_${calibration.run}_${lineNm}`);
    inputs.set(key, { ...input, name: key, estimate: 0, standardUncertainty: 1 });
    return `${slope * scale < 0 ? '-' : '+'} ${Math.abs(slope * scale)} * ${key}`;
  });
  return { name, description: name, unit: '1', expression: `${input.estimate} ${terms.join(' ')}` };
}

describe('covariance of the results of a run', () => {
  const results = [
    pick(first!, 'Zr'),
    pick(first!, 'Hf'),
    pick(first!, 'Ca'),
    pick(second!, 'Zr'),
    pick(second!, 'Al'),
    pick(sample.find((r) => r.day !== sample[0]!.day)!.digestion, 'Zr'),
  ];
  const vectors = results.map((r) => correlatedResult(r.observation, modelOf(r)));

  const expectJoint = (own: readonly DigestionResult[]) => {
    const joint = joined(own);
    const matrix = covarianceMatrixOf(own.map((r) => correlatedResult(r.observation, modelOf(r))));
    matrix.forEach((row, i) => {
      row.forEach((value, j) => {
        const scale = Math.sqrt(joint.covariance[i]![i]! * joint.covariance[j]![j]!);
        expect(Math.abs(value - joint.covariance[i]![j]!) / scale).toBeLessThan(1e-10);
      });
    });
    return matrix;
  };

  it('is that of one joint model of all of them', () => {
    expect(Math.min(...symmetricEigen(expectJoint(results)).values)).toBeGreaterThan(0);
  });

  it('holds both coefficients of a blank that is a line over the mass of flux', () => {
    const { plan } = records;
    const withLine = {
      ...records,
      plan: { ...plan, blank: { scaling: 'per flux mass and digestion' as const } },
    };
    const line = evaluateStudy(withLine);
    expect(line.blanks.get('Ca')!.blank!.scaling).toBe('per flux mass and digestion');
    expectJoint(
      results.map((r) => line.results.find((l) => l.digestion === r.digestion && l.analyte === r.analyte)!),
    );
  });

  it('holds both lines of an analyte whose results are made of them', () => {
    const analytes = records.plan.analytes.map((scope) =>
      ['Zr', 'Fe', 'Ti'].includes(scope.analyte) ? { ...scope, secondLineShare: 0.35 } : scope,
    );
    const both = evaluateStudy({ ...records, plan: { ...records.plan, analytes } });
    const of = (digestion: string, analyte: string) =>
      both.results.find((r) => r.digestion === digestion && r.analyte === analyte)!;
    const own = [first!, second!].flatMap((digestion) =>
      ['Zr', 'Fe', 'Ti', 'Ca', 'Hf'].map((analyte) => of(digestion, analyte)),
    );
    expect(own[0]!.observation.lines?.secondShare).toBe(0.35);
    const matrix = expectJoint(own);
    expect(Math.min(...symmetricEigen(matrix).values)).toBeGreaterThan(0);
  });

  /** The same results of a study in another mode; Zr and Si share a dilution within each digestion. */
  const inMode = (changed: StudyRecords) => {
    const found = evaluateStudy(changed);
    const own = [...results, pick(first!, 'Si'), pick(second!, 'Si')];
    return own.map((r) => found.results.find((c) => c.digestion === r.digestion && c.analyte === r.analyte)!);
  };
  const sharedInputs = (a: DigestionResult, b: DigestionResult) => {
    const keysOf = (r: DigestionResult) =>
      modelOf(r)
        .inputs.filter((input) => input.standardUncertainty > 0)
        .map((input) => sharedKey(input, r.observation));
    const keys = new Set(keysOf(a));
    return keysOf(b).filter((key) => keys.has(key));
  };
  const find = (own: readonly DigestionResult[], digestion: string, analyte: string) =>
    own.find((r) => r.digestion === digestion && r.analyte === analyte)!;

  it('holds a flask of dilution: its filling within a digestion, its tolerance between digestions', () => {
    const own = inMode(dilutedByVolume(records));
    expect(Math.min(...symmetricEigen(expectJoint(own)).values)).toBeGreaterThan(0);
    const within = sharedInputs(find(own, first!, 'Zr'), find(own, first!, 'Si'));
    const between = sharedInputs(find(own, first!, 'Zr'), find(own, second!, 'Zr'));
    expect(within).toContain(`fill_final@${own[0]!.observation.dilutions.F!.dilution}`);
    const ofFlask = (key: string) => /^(fill|tol|t_vol)_?/.test(key);
    expect(within.filter(ofFlask).length).toBe(between.filter(ofFlask).length + 1);
    expect(between.some((key) => key.startsWith('tol_FL_1@'))).toBe(true);
  });

  it('holds an internal standard added to the digestion: its dose within a digestion, its solution between them', () => {
    const own = inMode(withInternalStandardAdded(records));
    expect(Math.min(...symmetricEigen(expectJoint(own)).values)).toBeGreaterThan(0);
    const within = sharedInputs(find(own, first!, 'Zr'), find(own, first!, 'Hf'));
    const between = sharedInputs(find(own, first!, 'Zr'), find(own, second!, 'Zr'));
    expect(within).toEqual(expect.arrayContaining([`rep_is@${first}`, 'w_isl@Sc 500']));
    expect(between).toContain('w_isl@Sc 500');
    expect(between.filter((key) => key.startsWith('rep_'))).toEqual([]);
  });

  it('holds the noise of the internal standard, which lines read together share', () => {
    const own = inMode(withInternalStandardNoise(records, 0.006));
    const [zr, si] = ['Zr', 'Si'].map((analyte) => find(own, first!, analyte));
    const placeOf = (r: DigestionResult) => r.observation.signals[0]!.readTogether!.place;
    expect(placeOf(zr!)).toBe(placeOf(si!));
    expect(placeOf(find(own, second!, 'Zr'))).not.toBe(placeOf(zr!));
    const matrix = expectJoint(own);
    expect(Math.min(...symmetricEigen(matrix).values)).toBeGreaterThan(0);
    // Without it the two covary less.
    const apart = [zr!, si!].map((r) => {
      const [signal, ...others] = r.observation.signals as [(typeof r.observation.signals)[number]];
      const { readTogether: _, ...alone } = signal;
      const observation = { ...r.observation, signals: [alone, ...others] };
      return correlatedResult(observation, resultModel(observation, parts));
    });
    const [atZr, atSi] = [own.indexOf(zr!), own.indexOf(si!)] as [number, number];
    const before = covarianceMatrixOf(apart);
    expect(matrix[atZr]![atSi]!).toBeGreaterThan(before[0]![1]!);
    // The same variance, one of its parts split in two: a sum of some sixty squares rounds to a few 1e-16 of itself.
    expect(Math.abs(matrix[atZr]![atZr]! / before[0]![0]! - 1)).toBeLessThan(1e-14);
  });

  it('holds a recovery with what its experiment shares with the results', () => {
    const from = { from: 'reference materials', materials: ['QRM-2'], correct: 'always' } as const;
    const recovery = ['Zr', 'Hf', 'Ca'].map((analyte) => ({ analyte, ...from }));
    const corrected = evaluateStudy({ ...records, plan: { ...records.plan, recovery } });
    const own = results.map(
      (r) => corrected.results.find((c) => c.digestion === r.digestion && c.analyte === r.analyte)!,
    );
    expect(own[0]!.observation.basis.recovery!.lasting.length).toBeGreaterThan(2);
    expectJoint(own);
  });

  it('knows one recovery in results of other balances than its experiment, and what both of them hold', () => {
    const from = { from: 'reference materials', materials: ['QRM-2'], correct: 'always' } as const;
    const recovery = ['Zr', 'Hf', 'Ca'].map((analyte) => ({ analyte, ...from }));
    // Linearity of 2 mg on portions of 0.2 g, so that it counts among the lasting errors.
    const equipment = records.equipment.map((e) =>
      e.balance === undefined || e.id !== 'BAL-1'
        ? e
        : { ...e, balance: { ...e.balance, linearityG: 0.002 } },
    );
    const like = equipment.find((e) => e.id === 'BAL-1')!;
    const elsewhere = evaluateStudy({
      ...records,
      plan: { ...records.plan, recovery },
      equipment: [...equipment, { ...like, id: 'BAL-9', certificate: 'another' }],
      digestions: records.digestions.map((d) =>
        d.digestion === second ? { ...d, portionBalance: 'BAL-9' } : d,
      ),
    });
    const own = results.map(
      (r) => elsewhere.results.find((c) => c.digestion === r.digestion && c.analyte === r.analyte)!,
    );
    const named = (r: DigestionResult) =>
      modelOf(r)
        .inputs.filter((i) => /^d_R_Zr_\d+$/.test(i.name))
        .map((i) => sharedKey(i, r.observation));
    expect(named(own[3]!)).toContain('lin_c@BAL-1');
    expect(named(own[0]!)).not.toContain('lin_c@BAL-1');
    expectJoint(own);
    // What the other balance weighed holds the error through R alone, and all of R's other errors as every result does.
    const [a, b] = [own[0]!, own[3]!].map((r) => correlatedResult(r.observation, modelOf(r)));
    const { lasting } = own[3]!.observation.basis.recovery!;
    const { effect } = lasting.find((error) => error.key === 'lin_c@BAL-1')!;
    expect(b!.parts.get('lin_c@BAL-1')!.value).toAgreeWithin(-own[3]!.value! * effect, 1e-9);
    const ofRecovery = [...a!.parts.keys()].filter((key) => /^(R_Zr|d_R_Zr)@|of recoveries/.test(key));
    expect(ofRecovery.length).toBeGreaterThan(1);
    for (const key of ofRecovery) {
      expect(b!.parts.get(key)!.value / b!.estimate).toAgreeWithin(
        a!.parts.get(key)!.value / a!.estimate,
        1e-9,
      );
    }
  });

  it('leaves each single uncertainty and its degrees of freedom as the budget has them', () => {
    results.forEach((r, i) => {
      const { model, inputs, correlations } = modelOf(r);
      const output = propagate(model, inputs, correlations).outputs[0]!;
      expect(standardUncertaintyOf(vectors[i]!)).toAgreeWithin(output.standardUncertainty, 1e-12);
      expect(effectiveDegreesOfFreedomOf(vectors[i]!)).toAgreeWithin(output.effectiveDegreesOfFreedom, 1e-9);
    });
  });
});

describe('scatter shared by analytes', () => {
  const scatter = scatterOfResults(nestedLevels(study));

  it('has the mean squares of each analyte on its diagonal', () => {
    // By hand for one analyte: pooled variance of relative deviations within days, over the levels.
    const sums = { squares: 0, nu: 0 };
    for (const { sample: name } of study.index.records.plan.levels) {
      const own = study.results.filter((r) => r.sample === name && r.analyte === 'Ti' && r.kind === 'sample');
      const values = own.map((r) => r.value!);
      const centre = values.reduce((a, b) => a + b, 0) / values.length;
      for (const day of new Set(own.map((r) => r.day))) {
        const [a, b] = own.filter((r) => r.day === day).map((r) => r.value! / centre);
        sums.squares += (a! - b!) ** 2 / 2;
        sums.nu += 1;
      }
    }
    const at = scatter.analytes.indexOf('Ti');
    expect(scatter.degreesOfFreedomDigestions[at]).toBe(sums.nu);
    expect(scatter.digestions[at]![at]).toAgreeWithin(sums.squares / sums.nu, 1e-9);
    expect(scatter.degreesOfFreedomDays[at]).toBe(9);
  });

  it('is taken as loads that give the matrix back, and holds at 0 what is negative', () => {
    const { loads, heldAtZero } = covarianceLoads(scatter.digestions);
    expect(heldAtZero).toBeLessThan(1e-12);
    scatter.digestions.forEach((row, a) => {
      row.forEach((value, b) => {
        const back = loads[a]!.reduce((sum, load, k) => sum + load * loads[b]![k]!, 0);
        expect(Math.abs(back - value)).toBeLessThan(1e-12 * scatter.digestions[a]![a]!);
      });
    });
    const indefinite = covarianceLoads([
      [1, 2],
      [2, 1],
    ]);
    // Eigenvalues 3 and −1: the latter is held at 0.
    expect(indefinite.heldAtZero).toAgreeWithin(0.25, 1e-12);
    expect(indefinite.loads.map((row) => row.length)).toEqual([1, 1]);
  });

  it.each(['components', 'precision'] as const)('enters means and totals on the %s route', (route) => {
    const covariance = studyCovariance(study, route);
    const of = (digestion: string, analyte: string) => covariance.resultOf(pick(digestion, analyte));
    const analytes = study.index.records.plan.analytes;
    const means = analytes.map(({ analyte }) =>
      meanOfResults(analyte, [of(first!, analyte), of(second!, analyte)]),
    );
    const toGPer100G = (i: number) => (analytes[i]!.unit === 'g/100 g' ? 1 : 1e-4);
    const total = sumOfResults(
      'total',
      'g/100 g',
      means.map((result, i) => ({ result, coefficient: toGPer100G(i) })),
    );
    const apart = Math.hypot(...means.map((m, i) => standardUncertaintyOf(m) * toGPer100G(i)));
    // What the analytes of a digestion share is positive: without it the total would look better than it is.
    expect(standardUncertaintyOf(total) / apart).toBeGreaterThan(1.1);
    expect(standardUncertaintyOf(means[0]!)).toBeLessThan(standardUncertaintyOf(of(first!, 'Zr')));
  });
});
