import { type Cells, readingUncertainty, sensitivityUncertainty } from '../hand-computed/chain-example.js';
import {
  blankScatter,
  calibrationOf,
  type Digestion,
  type Disturbed,
  followed,
  followedWeights,
  isDiluted,
  type Modes,
  recordedDilution,
  standardContent,
  standardDensity,
  symbols,
} from './any-digestion.js';

type Values = Record<string, number>;

const reading = (isSmall: boolean, load: number) =>
  [load, readingUncertainty(isSmall ? 'small' : 'large', load)] as const;

/** Every quantity of the digestion with its standard uncertainty, written from the numbers and not from the chain's inputs. */
export function cellsOf(d: Digestion, modes: Modes): Cells {
  const { finalG } = recordedDilution(d);
  const cells: Record<string, readonly [number, number]> = {
    crucible: reading(true, d.crucibleG),
    crucibleAndPortion: reading(true, d.crucibleG + d.portionG),
    vessel: reading(d.oneBalance, d.vesselG),
    vesselAndAll: reading(d.oneBalance, d.vesselG + d.crucibleG + d.solutionG),
    aliquot: reading(d.dilutionOnSmall, d.aliquotG),
    aliquotZero: reading(d.dilutionOnSmall, 0),
    final: reading(d.dilutionOnSmall, finalG),
    finalZero: reading(d.dilutionOnSmall, 0),
    standard: reading(d.standardOnSmall, d.standardG),
    standardZero: reading(d.standardOnSmall, 0),
    sensitivitySmall: [1, sensitivityUncertainty('small')],
    sensitivityLarge: [1, sensitivityUncertainty('large')],
    air: [d.airDensity, 0.004],
    portionDensity: [d.portionDensity, 50],
    rhoError: [0, 0.5],
    expansion: [2.1e-4, 2e-5],
    readingAbove20: [3, 0.8],
    volumesAbove20: [2, 1],
    flask: [0, 0.1 / Math.sqrt(6)],
    flaskFilling: [0, 0.025],
    pipette: [0, 0.016 / Math.sqrt(6)],
    pipetteDelivery: [0, 0.004],
    standardContent: [standardContent(modes), 0.0006 * standardContent(modes)],
    evaporation: [d.evaporation, 0.0002],
    retained: [d.retained, 0.001],
    portionAgainstSample: [1, 0.002],
    loss: [d.loss, 0.0005],
    ignition: [d.ignition, 0.002],
    oxide: [d.oxide, 1e-5],
    pump: [d.pump, 0.001],
    native: [d.native, 1e-4],
    match: [d.match, 0.001],
    lot: [d.fluxLot, 3e-5],
    deviation: [0, blankScatter],
    K_Al_Zr: [d.coefficients[0], 0.03 * d.coefficients[0]],
    K_Al_Pr: [d.coefficients[1], 0.03 * d.coefficients[1]],
    K_Zr_Pr: [d.coefficients[2], 0.03 * d.coefficients[2]],
    ...blankCells(d),
  };
  for (const symbol of symbols) {
    const { ratio, drift } = d.lines[symbol];
    const { intercept, slope } = calibrationOf(d, modes, symbol);
    cells[`ratio${symbol}`] = [ratio, 0.002 * ratio];
    cells[`drift${symbol}`] = [drift, 0.001];
    cells[`intercept${symbol}`] = [intercept, 4e-3 * slope];
    cells[`slope${symbol}`] = [slope, 1.5e-3 * slope];
    cells[`stock${symbol}`] = [1, 0.0025];
    // The calibration of the other run, as it happens of the same numbers.
    cells[`interceptOther${symbol}`] = [intercept, 4e-3 * slope];
    cells[`slopeOther${symbol}`] = [slope, 1.5e-3 * slope];
  }
  return cells;
}

function blankCells(d: Digestion): Cells {
  const isLine = d.blank === 'per flux mass and digestion';
  // Of four blanks the mean has half their scatter; the line has the variances it was given.
  return {
    perFlux: [d.blankPerFlux, isLine ? 1e-4 : blankScatter / 2],
    perDigestion: [d.blankPerDigestion, isLine ? 2e-4 : blankScatter / 2],
  };
}

/** Pairs of cells that are not independent. */
export function correlatedCells(d: Digestion): (readonly [string, string, number])[] {
  const lines = symbols.flatMap((symbol) =>
    ['', 'Other'].map((run) => [`intercept${run}${symbol}`, `slope${run}${symbol}`, -0.6] as const),
  );
  return d.blank === 'per flux mass and digestion' ? [...lines, ['perFlux', 'perDigestion', -0.9]] : lines;
}

const buoyancy = (air: number, density: number) => (1 - air / 8000) / (1 - air / density);

/** Masses of portion, solution, aliquot and final solution, g. */
function masses(d: Digestion, modes: Modes, c: Values) {
  const onSmall = c.sensitivitySmall!;
  const restsOnDensity = modes.unit === 'mg/L' || modes.dilution.endsWith('flask');
  const toSolution = buoyancy(c.air!, d.solutionDensity + (restsOnDensity ? c.rhoError! : 0));
  const vessels = (c.vesselAndAll! - c.vessel!) * (d.oneBalance ? onSmall : c.sensitivityLarge!);
  const inVolumes = (millilitres: number, density: number) =>
    (millilitres *
      (1 + 1e-5 * c.volumesAbove20!) *
      (density + c.rhoError!) *
      (1 - c.expansion! * c.volumesAbove20!)) /
    1000;
  const { finalML, aliquotML } = recordedDilution(d);
  const onBalance = d.dilutionOnSmall ? onSmall : c.sensitivityLarge!;
  const aliquotNet = (c.aliquot! - c.aliquotZero!) * onBalance * toSolution;
  return {
    portion: (c.crucibleAndPortion! - c.crucible!) * onSmall * buoyancy(c.air!, c.portionDensity!),
    solution: (vessels - c.crucible! * onSmall) * toSolution,
    aliquot:
      modes.dilution === 'pipette and flask'
        ? inVolumes(aliquotML + c.pipette! + c.pipetteDelivery!, d.solutionDensity)
        : aliquotNet,
    // By mass both are of one solution's density and one balance: the scale cancels.
    final:
      modes.dilution === 'by mass'
        ? (c.final! - c.finalZero!) * onBalance * toSolution
        : inVolumes(finalML + c.flask! + c.flaskFilling!, d.dilutedDensity),
  };
}

/** Content of the internal standard in the solution measured, mg/kg; 1 where it comes on line. */
function internalStandard(d: Digestion, modes: Modes, c: Values, diluted: boolean): number {
  const m = masses(d, modes, c);
  const onBalance = d.standardOnSmall ? c.sensitivitySmall! : c.sensitivityLarge!;
  const net = c.standard! - c.standardZero!;
  const mass = net * onBalance * buoyancy(c.air!, standardDensity);
  switch (modes.standard) {
    case 'on line':
      return 1;
    case 'added to the digestion': {
      const own = ((c.standardContent! * mass) / m.solution) * c.evaporation!;
      return diluted ? (own * m.aliquot) / m.final : own;
    }
    case 'diluent':
      return (c.standardContent! * (m.final - m.aliquot)) / m.final;
    case 'weighed into the dilution':
      // Weighed like the dilution itself, its scale cancels; against a volume it counts.
      return modes.dilution === 'by mass'
        ? (c.standardContent! * net) / (c.final! - c.finalZero!)
        : (c.standardContent! * mass) / m.final;
  }
}

/** Apparent content in the solution of the digestion, mg/kg: methods of the chain, steps 1 to 4. */
function apparent(d: Digestion, modes: Modes, c: Values, symbol: Disturbed): number {
  const diluted = isDiluted(d, modes, symbol);
  const recorded = diluted ? d.dilutedDensity : d.solutionDensity;
  const density =
    modes.unit === 'mg/L' ? ((recorded + c.rhoError!) * (1 - c.expansion! * c.readingAbove20!)) / 1000 : 1;
  const pump = modes.standard === 'on line' ? c.pump! : 1;
  const known = modes.standard === 'on line' ? 1 : internalStandard(d, modes, c, diluted) * density;
  const signal = (c[`ratio${symbol}`]! * pump * (1 + c.native!) * known) / c[`drift${symbol}`]!;
  const content = ((signal - c[`intercept${symbol}`]!) / c[`slope${symbol}`]!) * c[`stock${symbol}`]!;
  const { aliquot, final } = masses(d, modes, c);
  return (content / density) * c.match! * (diluted ? final / aliquot : 1);
}

/** Amount of an analyte in the solution, mg: steps 1 to 5. */
function plainAmount(d: Digestion, modes: Modes, analyte: Disturbed, c: Values): number {
  const Pr = apparent(d, modes, c, 'Pr');
  const Zr = apparent(d, modes, c, 'Zr') - c.K_Zr_Pr! * Pr;
  const Al = apparent(d, modes, c, 'Al') - c.K_Al_Zr! * Zr - c.K_Al_Pr! * Pr;
  const { solution } = masses(d, modes, c);
  return ({ Al, Zr, Pr }[analyte] * solution) / 1000 / c.evaporation! / c.retained!;
}

/** Mass fraction of the oxide of an analyte, mg/kg, from the cells: steps 1 to 6. */
export function plainResult(d: Digestion, modes: Modes, analyte: Disturbed, c: Values): number {
  // What 1 g as received still weighs in each state.
  const left = { 'as received': 1, dry: 1 - c.loss!, ignited: (1 - c.loss!) * (1 - c.ignition!) };
  const portion = (masses(d, modes, c).portion * left[d.reported]) / left[d.weighed];
  const net = plainAmount(d, modes, analyte, c) - blankMg(d, modes, analyte, c);
  return (net / portion) * 1000 * c.oxide! * c.portionAgainstSample!;
}

/** What calibrations other than the estimated ones would have made of the blanks whose calibrations are followed, mg each. */
function shiftsOfBlanks(d: Digestion, modes: Modes, analyte: Disturbed, c: Values): number[] {
  const estimates = Object.fromEntries(Object.entries(cellsOf(d, modes)).map(([name, [x]]) => [name, x]));
  return followed.map(({ run, signal }) => {
    const which = run === 'R1' ? '' : 'Other';
    const read: Values = { ...estimates };
    for (const symbol of symbols) read[`ratio${symbol}`]! *= signal;
    const shifted: Values = { ...read };
    for (const symbol of symbols) {
      shifted[`intercept${symbol}`] = c[`intercept${which}${symbol}`]!;
      shifted[`slope${symbol}`] = c[`slope${which}${symbol}`]!;
    }
    return plainAmount(d, modes, analyte, shifted) - plainAmount(d, modes, analyte, read);
  });
}

/** The blanks were measured with the stock of the samples; the lot of flux moves what goes with the flux, or the amount. */
function blankMg(d: Digestion, modes: Modes, analyte: Disturbed, c: Values): number {
  if (d.blank === 'none') return 0;
  const stock = c[`stock${analyte}`]!;
  const [first, second] = shiftsOfBlanks(d, modes, analyte, c) as [number, number];
  const perFlux = c.perFlux! + followedWeights.b_f[0] * first + followedWeights.b_f[1] * second;
  const perDigestion = c.perDigestion! + followedWeights.b_0[0] * first + followedWeights.b_0[1] * second;
  switch (d.blank) {
    case 'per flux mass':
      return ((perFlux + c.lot!) * stock + c.deviation!) * d.fluxG;
    case 'per digestion':
      return (perDigestion + c.lot!) * stock + c.deviation!;
    case 'per flux mass and digestion':
      return ((perFlux + c.lot!) * d.fluxG + perDigestion) * stock + c.deviation!;
  }
}
