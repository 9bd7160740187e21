import type { StatedInput } from '../../records/study.js';
import { analyteDesigns, analyteNames } from '../design/analytes.js';

/** Inputs of the chain that no table holds, as the laboratory states them in its plan. */
export const statedInputs: readonly StatedInput[] = [
  {
    name: 'density and uptake match',
    analyte: '*',
    estimate: 1,
    standardUncertainty: 0.0015,
    unit: '1',
    distribution: 'normal',
    source: 'Standards and samples share flux and acid; densities agree within 0.3 % in the line file',
  },
  {
    name: 'evaporation before reading',
    analyte: '*',
    estimate: 1,
    standardUncertainty: 0.0002,
    unit: '1',
    distribution: 'rectangular',
    source: 'Closed bottles lose at most 0.035 % of their mass between weighing back and reading',
  },
  {
    name: 'retained in fusion',
    analyte: '*',
    estimate: 1,
    standardUncertainty: 0.0005,
    unit: '1',
    distribution: 'normal',
    source:
      'Fraction of the portion that reaches the solution; crucibles with melt weighed in the start-up of the line',
  },
  {
    name: 'sample heterogeneity',
    analyte: '*',
    estimate: 1,
    standardUncertainty: 0.0005,
    unit: '1',
    distribution: 'normal',
    source:
      'Between portions of 0.2 g of the micronised pigment, from an earlier test of ground pigments; the homogeneity check of this study holds it against its criterion',
  },
  ...analyteNames.map(
    (analyte): StatedInput => ({
      name: 'flux lot blank',
      analyte,
      estimate: 0,
      standardUncertainty: Number((0.05 * analyteDesigns[analyte].blankMgPerGFlux).toPrecision(2)),
      unit: 'mg/g',
      distribution: 'rectangular',
      source: 'Difference, per g of flux, between the jar of the blanks and the jar of the samples, one lot',
    }),
  ),
  {
    name: 'air density',
    analyte: '*',
    estimate: 1.185,
    standardUncertainty: 0.012,
    unit: 'kg/m3',
    distribution: 'rectangular',
    source: 'CIPM-2007 at 22 °C, 1008 hPa, 45 % relative humidity, with the range of the balance room',
  },
  {
    name: 'portion density',
    analyte: '*',
    estimate: 4600,
    standardUncertainty: 40,
    unit: 'kg/m3',
    distribution: 'normal',
    source: 'Zircon with some silica and oxides of praseodymium, from the composition',
  },
];

/** The stated input of that name, for an analyte where it is stated by analyte. */
export function statedInput(name: StatedInput['name'], analyte = '*'): StatedInput {
  const found = statedInputs.find((input) => input.name === name && input.analyte === analyte);
  if (found === undefined) throw new RangeError(`no stated input ${name} for ${analyte}`);
  return found;
}
