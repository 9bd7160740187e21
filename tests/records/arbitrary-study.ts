import fc from 'fast-check';
import { type RecordOf, studyTables, type TableName } from '../../src/records/study-tables.js';

const character = fc.constantFrom(...'abzAZ059 =+-@\'",;|\t\n.µ²é漢😀#<>&%');

/** Texts as records hold them: no blanks at the ends, everything else that people and spreadsheets put into cells. */
const cellText = fc
  .array(character, { maxLength: 12 })
  .map((parts) => parts.join('').trim())
  .filter((text) => text !== '');
const cellName = cellText
  .map((text) => text.replaceAll('|', '/'))
  .filter((text) => text.trim() === text && text !== '');
const finite = fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => value + 0);
const positive = fc.double({ min: 5e-324, max: 1e300, noNaN: true });
const atLeastZero = fc.oneof(fc.constant(0), positive);
const count = fc.integer({ min: 1, max: 2_000_000 });
const day = fc
  .integer({ min: 0, max: 40_000 })
  .map((n) => new Date(n * 86_400_000).toISOString().slice(0, 10));
const moment = fc.integer({ min: 0, max: 3e9 }).map((n) => new Date(n * 1000).toISOString().slice(0, 19));
const maybe = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: null });
const contents = fc.oneof(
  fc.record({ first: atLeastZero, second: fc.constant(null) }),
  fc.record({ first: fc.constant(null), second: atLeastZero }),
);

const factors = fc.uniqueArray(
  cellName
    .map((text) => text.replace(/\s+/g, ' '))
    .filter((text) => !['experiment', 'response'].includes(text.toLowerCase())),
  { minLength: 1, maxLength: 4 },
);

/** Random sound records of each table. */
export const arbitraryRecords: { readonly [N in TableName]: fc.Arbitrary<RecordOf<N>[]> } = {
  digestions: fc.array(
    fc
      .record({
        digestion: cellName,
        order: count,
        sample: cellText,
        kind: fc.constantFrom('sample', 'blank', 'reference', 'spike'),
        day,
        operator: cellText,
        place: cellText,
        crucible: cellText,
        portionBalance: cellText,
        vesselBalance: cellText,
        crucibleG: fc.double({ min: 1, max: 100, noNaN: true }),
        fluxG: positive,
        vesselEmptyG: fc.double({ min: 1, max: 100, noNaN: true }),
        acidG: maybe(positive),
        internalStandardG: maybe(positive),
        densityGPerML: maybe(positive),
        melt: fc.constantFrom('clear', 'not clear'),
        solution: fc.constantFrom('clear', 'residue'),
        remark: fc.oneof(fc.constant(''), cellText),
        melted: maybe(fc.double({ min: 300, max: 400, noNaN: true })),
      })
      .map(({ melted, ...each }) => ({
        ...each,
        crucibleWithPortionG: each.crucibleG + 0.2,
        crucibleWithMeltG: melted,
        vesselWithSolutionAndCrucibleG: each.vesselEmptyG + each.crucibleG + 100,
      })),
  ),
  dilutions: fc.array(
    fc
      .record({
        dilution: cellName,
        digestion: cellText,
        aliquotG: fc.double({ min: 1, max: 5, noNaN: true }),
        finals: contents,
        diluent: cellText,
        internalStandardG: maybe(positive),
        balance: fc.option(cellText, { nil: '' }),
      })
      .map(({ finals, ...each }) => ({
        ...each,
        finalG: finals.first === null ? null : 5 + Math.min(finals.first, 1e6),
        finalML: finals.second === null ? null : 5 + Math.min(finals.second, 1e6),
      })),
  ),
  calibration: fc.array(
    fc
      .record({
        run: cellName,
        solution: cellName,
        analyte: cellName,
        contents,
        standardUncertainty: atLeastZero,
        preparedFrom: cellText,
      })
      .map(({ contents: { first, second }, ...each }) => ({
        ...each,
        massFractionMgPerKg: first,
        concentrationMgPerL: second,
      })),
  ),
  standards: fc.array(
    fc
      .record({
        name: cellName,
        analyte: cellName,
        value: positive,
        unit: fc.constantFrom('mg/kg', 'mg/L'),
        expandedUncertainty: atLeastZero,
        coverageFactor: positive,
        certificate: cellText,
        expiry: day,
        preparation: fc.option(fc.record({ preparedFrom: cellText, aliquotG: positive }), { nil: null }),
      })
      .map(({ preparation, ...each }) => ({
        ...each,
        preparedFrom: preparation?.preparedFrom ?? '',
        aliquotG: preparation?.aliquotG ?? null,
        finalG: preparation === null ? null : preparation.aliquotG * 10,
      })),
  ),
  readings: fc.array(
    fc.record({
      run: cellName,
      position: count,
      time: moment,
      solution: cellName,
      analyte: cellName,
      lineNm: positive,
      repeat: count,
      intensity: atLeastZero,
      internalStandardIntensity: maybe(positive),
    }),
  ),
  references: fc.array(
    fc.record({
      material: cellName,
      analyte: cellName,
      value: positive,
      unit: fc.constantFrom('mg/kg', 'g/100 g'),
      expandedUncertainty: positive,
      coverageFactor: positive,
      certificate: cellText,
      minimumPortionG: positive,
      basis: fc.constantFrom('dry', 'as received', 'ignited'),
      expiry: day,
    }),
  ),
  spikes: fc.array(
    fc.record({
      digestion: cellName,
      unspikedPartner: cellText,
      stage: fc.constantFrom('before fusion', 'after dissolution'),
      analyte: cellName,
      addedMg: positive,
      standardUncertaintyMg: atLeastZero,
    }),
  ),
  additions: fc.array(
    fc.record({
      solution: cellName,
      base: cellName,
      analyte: cellName,
      added: atLeastZero,
      standardUncertainty: atLeastZero,
    }),
  ),
  comparison: fc.array(
    fc.record({
      sample: cellName,
      analyte: cellName,
      method: cellText,
      value: positive,
      unit: fc.constantFrom('mg/kg', 'g/100 g'),
      standardUncertainty: positive,
    }),
  ),
  moisture: fc.array(
    fc.record({
      sample: cellName,
      lossGPer100G: fc.double({ min: -99, max: 99, noNaN: true }).map((value) => value + 0),
      basis: fc.constantFrom('as received to dry', 'dry to ignited'),
      standardUncertaintyGPer100G: atLeastZero,
    }),
  ),
  interference: fc.array(
    fc.record({
      analyte: cellName,
      lineNm: positive,
      interferent: cellName,
      apparentPerUnit: finite,
      standardUncertainty: atLeastZero,
    }),
  ),
  exclusions: fc.array(
    fc.record({
      table: fc.constantFrom(...(Object.keys(studyTables) as TableName[])),
      rowKey: cellText,
      who: cellText,
      when: day,
      technicalCause: cellText,
    }),
  ),
  factors: factors.chain((names) =>
    fc.array(
      fc.record({
        experiment: count,
        levels: fc.record(Object.fromEntries(names.map((each) => [each, fc.constantFrom<-1 | 1>(-1, 1)]))),
        response: finite,
      }),
    ),
  ),
  homogeneity: fc.array(
    fc.record({
      sample: cellName,
      container: cellName,
      portion: count,
      analyte: cellName,
      portionG: positive,
      value: finite,
      unit: cellText,
    }),
  ),
  history: fc.array(
    fc.record({
      date: day,
      run: cellName,
      material: cellName,
      analyte: cellName,
      value: finite,
      unit: cellText,
      equipment: fc.array(cellName, { minLength: 1, maxLength: 3 }),
    }),
  ),
  rounds: fc.array(
    fc.record({
      round: cellName,
      material: cellName,
      analyte: cellName,
      value: finite,
      unit: cellText,
      expandedUncertainty: positive,
      assignedValue: finite,
      assignedStandardUncertainty: atLeastZero,
      sigmaPt: positive,
    }),
  ),
};
