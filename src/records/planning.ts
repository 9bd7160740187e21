/** What the laboratory expects of one analyte before the work. Percentages are of the content, standard deviations one sigma. */
export interface Expectation {
  readonly analyte: string;
  /** Level it holds for, or `*`. */
  readonly level: string;
  /** Standard deviation between days, and between digestions of one day. */
  readonly dayPercent: number;
  readonly digestionPercent: number;
  /** Largest bias thought likely. */
  readonly biasPercent: number;
  /** Standard uncertainty of the certified value. */
  readonly certifiedPercent: number;
  /** Standard deviation of the recovery of one addition, and standard uncertainty of the amounts added; null where nothing is added. */
  readonly recoveryPercent: number | null;
  readonly additionPercent: number | null;
  /** Standard deviation over runs of a calibration solution read back at its worst level. */
  readonly calibrationPercent: number;
  /** Limit of quantification, in the unit of the analyte. */
  readonly limitOfQuantification: number;
  /** Where the figures come from: pilot work, a similar matrix, judgement. */
  readonly source: string;
}

/** How the validation is planned: what is expected, what the line can do. */
export interface PlanningRecord {
  /** Probability wanted of each criterion that it is shown, if the expectations are right. */
  readonly power: number;
  readonly mostDays: number;
  readonly mostDigestionsPerDayAndLevel: number;
  /** Digestions that the line does in one day, duration of a fusion, crucibles fused at once. */
  readonly digestionsADay: number;
  readonly minutesPerFusion: number;
  readonly cruciblesAtOnce: number;
  readonly referenceMaterials: number;
  /** Digestions beyond precision, trueness, spikes and blanks: memory, stability, native check, ruggedness. */
  readonly otherDigestions: number;
  readonly expectations: readonly Expectation[];
}
