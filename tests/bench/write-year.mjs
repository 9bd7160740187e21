// Writes an invented study of many runs: usage node write-year.mjs FOLDER [runs=238] [samples a run=40]
// Each run: 6 standards, 6 check solutions, 3 blanks, 2 reference digestions, the samples; 30 lines, 3 readings each.
import { closeSync, mkdirSync, openSync, readFileSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const elements =
  'Zr Si Pr Hf Al Fe Ti Ca Mg Na K P Ba Sr Y La Ce Nd Cr Mn Ni Cu Zn V Co Pb Mo Nb Sn Li'.split(' ');
const diluted = 2;
const contents = elements.map((_, i) => (i < diluted ? 60 : i < 4 ? 20 : 2 + (i % 7)));
const lineOf = (i) => (i === 0 ? 343.823 : Number((210 + i * 6.173).toFixed(3)));
const internalStandard = 400_000;

/** Seeded: mulberry32 and the polar method, so that every run of the benchmark reads the same bytes. */
function generator(seed) {
  let state = seed;
  const uniform = () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  let spare = null;
  return () => {
    if (spare !== null) {
      const value = spare;
      spare = null;
      return value;
    }
    for (;;) {
      const [u, v] = [2 * uniform() - 1, 2 * uniform() - 1];
      const s = u * u + v * v;
      if (s === 0 || s >= 1) continue;
      const factor = Math.sqrt((-2 * Math.log(s)) / s);
      spare = v * factor;
      return u * factor;
    }
  };
}

export function writeYear(folder, { runs = 238, samples = 40, seed = 20250314 } = {}) {
  mkdirSync(folder, { recursive: true });
  const normal = generator(seed);
  const json = (name, value) => writeFileSync(join(folder, name), `${JSON.stringify(value, null, 1)}\n`);
  json('study.json', plan());
  json('equipment.json', equipment());
  writeTable(
    folder,
    'standards',
    'name,analyte,value,unit,U,k,certificate,expiry,prepared from,aliquot g,final g',
    [
      ...elements.map((e) => `S-${e},${e},1000,mg/kg,4,2,C-${e},2027-12-31,,,`),
      'S-Sc,Sc,1000,mg/kg,4,2,C-Sc,2027-12-31,,,',
    ],
  );
  writeTable(
    folder,
    'interference',
    'analyte,line nm,interferent,apparent mg/kg per mg/kg,standard uncertainty',
    [`Ca,${lineOf(7)},Pr,0.0004,0.000008`, `Hf,${lineOf(3)},Zr,0.0002,0.000005`],
  );
  const tables = {
    digestions: [],
    dilutions: [],
    calibration: [],
    moisture: ['QRM-1,0.12,as received to dry,0.03'],
  };
  const file = openSync(join(folder, 'readings.csv'), 'w');
  writeSync(
    file,
    'run,position,time,solution,analyte,line nm,repeat,intensity counts/s,internal standard intensity counts/s\n',
  );
  for (let r = 0; r < runs; r++) writeSync(file, writeRun(r, samples, normal, tables));
  closeSync(file);
  writeTable(folder, 'digestions', digestionHeading, tables.digestions);
  writeTable(
    folder,
    'dilutions',
    'dilution,digestion,aliquot g,final g,final mL,diluent,internal standard g',
    tables.dilutions,
  );
  writeTable(
    folder,
    'calibration',
    'run,solution,analyte,mass fraction mg/kg,concentration mg/L,standard uncertainty,prepared from',
    tables.calibration,
  );
  writeTable(folder, 'moisture', 'sample,loss g/100 g,basis,standard uncertainty g/100 g', tables.moisture);
}

const digestionHeading =
  'digestion,order,sample,kind,day,operator,place,crucible,portion balance,vessel balance,crucible g,crucible with portion g,flux g,crucible with melt g,vessel empty g,vessel with solution and crucible g,acid g,internal standard g,density g/mL,melt,solution,remark';

function writeTable(folder, name, heading, rows) {
  writeFileSync(join(folder, `${name}.csv`), `${[heading, ...rows].join('\n')}\n`);
}

/** One working day: its digestions, calibration rows and readings; returns the text of the readings. */
function writeRun(r, samples, normal, tables) {
  const run = `R-${String(r + 1).padStart(3, '0')}`;
  const start =
    Date.UTC(2025, 0, 6) + Math.floor(r / 5) * 7 * 86_400_000 + (r % 5) * 86_400_000 + 9 * 3_600_000;
  const day = new Date(start).toISOString().slice(0, 10);
  const slopes = elements.map((_, i) => (0.02 + 0.003 * i) * (1 + 0.02 * normal()));
  const rows = [];
  let position = 0;
  const read = (solution, lines, contentOf) => {
    position++;
    const drift = 1 + 0.0002 * position;
    for (const i of lines) {
      for (let repeat = 1; repeat <= 3; repeat++) {
        const internal = Math.round(internalStandard * (1 + 0.01 * normal()));
        const ratio =
          (0.0005 + slopes[i] * contentOf(i)) * drift * (1 + 0.004 * normal()) + 0.00002 * Math.abs(normal());
        const time = new Date(start + position * 300_000 + repeat * 20_000).toISOString().slice(0, 19);
        const intensity = Math.max(0, ratio * internal).toFixed(1);
        rows.push(
          `${run},${position},${time},${solution},${elements[i]},${lineOf(i)},${repeat},${intensity},${internal}`,
        );
      }
    }
  };
  const all = elements.map((_, i) => i);
  const own = all.slice(diluted);
  for (let k = 0; k < 6; k++) {
    const contentOf = (i) => (contents[i] * k) / 4;
    read(`CAL-${k}`, all, contentOf);
    for (const i of all) {
      const u = k === 0 ? 0 : Number((0.002 * contentOf(i)).toPrecision(3));
      tables.calibration.push(`${run},CAL-${k},${elements[i]},${contentOf(i)},,${u},S-${elements[i]}`);
    }
  }
  const digestions = [
    ...['procedure blank', 'procedure blank', 'procedure blank'].map((sample) => [sample, 'blank']),
    ...['QRM-1', 'QRM-1'].map((sample) => [sample, 'reference']),
    ...Array.from({ length: samples }, (_, s) => [`X-${r * samples + s + 1}`, 'sample']),
  ];
  const each = Math.ceil(digestions.length / 5);
  digestions.forEach(([sample, kind], d) => {
    if (d % each === 0) read('CHK', all, (i) => contents[i] * 0.6);
    const digestion = `D-${r + 1}-${d + 1}`;
    digest(tables, { digestion, order: d + 1, sample, kind, day, normal });
    if (kind === 'sample') tables.moisture.push(`${sample},0.25,as received to dry,0.03`);
    const level =
      kind === 'blank' ? 0.001 : kind === 'reference' ? 0.5 : 0.4 + 0.4 * Math.abs(Math.sin(r + d));
    read(digestion, own, (i) => contents[i] * level);
    read(`V-${r + 1}-${d + 1}`, all.slice(0, diluted), (i) => contents[i] * level);
  });
  read('CHK', all, (i) => contents[i] * 0.6);
  return `${rows.join('\n')}\n`;
}

function digest({ digestions, dilutions }, { digestion, order, sample, kind, day, normal }) {
  const crucible = 35 + 0.5 * normal();
  const portion = kind === 'blank' ? 0 : 0.2 + 0.002 * normal();
  const vessel = 65 + 0.5 * normal();
  const flux = 2 + 0.005 * normal();
  const whole = vessel + crucible + 100 + 0.5 * normal();
  const masses = [
    crucible.toFixed(4),
    (Number(crucible.toFixed(4)) + portion).toFixed(4),
    flux.toFixed(3),
    '',
  ];
  const vessels = [vessel.toFixed(3), whole.toFixed(3), '40.5', ''];
  const head = [
    digestion,
    order,
    sample,
    kind,
    day,
    'R. Tamworthy',
    `F2-${(order % 6) + 1}`,
    `Pt-${(order % 12) + 1}`,
    'BAL-1',
    'BAL-2',
  ];
  digestions.push([...head, ...masses, ...vessels, '1.0125', 'clear', 'clear', ''].join(','));
  const dilution = digestion.replace('D', 'V');
  dilutions.push(
    `${dilution},${digestion},${(5 + 0.02 * normal()).toFixed(3)},${(100 + 0.5 * normal()).toFixed(3)},,flux and acid,`,
  );
}

function plan() {
  const own = JSON.parse(readDemo('study.json'));
  // What a routine run needs, and nothing that only a validation plans.
  const kept = [
    ...[
      'schema',
      'invented',
      'laboratory',
      'line',
      'method',
      'matrix',
      'intendedUse',
      'planDate',
      'planOwner',
    ],
    ...['people', 'internalStandard', 'calibration', 'blank', 'basis', 'nominal', 'fluxLot', 'route'],
    ...['driftCheckSolution', 'blanks', 'statedInputs', 'decisionRule'],
  ];
  return {
    ...Object.fromEntries(kept.map((key) => [key, own[key]])),
    study: 'year',
    title: 'An invented year of routine runs',
    resultRule: { digestions: 1, readings: 3 },
    analytes: elements.map((analyte, i) => ({
      ...{ analyte, lineNm: lineOf(i), measuredIn: i < diluted ? 'dilution' : 'digestion', unit: 'mg/kg' },
      ...{ signalFloorMgPerKg: 0.004, signalRelative: 0.004, lowestReported: 1 },
    })),
    ...{ levels: [], stability: null, interferenceCheck: null, nativeCheckDigestions: [], criteria: [] },
  };
}

function equipment() {
  const own = JSON.parse(readDemo('equipment.json'));
  const always = {
    inServiceFrom: '2024-01-01',
    inServiceTo: null,
    calibratedOn: '2024-12-01',
    dueOn: '2027-12-31',
  };
  return own.map((each) => ({ ...each, ...always }));
}

function readDemo(name) {
  return readFileSync(join(fileURLToPath(import.meta.url), '../../../data/zircon-pigment', name), 'utf8');
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [, , folder, runs = '238', samples = '40'] = process.argv;
  writeYear(folder, { runs: Number(runs), samples: Number(samples) });
}
