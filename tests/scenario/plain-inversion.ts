import { oxideFactor } from '../../src/quantities/oxide.js';
import type { StudyRecords } from '../../src/records/study-records.js';

/** Mass fraction of one digestion, worked back from the records in the plainest way. */
export interface PlainResult {
  readonly digestion: string;
  readonly sample: string;
  readonly kind: string;
  readonly analyte: string;
  readonly lineNm: number;
  /** In the form and unit of the plan. */
  readonly massFraction: number;
}

const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;

/** Straight line through two-column data with weights. */
function line(points: readonly (readonly [number, number, number])[]) {
  const sum = (f: (p: readonly [number, number, number]) => number) => points.reduce((s, p) => s + f(p), 0);
  const w = sum((p) => p[2]);
  const x = sum((p) => p[2] * p[0]) / w;
  const y = sum((p) => p[2] * p[1]) / w;
  const slope = sum((p) => p[2] * (p[0] - x) * (p[1] - y)) / sum((p) => p[2] * (p[0] - x) ** 2);
  return { slope, intercept: y - slope * x };
}

/**
 * A slow and plain way back from the records of a study with one interferent a line, on-line internal standard and
 * calibration in mg/kg: it stands apart from the program's own chain and judges the generator's signs and factors.
 */
export function plainResults(records: StudyRecords): PlainResult[] {
  const first = new Map<string, { run: string; position: number; ratios: number[] }>();
  for (const r of records.readings) {
    if (r.internalStandardIntensity === null) continue;
    const key = `${r.solution}|${r.lineNm}`;
    const known = first.get(key);
    const ratio = r.intensity / r.internalStandardIntensity;
    if (known === undefined) first.set(key, { run: r.run, position: r.position, ratios: [ratio] });
    else if (known.run === r.run) known.ratios.push(ratio);
  }
  const lines = lineFunctions(records);
  const content = (solution: string, lineNm: number) => {
    const read = first.get(`${solution}|${lineNm}`)!;
    return lines(read.run, lineNm, read.position, mean(read.ratios));
  };
  const scopes = new Map(records.plan.analytes.map((a) => [a.analyte, a]));
  const dilutions = new Map(records.dilutions.map((d) => [d.digestion, d]));
  const inDigestion = (digestion: string, analyte: string, lineNm: number): number => {
    const dilution = dilutions.get(digestion)!;
    const measured =
      scopes.get(analyte)!.measuredIn === 'dilution'
        ? (content(dilution.dilution, lineNm) * dilution.finalG!) / dilution.aliquotG
        : content(digestion, lineNm);
    const overlap = records.interference.find((k) => k.lineNm === lineNm);
    if (overlap === undefined) return measured;
    const other = scopes.get(overlap.interferent)!;
    return measured - overlap.apparentPerUnit * inDigestion(digestion, other.analyte, other.lineNm);
  };
  return records.plan.analytes.flatMap((scope) =>
    [scope.lineNm, ...(scope.secondLineNm === undefined ? [] : [scope.secondLineNm])].flatMap((lineNm) =>
      massFractions(records, scope.analyte, lineNm, (d) => inDigestion(d, scope.analyte, lineNm)),
    ),
  );
}

/** Content from a ratio by run, line and place: drift between check solutions taken off, calibration turned round. */
function lineFunctions(records: StudyRecords) {
  const standards = new Map(records.calibration.map((c) => [`${c.run}|${c.solution}|${c.analyte}`, c]));
  const scopes = new Map(records.plan.analytes.map((a) => [a.analyte, a]));
  const places = new Map<string, Map<number, { solution: string; analyte: string; ratios: number[] }>>();
  for (const r of records.readings) {
    if (r.internalStandardIntensity === null) continue;
    const key = `${r.run}|${r.lineNm}`;
    const run = places.get(key) ?? places.set(key, new Map()).get(key)!;
    const place =
      run.get(r.position) ??
      run.set(r.position, { solution: r.solution, analyte: r.analyte, ratios: [] }).get(r.position)!;
    place.ratios.push(r.intensity / r.internalStandardIntensity);
  }
  const functions = new Map(
    [...places].map(([key, run]) => {
      const checks = [...run].filter(([, p]) => p.solution === records.plan.driftCheckSolution);
      const points = [...run.values()].flatMap((p) => {
        const standard = standards.get(`${key.split('|')[0]}|${p.solution}|${p.analyte}`);
        if (standard === undefined) return [];
        const x = standard.massFractionMgPerKg!;
        const { signalFloorMgPerKg, signalRelative } = scopes.get(p.analyte)!;
        return [[x, mean(p.ratios), 1 / (signalFloorMgPerKg ** 2 + (signalRelative * x) ** 2)] as const];
      });
      return [key, { checks: checks.map(([at, p]) => [at, mean(p.ratios)] as const), ...line(points) }];
    }),
  );
  return (run: string, lineNm: number, position: number, ratio: number) => {
    const { checks, slope, intercept } = functions.get(`${run}|${lineNm}`)!;
    const next = checks.findIndex(([at]) => at >= position);
    const [from, to] = [checks[next - 1]!, checks[next]!];
    const check = from[1] + ((to[1] - from[1]) * (position - from[0])) / (to[0] - from[0]);
    return ((ratio * checks[0]![1]) / check - intercept) / slope;
  };
}

function massFractions(
  records: StudyRecords,
  analyte: string,
  lineNm: number,
  content: (digestion: string) => number,
): PlainResult[] {
  const scope = records.plan.analytes.find((a) => a.analyte === analyte)!;
  const excluded = new Set(records.exclusions.map((e) => e.rowKey));
  const moisture = new Map(records.moisture.map((m) => [m.sample, m.lossGPer100G / 100]));
  const buoyancy = (density: number) => (1 - 1.185 / 8000) / (1 - 1.185 / density);
  const amounts = records.digestions.map((d) => {
    const net = d.vesselWithSolutionAndCrucibleG - d.vesselEmptyG! - d.crucibleG;
    return (content(d.digestion) * net * buoyancy(d.densityGPerML! * 1000)) / 1000;
  });
  const blank = mean(
    records.digestions.flatMap((d, i) =>
      d.sample === records.plan.blanks.procedure && !excluded.has(`${d.digestion}|${analyte}`)
        ? [amounts[i]! / d.fluxG]
        : [],
    ),
  );
  const perMgPerG = oxideFactor(scope.oxide!).factor * (scope.unit === 'mg/kg' ? 1000 : 0.1);
  return records.digestions.flatMap((d, i) => {
    if (d.kind === 'blank') return [];
    const dryG =
      (d.crucibleWithPortionG - d.crucibleG) * buoyancy(4600) * (1 - (moisture.get(d.sample) ?? 0));
    const massFraction = ((amounts[i]! - blank * d.fluxG) / dryG) * perMgPerG;
    return [{ digestion: d.digestion, sample: d.sample, kind: d.kind, analyte, lineNm, massFraction }];
  });
}
