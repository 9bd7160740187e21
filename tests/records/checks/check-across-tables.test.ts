import { describe, expect, it } from 'vitest';
import { StudyFiles } from '../broken-study.js';
import { smallStudy } from '../small-study.js';

type Case = readonly [what: string, breakIt: (files: StudyFiles) => unknown, problem: string];

const shiftedReading = { position: '8', time: '2025-01-09T09:14:00' };

const spectrometer = {
  ...smallStudy.equipment[0]!,
  balance: undefined,
  id: 'ICP-1',
  kind: 'spectrometer',
};

const cases: readonly Case[] = [
  [
    'a loss of mass of a sample that nobody digested',
    (f) => f.set('moisture.csv', 2, 'sample', 'S-77'),
    'moisture.csv, row 2, column "sample": found "S-77"; expected a sample of the table digestions',
  ],
  [
    'a portion without a loss of mass that its basis needs',
    (f) => f.set('moisture.csv', 2, 'sample', 'S-77'),
    'digestions.csv, row 2, column "sample": found "S-1" (and in 1 more row(s)); expected a sample with a row "as received to dry" in the table moisture that is not excluded, as study.json weighs portions as received (portionsWeighed) and reports on the basis dry',
  ],
  [
    'a certificate of a material that nobody digested',
    (f) => f.set('references.csv', 2, 'material', 'RM-11'),
    'references.csv, row 2, column "material": found "RM-11"; expected a sample of the table digestions',
  ],
  [
    'the homogeneity of a sample that nobody digested',
    (f) => f.set('homogeneity.csv', 2, 'sample', 'S-77'),
    'homogeneity.csv, row 2, column "sample": found "S-77"; expected a sample of the table digestions',
  ],
  [
    'a digestion that stands twice',
    (f) => f.repeat('digestions.csv', 2),
    'digestions.csv, row 6, column "digestion": found "D-001"; expected a key that no other row bears (row 2 has it)',
  ],
  [
    'a dilution that stands twice',
    (f) => f.repeat('dilutions.csv', 2),
    'dilutions.csv, row 3, column "dilution": found "V-001"; expected a key that no other row bears (row 2 has it)',
  ],
  [
    'a standard that stands twice',
    (f) => f.repeat('standards.csv', 2),
    'standards.csv, row 5, column "name, analyte": found "Al stock|Al"; expected a key that no other row bears (row 2 has it)',
  ],
  [
    'a reading that stands twice',
    (f) => f.repeat('readings.csv', 6),
    'readings.csv, row 14, column "run, position, analyte, line nm, repeat": found "R1|5|Al|396.152|1"; expected a key that no other row bears (row 6 has it)',
  ],
  [
    'a reading of an unknown digestion',
    (f) => f.repeat('readings.csv', 2, { ...shiftedReading, solution: 'D-099' }),
    'readings.csv, row 14, column "solution": found "D-099"; expected a digestion, a dilution, a standard solution of run R1 in the table calibration, a solution of the table additions, or a check solution of the plan',
  ],
  [
    'a reading of a standard solution that another run calibrated with',
    (f) => {
      f.repeat('calibration.csv', 3, { run: 'R2', solution: 'Cal 9' });
      f.repeat('readings.csv', 2, { ...shiftedReading, solution: 'Cal 9' });
    },
    'readings.csv, row 14, column "solution": found "Cal 9"; expected a digestion, a dilution, a standard solution of run R1 in the table calibration, a solution of the table additions, or a check solution of the plan',
  ],
  [
    'a run without calibration',
    (f) => f.repeat('readings.csv', 6, { run: 'R9' }),
    'readings.csv, row 14, column "run": found "R9"; expected a run of the table calibration',
  ],
  [
    'a standard solution named like a digestion',
    (f) => f.repeat('calibration.csv', 3, { solution: 'D-001' }),
    'calibration.csv, row 8, column "solution": found "D-001"; expected a name that no digestion or dilution bears',
  ],
  [
    'a dilution named like a digestion',
    (f) => f.repeat('dilutions.csv', 2, { dilution: 'D-002' }),
    'dilutions.csv, row 3, column "dilution": found "D-002"; expected a name that no digestion bears',
  ],
  [
    'a dilution of an unknown digestion',
    (f) => f.set('dilutions.csv', 2, 'digestion', 'D-099'),
    'dilutions.csv, row 2, column "digestion": found "D-099"; expected a digestion of the table digestions',
  ],
  [
    'a spike of an unknown digestion',
    (f) => f.set('spikes.csv', 2, 'digestion', 'D-099'),
    'spikes.csv, row 2, column "digestion": found "D-099"; expected a digestion of the table digestions',
  ],
  [
    'a spike whose second partner is unknown',
    (f) => f.set('spikes.csv', 2, 'unspiked partner', 'D-001|D-098'),
    'spikes.csv, row 2, column "unspiked partner": found "D-098"; expected a digestion of the table digestions',
  ],
  [
    'a spike whose partner is another sample',
    (f) => f.set('spikes.csv', 2, 'unspiked partner', 'D-003'),
    'spikes.csv, row 2, column "unspiked partner": found "D-003"; expected a digestion of the same sample, "S-1"',
  ],
  [
    'a spike that is its own partner',
    (f) => f.set('spikes.csv', 2, 'unspiked partner', 'D-004'),
    'spikes.csv, row 2, column "unspiked partner": found "D-004"; expected a digestion without an addition',
  ],
  [
    'a reading of an analyte the plan does not name',
    (f) => f.repeat('readings.csv', 6, { analyte: 'Fe' }),
    'readings.csv, row 14, column "analyte": found "Fe"; expected an analyte of the plan: Al, Zr, Sc',
  ],
  [
    'a reading on a line the plan does not name',
    (f) => f.repeat('readings.csv', 6, { 'line nm': '396.153' }),
    'readings.csv, row 14, column "line nm": found 396.153; expected a line of Al in the plan: 396.152 or 308.215',
  ],
  [
    'a certified value of the internal-standard element',
    (f) => f.set('references.csv', 2, 'analyte', 'Sc'),
    'references.csv, row 2, column "analyte": found "Sc"; expected an analyte of the plan: Al, Zr',
  ],
  [
    'an interferent that nobody measures',
    (f) => f.set('interference.csv', 2, 'interferent', 'Fe'),
    'interference.csv, row 2, column "interferent": found "Fe"; expected an analyte of the plan, as its mass fraction is needed: Al, Zr',
  ],
  [
    'an unknown balance',
    (f) => f.set('digestions.csv', 2, 'vessel balance', 'B-7'),
    'digestions.csv, row 2, column "vessel balance": found "B-7"; expected the id of a balance in equipment.json',
  ],
  [
    'an unknown balance of a dilution',
    (f) => f.set('dilutions.csv', 2, 'balance', 'B-7'),
    'dilutions.csv, row 2, column "balance": found "B-7"; expected the id of a balance in equipment.json',
  ],
  [
    'a dilution weighed on what is no balance',
    (f) => f.json('equipment.json', (e) => add(e, spectrometer)).set('dilutions.csv', 2, 'balance', 'ICP-1'),
    'dilutions.csv, row 2, column "balance": found "ICP-1"; expected the id of a balance in equipment.json',
  ],
  [
    'a balance of a dilution before it was in service',
    (f) =>
      f
        .json('equipment.json', (e) =>
          add(e, { ...smallStudy.equipment[0]!, id: 'B-3', inServiceFrom: '2025-01-08' }),
        )
        .set('dilutions.csv', 2, 'balance', 'B-3'),
    'dilutions.csv, row 2, column "balance": found "B-3" on 2025-01-07; expected a balance in service that day (it is from 2025-01-08 on)',
  ],
  [
    'a balance of a dilution whose certificate has expired',
    (f) =>
      f
        .json('equipment.json', (e) =>
          add(e, { ...smallStudy.equipment[0]!, id: 'B-3', dueOn: '2025-01-06' }),
        )
        .set('dilutions.csv', 2, 'balance', 'B-3'),
    'dilutions.csv, row 2, column "balance": found "B-3" on 2025-01-07; expected a balance whose certificate holds that day (2024-12-01 to 2025-01-06)',
  ],
  [
    'a balance before it was in service',
    (f) => f.json('equipment.json', (e) => edit(e, { inServiceFrom: '2025-01-08' })),
    'digestions.csv, row 2, column "portion balance": found "B-1" on 2025-01-07 (and in 1 more row(s)); expected a balance in service that day (it is from 2025-01-08 on)',
  ],
  [
    'a balance out of service',
    (f) => f.json('equipment.json', (e) => edit(e, { inServiceTo: '2025-01-07' })),
    'digestions.csv, row 4, column "portion balance": found "B-1" on 2025-01-08 (and in 1 more row(s)); expected a balance in service that day (it is from 2020-01-01 to 2025-01-07)',
  ],
  [
    'a balance whose certificate has expired',
    (f) => f.json('equipment.json', (e) => edit(e, { dueOn: '2025-01-07' })),
    'digestions.csv, row 4, column "portion balance": found "B-1" on 2025-01-08 (and in 1 more row(s)); expected a balance whose certificate holds that day (2024-12-01 to 2025-01-07)',
  ],
  [
    'a balance without specification',
    (f) => f.json('equipment.json', (e) => edit(e, { balance: undefined })),
    'equipment.json, key "[0].balance": found no such key; expected the specification of the balance',
  ],
  [
    'two pieces of equipment of one id',
    (f) =>
      f.json('equipment.json', (e) => (e as unknown as object[]).push({ ...((e as never)[0] as object) })),
    'equipment.json, key "[1].id": found "B-1"; expected an id that no other equipment bears',
  ],
  [
    'two balances that equations would call the same',
    (f) => f.json('equipment.json', (e) => add(e, { ...smallStudy.equipment[0]!, id: 'B.1' })),
    'equipment.json, key "[1].id": found "B.1"; expected an id with other letters or digits than "B-1"',
  ],
  [
    'a balance with the name that equations give to one of its uses',
    (f) => f.json('equipment.json', (e) => add(e, { ...smallStudy.equipment[0]!, id: 'v' })),
    'equipment.json, key "[1].id": found "v"; expected an id of more than p or v',
  ],
  [
    'a control result of unknown equipment',
    (f) => f.set('history.csv', 2, 'equipment in use', 'B-1|S-9'),
    'history.csv, row 2, column "equipment in use": found "S-9"; expected ids of equipment.json: B-1',
  ],
  [
    'a reference material that expired before its last use',
    (f) => f.set('references.csv', 2, 'expiry', '2025-01-07'),
    'references.csv, row 2, column "expiry": found "2025-01-07"; expected 2025-01-08 or later: used by digestion D-003',
  ],
  [
    'a standard that expired before the run',
    (f) => f.set('standards.csv', 3, 'expiry', '2025-01-08'),
    'standards.csv, row 3, column "expiry": found "2025-01-08"; expected 2025-01-09 or later: used by run R1',
  ],
  [
    'a stock that expired before its intermediate was used',
    (f) => f.set('standards.csv', 2, 'expiry', '2025-01-08'),
    'standards.csv, row 2, column "expiry": found "2025-01-08"; expected 2025-01-09 or later: used by run R1',
  ],
  [
    'a check solution that expired before the run',
    (f) => f.repeat('standards.csv', 3, { name: 'check', expiry: '2025-01-08' }),
    'standards.csv, row 5, column "expiry": found "2025-01-08"; expected 2025-01-09 or later: used by run R1',
  ],
  [
    'a stock that expired before the check solution made from it was used',
    (f) =>
      f
        .repeat('standards.csv', 3, { name: 'check', 'prepared from': 'Al second' })
        .repeat('standards.csv', 2, { name: 'Al second', expiry: '2025-01-08' }),
    'standards.csv, row 6, column "expiry": found "2025-01-08"; expected 2025-01-09 or later: used by run R1',
  ],
  [
    'a spectrometer whose certificate has expired',
    (f) => f.json('equipment.json', (e) => add(e, { ...spectrometer, dueOn: '2025-01-08' })),
    'readings.csv, row 2, column "time": found 2025-01-09 (and in 11 more row(s)); expected a day on which the certificate of a spectrometer in service holds (ICP-1: 2024-12-01 to 2025-01-08)',
  ],
  [
    'a spectrometer that is not yet in service',
    (f) => f.json('equipment.json', (e) => add(e, { ...spectrometer, inServiceFrom: '2025-01-10' })),
    'readings.csv, row 2, column "time": found 2025-01-09 (and in 11 more row(s)); expected a day on which a spectrometer of equipment.json is in service (ICP-1 from 2025-01-10 on)',
  ],
  [
    'a missing expiry',
    (f) => f.set('references.csv', 2, 'expiry', ''),
    'references.csv, row 2, column "expiry": found an empty cell; expected a calendar date such as 2025-03-14',
  ],
  [
    'standard additions to a solution that nobody made',
    (f) => f.set('additions.csv', 2, 'base', 'D-099'),
    'additions.csv, row 2, column "base": found "D-099"; expected a digestion or dilution of the tables digestions and dilutions',
  ],
  [
    'standard additions under the name of a digestion',
    (f) => f.set('additions.csv', 2, 'solution', 'D-001'),
    'additions.csv, row 2, column "solution": found "D-001"; expected a name that no digestion or dilution bears',
  ],
  [
    'another method on a sample that was not digested',
    (f) => f.set('comparison.csv', 2, 'sample', 'S-99'),
    'comparison.csv, row 2, column "sample": found "S-99"; expected a sample of the table digestions',
  ],
  [
    'an exclusion from an unknown table',
    (f) => f.set('exclusions.csv', 2, 'table', 'digestion'),
    'exclusions.csv, row 2, column "table": found "digestion"; expected one of: digestions, dilutions, calibration, standards, readings, references, spikes, additions, comparison, moisture, interference, factors, homogeneity, history, rounds',
  ],
  [
    'an excluded digestion that does not exist',
    (f) => f.set('exclusions.csv', 2, 'row key', 'D-099|Al'),
    'exclusions.csv, row 2, column "row key": found "D-099|Al"; expected a digestion of the table digestions, or digestion|analyte',
  ],
  [
    'an excluded analyte that does not exist',
    (f) => f.set('exclusions.csv', 2, 'row key', 'D-002|Ca'),
    'exclusions.csv, row 2, column "row key": found "D-002|Ca"; expected an analyte of the plan after the bar: Al, Zr',
  ],
  [
    'an excluded reading that does not exist',
    (f) => f.set('exclusions.csv', 3, 'row key', 'R1|5|Al|396.152|3'),
    'exclusions.csv, row 3, column "row key": found "R1|5|Al|396.152|3"; expected the key of a row of readings (run|position|analyte|line nm|repeat)',
  ],
  [
    'a position that was read before the one ahead of it',
    (f) => f.set('readings.csv', 9, 'time', '2025-01-09T09:08:05'),
    'readings.csv, row 9, column "time": found "2025-01-09T09:08:05"; expected a time not before 2025-01-09T09:08:10, when position 5 was read',
  ],
  [
    'two solutions at one position',
    (f) => f.set('readings.csv', 7, 'solution', 'D-002'),
    'readings.csv, row 7, column "solution": found "D-002"; expected "D-001" as in the other readings of run R1, position 5',
  ],
  [
    'an intermediate of an unknown stock',
    (f) => f.set('standards.csv', 3, 'prepared from', 'Al stok'),
    'standards.csv, row 3, column "prepared from": found "Al stok"; expected a name in the table standards that has a row for Al',
  ],
  [
    'a calibration solution of an unknown standard',
    (f) => f.set('calibration.csv', 3, 'prepared from', 'Al 1000'),
    'calibration.csv, row 3, column "prepared from": found "Al 1000"; expected a name in the table standards that has a row for Al',
  ],
  [
    'a chain of standards that comes back to where it began',
    (f) =>
      f
        .set('standards.csv', 2, 'prepared from', 'Al 100')
        .set('standards.csv', 2, 'aliquot g', '1')
        .set('standards.csv', 2, 'final g', '10'),
    'standards.csv, row 2, column "prepared from": found "Al 100"; expected a chain that ends at a stock: this one comes back to where it began',
  ],
  [
    'a blank of another name than the plan gives',
    (f) => f.set('digestions.csv', 3, 'sample', 'blank'),
    'digestions.csv, row 3, column "sample": found "blank"; expected "procedure blank" or "memory blank", as the plan names blanks',
  ],
  [
    'a reference material without certified values',
    (f) => f.set('digestions.csv', 4, 'sample', 'RM-2'),
    'digestions.csv, row 4, column "sample": found "RM-2"; expected a material of the table references',
  ],
  [
    'a content in another unit than the plan calibrates in',
    (f) =>
      f
        .set('calibration.csv', 3, 'mass fraction mg/kg', '')
        .set('calibration.csv', 3, 'concentration mg/L', '5'),
    'calibration.csv, row 3, column "mass fraction mg/kg": found an empty cell; expected a content, as the plan calibrates in mg/kg',
  ],
  [
    'a digestion of the plan that was never made',
    (f) => f.json('study.json', (plan) => Object.assign(plan, { nativeCheckDigestions: ['D-001', 'D-099'] })),
    'study.json, key "nativeCheckDigestions[1]": found "D-099"; expected a digestion of the table digestions',
  ],
];

function add(list: unknown, entry: object): void {
  (list as object[]).push(entry);
}

function edit(list: unknown, changes: object): void {
  Object.assign((list as object[])[0]!, changes);
}

describe('checkAcrossTables', () => {
  it.each(cases)('names %s', async (_, breakIt, problem) => {
    const files = new StudyFiles();
    breakIt(files);
    expect(await files.problems()).toContain(problem);
  });

  it('takes one of two spectrometers in service that day', async () => {
    const files = new StudyFiles().json('equipment.json', (e) => {
      add(e, { ...spectrometer, dueOn: '2025-01-08' });
      add(e, { ...spectrometer, id: 'ICP-2' });
    });
    expect(await files.problems()).toEqual([]);
  });

  it('lets a check solution expire after the run that read it', async () => {
    const files = new StudyFiles().repeat('standards.csv', 3, { name: 'check', expiry: '2025-01-09' });
    expect(await files.problems()).toEqual([]);
  });

  it('makes one problem of a missing digestion, however often it was read', async () => {
    const files = new StudyFiles();
    for (const repeat of ['1', '2', '3']) {
      files.repeat('readings.csv', 2, { ...shiftedReading, repeat, solution: 'D-099' });
    }
    expect(await files.problems()).toEqual([
      expect.stringContaining('row 14, column "solution": found "D-099" (and in 2 more row(s)); expected'),
    ]);
  });

  it('lets the internal-standard element be calibrated and read', async () => {
    const files = new StudyFiles().repeat('calibration.csv', 2, { analyte: 'Sc' });
    expect(await files.problems()).toEqual([]);
  });
});
