import { choice, date, name, number, text } from '../table-form/column.js';
import type { Table } from '../table-form/table.js';

/** One certified value of a reference material. */
export interface ReferenceRecord {
  readonly material: string;
  readonly analyte: string;
  readonly value: number;
  readonly unit: 'mg/kg' | 'g/100 g';
  readonly expandedUncertainty: number;
  readonly coverageFactor: number;
  readonly certificate: string;
  readonly minimumPortionG: number;
  readonly basis: 'dry' | 'as received' | 'ignited';
  /** ISO date. */
  readonly expiry: string;
}

export const referenceTable: Table<ReferenceRecord> = {
  name: 'references',
  rowIs: 'one certified value',
  key: ['material', 'analyte'],
  required: false,
  withoutIt: 'trueness by reference materials',
  columns: {
    material: name('material', 'name of the material, as in the column sample of digestions'),
    analyte: name('analyte', 'symbol of the element'),
    value: number('value', 'certified value, in the form the plan reports (oxide or element)', { above: 0 }),
    unit: choice('unit', 'unit of value and U', ['mg/kg', 'g/100 g']),
    expandedUncertainty: number('U', 'expanded uncertainty', { above: 0 }),
    coverageFactor: number('k', 'coverage factor of U', { above: 0 }),
    certificate: text('certificate', 'number of the certificate'),
    minimumPortionG: number('minimum portion g', 'smallest portion the certificate holds for', { above: 0 }),
    basis: choice('basis', 'what the value refers to', ['dry', 'as received', 'ignited']),
    expiry: date('expiry', 'last day of use'),
  },
};
