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
