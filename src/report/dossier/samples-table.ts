import type { MatrixValidation } from '../../studies/matrix/validate-matrix.js';
import { column, countCell, numberOr, text } from '../cells.js';
import type { Cell, Table } from '../document.js';

/** Every sample and reference material of a study: what it was used for, and what was found in it. */
export function samplesTable(validation: MatrixValidation): Table {
  const { plan } = validation.study.index.records;
  const { digestions } = validation.recorded;
  const names = [
    ...new Set(digestions.filter((d) => d.kind === 'sample' || d.kind === 'reference').map((d) => d.sample)),
  ].sort();
  const rows = names.map((name): Cell[] => {
    const own = digestions.filter(
      (d) => d.sample === name && (d.kind === 'sample' || d.kind === 'reference'),
    );
    return [
      text(name),
      text(usesOf(validation, name).join('; ')),
      countCell(own.length),
      countCell(new Set(own.map((d) => d.day)).size),
      ...plan.analytes.map(({ analyte }) => numberOr(contentOf(validation, analyte, name), 3, 'not read')),
    ];
  });
  return {
    kind: 'table',
    id: 'scope/samples',
    caption: 'Samples and reference materials of the study: use, and mean content found in the solid',
    columns: [
      column('Name'),
      column('Used for'),
      column('Digestions'),
      column('Days'),
      ...plan.analytes.map(({ analyte, oxide, unit }) => column(oxide ?? analyte, unit)),
    ],
    rows,
    notes: levelNotes(validation),
  };
}

function usesOf({ recorded }: MatrixValidation, name: string): string[] {
  const { plan, digestions, homogeneity, spikes } = recorded;
  const sampleOf = (digestion: string) => digestions.find((d) => d.digestion === digestion)?.sample;
  const memory = digestions.filter((d) => d.kind === 'blank' && d.sample === plan.blanks.memory);
  const isBeforeMemory = memory.some((blank) => {
    const earlier = digestions.filter(
      (d) =>
        d.crucible === blank.crucible &&
        (d.day < blank.day || (d.day === blank.day && d.order < blank.order)),
    );
    const last = earlier
      .sort((a, b) => (a.day === b.day ? a.order - b.order : a.day < b.day ? -1 : 1))
      .at(-1);
    return last?.sample === name;
  });
  const uses: [string, boolean][] = [
    ...plan.levels.map(({ level, sample }): [string, boolean] => [`level ${level}`, sample === name]),
    ['trueness', digestions.some((d) => d.kind === 'reference' && d.sample === name)],
    [
      'additions (recovery)',
      spikes.some((s) => sampleOf(s.digestion) === name || sampleOf(s.unspikedPartner) === name),
    ],
    [
      'solutions read again later',
      plan.stability?.digestions.some((digestion) => sampleOf(digestion) === name) ?? false,
    ],
    ['deliberate changes (ruggedness)', plan.ruggedness?.sample === name],
    ['low level (limit of quantification)', plan.detection?.lowLevelSample === name],
    ['homogeneity', homogeneity.some((h) => h.sample === name)],
    ['digested before a blank in the same crucible (crucible memory)', isBeforeMemory],
    [
      'read once without internal standard',
      plan.nativeCheckDigestions.some((digestion) => sampleOf(digestion) === name),
    ],
  ];
  return uses.filter(([, isUsed]) => isUsed).map(([use]) => use);
}

function contentOf({ study }: MatrixValidation, analyte: string, name: string): number | null {
  const values = study.results.flatMap((r) =>
    r.analyte === analyte && r.sample === name && (r.kind === 'sample' || r.kind === 'reference')
      ? (r.value ?? [])
      : [],
  );
  return values.length === 0 ? null : values.reduce((a, b) => a + b, 0) / values.length;
}

/** Says for which analytes the names of the levels do not follow the content. */
function levelNotes(validation: MatrixValidation): string[] {
  const { analytes, levels } = validation.study.index.records.plan;
  const [first, last] = [levels[0], levels.at(-1)];
  if (first === undefined || last === undefined || first === last) return [];
  const names = levels.map(({ level, sample }) => `${level} is ${sample}`).join(', ');
  const falling = analytes.filter(({ analyte }) => {
    const [low, high] = [first, last].map(({ sample }) => contentOf(validation, analyte, sample));
    return low != null && high != null && low > high;
  });
  if (falling.length === 0) return [`Levels: ${names}.`];
  const rising = analytes.filter((scope) => !falling.includes(scope)).map(({ analyte }) => analyte);
  return [
    `Levels name samples, one for all analytes: ${names}. They follow the content of ${rising.join(', ')}; of ${falling.map(({ analyte }) => analyte).join(' and ')} the sample called ${first.level} holds more than the one called ${last.level}.`,
  ];
}
