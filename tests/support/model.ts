import type { MeasurementModel } from '../../src/uncertainty/measurement-model.js';

/** A measurement model of pure numbers for tests: equations by name, all of them outputs unless stated. */
export function model(
  expressions: Readonly<Record<string, string>>,
  outputs: readonly string[] = Object.keys(expressions),
): MeasurementModel {
  const equations = Object.entries(expressions).map(([name, expression]) => ({
    name,
    description: name,
    unit: '1',
    expression,
  }));
  return { title: 'test', equations, outputs };
}
