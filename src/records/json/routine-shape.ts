import type { RoutineRecord, SpecificationRecord } from '../routine.js';
import {
  choiceShape,
  elementShape,
  listShape,
  nullable,
  numberShape,
  objectShape,
  type Shape,
  textShape,
} from './shape.js';

const specification: Shape<SpecificationRecord> = objectShape<SpecificationRecord>({
  analyte: elementShape,
  lower: nullable(numberShape()),
  upper: nullable(numberShape()),
  unit: choiceShape(['mg/kg', 'g/100 g']),
  document: textShape,
});

/** What `routine` in `study.json` must hold. */
export const routineShape: Shape<RoutineRecord> = objectShape<RoutineRecord>({
  validation: textShape,
  decisionRule: choiceShape(['simple acceptance', 'guarded acceptance', 'guarded rejection']),
  risk: numberShape({ above: 0, atMost: 0.5 }),
  specifications: listShape(specification),
});
