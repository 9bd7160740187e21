import type { HomogeneityRecord } from '../../records/tables/homogeneity.js';
import { type Analyte, analyteDesigns } from '../design/analytes.js';
import { nominal, trueComponents } from '../design/components.js';
import { materials } from '../design/materials.js';
import { reportedForm } from '../design/oxide-form.js';
import { drawNormal, drawRectangular } from '../draw.js';
import { statedInput } from '../plan/stated-inputs.js';

const sample = 'ZP-2';
const containers = 10;
const portions = 2;
const analytes: readonly Analyte[] = ['Zr', 'Fe', 'Ca'];

/** Relative scatter of the readings behind one result. */
const readingScatter = 0.003;

/** Ten bottles of ZP-2, two portions of each, digested on one day before the study, in the form and unit the study reports. */
export function homogeneityRecords(seed: number): HomogeneityRecord[] {
  const { standardUncertainty: heterogeneity } = statedInput('sample heterogeneity');
  return Array.from({ length: containers * portions }, (_, i) => ({
    container: `ZP-2/${String(Math.floor(i / portions) + 1).padStart(2, '0')}`,
    portion: (i % portions) + 1,
  })).flatMap(({ container, portion }) => {
    const draw = (relative: number, ...purpose: (string | number)[]) =>
      drawNormal(seed, relative, ['homogeneity', container, ...purpose]);
    const common = draw(heterogeneity, 'container') + draw(trueComponents.digestionShared, portion, 'shared');
    const stray = drawRectangular(seed, 0.02, ['homogeneity', container, portion, 'mass']);
    const portionG = Number((nominal.portionG * (1 + stray)).toFixed(4));
    return analytes.map((analyte): HomogeneityRecord => {
      const own =
        draw(trueComponents.digestionIndependent, portion, 'own', analyte) +
        draw(readingScatter, portion, 'reading', analyte);
      const { unit } = analyteDesigns[analyte];
      const value = reportedForm(analyte, materials[sample].contents[analyte]) * (1 + common + own);
      return {
        ...{ sample, container, portion, analyte, portionG, unit },
        value: Number(value.toFixed(unit === 'mg/kg' ? 1 : 3)),
      };
    });
  });
}
