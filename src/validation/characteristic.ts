/** Names of the performance characteristics, exactly as the criteria of a plan spell them. */
export const characteristics = [
  'repeatability',
  'intermediate precision',
  'trueness',
  'recovery before fusion',
  'recovery after dissolution',
  'linearity',
  'limit of quantification',
  'procedure blank',
  'target uncertainty',
  'second line',
  'interference check',
  'crucible memory',
  'carry-over',
  'solution stability',
  'native internal standard',
  'internal standard recovery',
  'check solution',
  'total of oxides',
  'weighing of the portion',
  'shift after change',
  'precision after change',
  'matrix effect',
  'ruggedness',
  'homogeneity',
  'second-source standard',
  'sample trend',
  'method comparison',
  'trueness over the range',
] as const;

/** One performance characteristic that a criterion can be set for. */
export type Characteristic = (typeof characteristics)[number];

/**
 * Characteristics whose estimate lies on either side of 0: a criterion with one edge would leave the other side open, so that
 * a bias of −50 % keeps "at most 4 %".
 */
export const signedCharacteristics: ReadonlySet<string> = new Set<Characteristic>([
  'trueness',
  'trueness over the range',
  'linearity',
  'second line',
  'interference check',
  'check solution',
  'shift after change',
  'ruggedness',
  'second-source standard',
  'sample trend',
  'method comparison',
]);
