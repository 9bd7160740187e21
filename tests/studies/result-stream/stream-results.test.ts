import { writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { SolidState } from '../../../src/chain/mass-on-basis.js';
import type { RandomParts } from '../../../src/chain/result-model.js';
import { resultModel } from '../../../src/chain/result-model.js';
import { encodeCsvRows } from '../../../src/records/csv/encode-csv.js';
import { readRowGroups } from '../../../src/records/csv/read-row-groups.js';
import { IssueList } from '../../../src/records/issue-list.js';
import { readStudy } from '../../../src/records/read-study.js';
import type { StudyRecords } from '../../../src/records/study-records.js';
import { encodeTable } from '../../../src/records/table-form/encode-table.js';
import { type ReadingRecord, readingTable } from '../../../src/records/tables/readings.js';
import { mean } from '../../../src/statistics/descriptive/mean.js';
import { evaluateStudy } from '../../../src/studies/evaluate-study.js';
import { type RunResults, streamResults } from '../../../src/studies/result-stream/stream-results.js';
import type { RandomPartsOf } from '../../../src/studies/result-stream/template-store.js';
import { covarianceOf } from '../../../src/uncertainty/correlated-results/correlated-result.js';
import { propagate } from '../../../src/uncertainty/propagate.js';
import { temporaryFolder } from '../../support/temporary-folder.js';

const folder = 'data/zircon-pigment';
const components: RandomParts = { route: 'components', unexplained: null };
const precision: RandomParts = {
  route: 'precision',
  observed: { relative: 0.01, degreesOfFreedom: 12, source: 'invented' },
};

let records: StudyRecords;
beforeAll(async () => {
  records = await readStudy(folder);
});

/** Each sample with losses of its own: the recorded moisture, and a loss on ignition of 3 g/100 g and more. */
function withLosses(portionsWeighed: SolidState, basis: SolidState): StudyRecords {
  const ignition = records.moisture.map(({ sample }, i) => ({
    ...{ sample, lossGPer100G: 3 + i, basis: 'dry to ignited' as const },
    standardUncertaintyGPer100G: 0.1 + i / 50,
  }));
  return {
    ...records,
    moisture: [...records.moisture, ...ignition],
    plan: { ...records.plan, portionsWeighed, basis },
  };
}

function runsOf(of = folder) {
  const path = `${of}/readings.csv`;
  const issues = new IssueList();
  return readRowGroups({ table: readingTable, path, file: 'readings.csv', decimalMark: null, issues }, 'run');
}

async function firstRun(study: StudyRecords): Promise<RunResults> {
  const stream = streamResults(study, runsOf());
  const first: RunResults = (await stream.next()).value!;
  await stream.return();
  return first;
}

/** The same study cut down to one run: what the slow and general way makes of it. */
function alone(study: StudyRecords, run: string): StudyRecords {
  const readings = study.readings.filter((row) => row.run === run);
  const solutions = new Set(readings.map((row) => row.solution));
  for (const row of study.dilutions) if (solutions.has(row.dilution)) solutions.add(row.digestion);
  return {
    ...study,
    readings,
    // The whole way is given no digestion without a tare: it would end there.
    digestions: study.digestions.filter((row) => row.vesselEmptyG !== null && solutions.has(row.digestion)),
    calibration: study.calibration.filter((row) => row.run === run),
  };
}

/** Every result of every run beside the one of `evaluateStudy` and `propagate`; returns how many there were. */
async function compare(study: StudyRecords, random: RandomParts, of = folder): Promise<number> {
  const randomPartsOf: RandomPartsOf = () => random;
  let count = 0;
  for await (const run of streamResults(study, runsOf(of), { randomPartsOf })) {
    const expected = evaluateStudy(alone(study, run.run));
    const streamed = new Map(
      [...run.results()].map((each) => [`${each.digestion.digestion}|${each.analyte}`, each]),
    );
    const withValue = expected.results.filter((each) => each.value !== null);
    expect([...streamed.keys()].sort()).toEqual(
      withValue.map((each) => `${each.digestion}|${each.analyte}`).sort(),
    );
    for (const { digestion, analyte, value, observation } of withValue) {
      const each = streamed.get(`${digestion}|${analyte}`)!;
      const { model, inputs, correlations } = resultModel(observation, random);
      const { standardUncertainty } = propagate(model, inputs, correlations).outputs[0]!;
      expect(each.value).toAgreeWithin(value!, 1e-9);
      expect(each.standardUncertainty).toAgreeWithin(standardUncertainty, 1e-9);
      count++;
    }
  }
  return count;
}

describe('results streamed run by run', () => {
  it('are those of each run worked out alone, with their standard uncertainties', async () => {
    expect(await compare(records, components)).toBeGreaterThan(900);
  });

  it('are so on the precision route too', async () => {
    expect(await compare(records, precision)).toBeGreaterThan(900);
  });

  it('are so with one balance, blanks per digestion and results as received', async () => {
    const [balance] = records.equipment.filter((each) => each.kind === 'balance').map((each) => each.id);
    const other: StudyRecords = {
      ...records,
      plan: { ...records.plan, blank: { scaling: 'per digestion' }, basis: 'as received' },
      digestions: records.digestions.map((row) => ({
        ...row,
        portionBalance: balance!,
        vesselBalance: balance!,
      })),
    };
    expect(await compare(other, components)).toBeGreaterThan(900);
  });

  it.each<[SolidState, SolidState]>([
    ['as received', 'ignited'],
    ['ignited', 'as received'],
  ])('are so with portions weighed %s and results on the basis %s', async (weighed, reported) => {
    const other = withLosses(weighed, reported);
    expect(await compare(other, components)).toBeGreaterThan(900);
  });

  it('are refused where a loss of mass is not recorded', async () => {
    const other = withLosses('ignited', 'as received');
    const moisture = other.moisture.filter(({ basis }) => basis === 'dry to ignited');
    await expect(streamResults({ ...other, moisture }, runsOf()).next()).rejects.toThrow(
      /^digestion \S+: found no loss "as received to dry" of \S+, expected one in the table moisture/,
    );
  });

  it('are so with every other dilution weighed on another balance, which the control results name', async () => {
    const other: StudyRecords = {
      ...records,
      dilutions: records.dilutions.map((row, i) => ({ ...row, balance: i % 2 === 0 ? 'BAL-3' : '' })),
    };
    expect(await compare(other, components)).toBeGreaterThan(900);
    const run = await firstRun(other);
    const control = run.control.filter((c) => c.material !== records.plan.driftCheckSolution);
    const used = new Map(control.map(({ material, equipment }) => [material, equipment]));
    const kept = (await firstRun(records)).control;
    for (const [material, equipment] of used) {
      const own = records.digestions.filter((d) => d.sample === material).map((d) => d.digestion);
      const read = new Set(records.readings.flatMap((r) => (r.run === run.run ? [r.solution] : [])));
      const isOnOther = other.dilutions.some(
        (d) => own.includes(d.digestion) && read.has(d.dilution) && d.balance === 'BAL-3',
      );
      const before = kept.find((c) => c.material === material)!.equipment;
      expect(equipment).toEqual(isOnOther ? [...before, 'BAL-3'] : before);
    }
    expect([...used.values()].flat()).toContain('BAL-3');
  });

  it('are so with a standard and a dilution that are excluded, though they were read', async () => {
    const exclude = (table: string, rowKey: string) => ({
      ...{ table, rowKey, who: 'S. Varrendale', when: '2026-03-17', technicalCause: 'invented' },
    });
    const standards = records.calibration
      .filter((row) => row.run === 'R-02' && row.solution === 'CAL-B1')
      .map((row) => exclude('calibration', `${row.run}|${row.solution}|${row.analyte}`));
    expect(standards.length).toBeGreaterThan(0);
    const { dilution } = records.dilutions.find((row) => row.digestion === 'D-006')!;
    expect(records.readings.some(({ solution }) => solution === dilution)).toBe(true);
    const exclusions = [...records.exclusions, ...standards, exclude('dilutions', dilution)];
    expect(await compare({ ...records, exclusions }, components)).toBeGreaterThan(900);
  });

  it('are so in a routine run, in which a digestion without a tare has none', async () => {
    const routine = 'data/zircon-routine';
    const study = await readStudy(routine);
    const [without] = study.digestions.filter((row) => row.vesselEmptyG === null);
    expect(study.readings.some(({ solution }) => solution === without!.digestion)).toBe(true);
    expect(await compare(study, components, routine)).toBeGreaterThan(250);
  });

  it('are so with a lot of flux that holds more than that of the blanks', async () => {
    const statedInputs = records.plan.statedInputs.map((s) =>
      s.name === 'flux lot blank' ? { ...s, estimate: 0.002 } : s,
    );
    const other: StudyRecords = { ...records, plan: { ...records.plan, statedInputs } };
    expect(await compare(other, components)).toBeGreaterThan(900);
  });

  describe('where the blank is a line over the mass of flux', () => {
    const withLine = (digestions: StudyRecords['digestions']): StudyRecords => ({
      ...records,
      plan: { ...records.plan, blank: { scaling: 'per flux mass and digestion' } },
      digestions,
    });

    it.each([components, precision])(
      'are so with three blanks a run, on the $route route',
      async (random) => {
        // Two reference materials of each run stand in for blanks: what they hold does not matter here.
        const { procedure } = records.plan.blanks;
        const blanks = records.digestions.map((row) =>
          row.kind === 'reference' ? { ...row, kind: 'blank' as const, sample: procedure } : row,
        );
        expect(await compare({ ...withLine(blanks), exclusions: [] }, random)).toBeGreaterThan(700);
      },
    );

    it('are refused where a run has too few blanks for it', async () => {
      const first = streamResults(withLine(records.digestions), runsOf()).next();
      await expect(first).rejects.toThrow(
        /^run R-01: found \d procedure blanks of \w+, expected at least 3 in each run for a blank per flux mass and digestion$/,
      );
    });
  });

  it('rest on observations that can be asked for while their run is at hand', async () => {
    const stream = streamResults(records, runsOf());
    const first: RunResults = (await stream.next()).value!;
    const [each] = first.results();
    const observation = first.observation(each!.digestion.digestion, each!.analyte)!;
    const { model, inputs, correlations } = resultModel(observation, components);
    const [output] = propagate(model, inputs, correlations).outputs;
    expect(each!.value).toAgreeWithin(output!.estimate, 1e-9);
    expect(each!.standardUncertainty).toAgreeWithin(output!.standardUncertainty, 1e-9);
    const correlated = first.correlated(each!.digestion.digestion, each!.analyte)!;
    expect(Math.sqrt(covarianceOf(correlated, correlated))).toAgreeWithin(each!.standardUncertainty, 1e-9);
    expect(() => first.correlated('D-nobody', each!.analyte)).toThrow('D-nobody');
    await stream.return();
  });

  it('make up the control history: means of the reference materials, and the check solution', async () => {
    const references = records.digestions.filter((row) => row.kind === 'reference');
    const referenceMaterials = references.map((row) => row.sample);
    const materials = new Set<string>();
    for await (const run of streamResults(records, runsOf())) {
      const results = [...run.results()];
      for (const { material, analyte, value, date } of run.control) {
        expect(date).toBe(run.day);
        if (material === records.plan.driftCheckSolution) continue;
        const own = results.filter((r) => r.digestion.sample === material && r.analyte === analyte);
        expect(value).toAgreeWithin(mean(own.map((each) => each.value)), 1e-12);
      }
      for (const { material } of run.control) materials.add(material);
    }
    expect(materials).toEqual(new Set([...referenceMaterials, records.plan.driftCheckSolution]));
  });
});

describe('a stream of results', () => {
  async function* twice() {
    for await (const rows of runsOf()) {
      yield rows;
      yield rows;
    }
  }

  it('refuses a run that comes twice', async () => {
    const stream = streamResults(records, twice());
    await stream.next();
    await expect(stream.next()).rejects.toThrow('expected them together');
  });

  it('names run, line and place of a check solution without a signal, as the whole way does', async () => {
    const [check] = records.readings.filter(({ solution }) => solution === 'CHK').slice(-1);
    const { run, analyte, lineNm, position } = check!;
    const isCheck = (row: ReadingRecord) => row.run === run && row.position === position;
    const dead = records.readings.map((row) =>
      isCheck(row) && row.analyte === analyte ? { ...row, intensity: 0 } : row,
    );
    const expected = `run ${run}, ${analyte} at ${lineNm} nm: signal ratio of the check solution at place ${position}: found 0, expected above 0`;
    expect(() => evaluateStudy(alone({ ...records, readings: dead }, run))).toThrow(expected);
    const path = join(temporaryFolder(), 'readings.csv');
    const { headings, rows } = encodeTable(
      readingTable,
      dead.filter((row) => row.run === run),
    );
    writeFileSync(path, encodeCsvRows([headings, ...rows]));
    await expect(streamResults(records, runsOf(dirname(path))).next()).rejects.toThrow(expected);
  });

  it('names a solution that nobody made', async () => {
    const [first]: readonly ReadingRecord[] = records.readings;
    const without = { ...records, digestions: [], dilutions: [], calibration: [] };
    await expect(streamResults(without, runsOf()).next()).rejects.toThrow(
      `run ${first!.run}: found readings of ${first!.solution}`,
    );
  });
});
