import type { ReferenceCase, ReferenceException } from '../../uncertainty/reference-case/reference-case.js';

interface Common {
  readonly title: string;
  readonly source: { readonly document: string; readonly edition: string; readonly clause: string };
  readonly figureTakenFrom: 'document read' | 'remembered and recomputed';
}

/** One printed figure; `uncertainty` where the source prints one with it. */
export interface OwnFigure {
  readonly name: string;
  readonly printed: string;
  readonly uncertainty?: string;
}

interface Figures {
  readonly published: readonly OwnFigure[];
  /** Printed figures that no exact calculation gives, each with its arithmetic in the file. */
  readonly exceptions?: readonly ReferenceException[];
}

/** Published examples beside the generic ones of the uncertainty engine. */
export type OwnCase = Common &
  (
    | (Figures & { readonly calculation: 'water density' | 'air density sensitivities' })
    | (Figures & { readonly calculation: 'detection factors'; readonly degreesOfFreedom: number })
    | (Figures & { readonly calculation: 'abridged atomic weights' })
    | (Figures & {
        readonly calculation: 'oxide factors';
        readonly conventionalAtomicWeights: Readonly<Record<string, number>>;
      })
  );

/** ISO 5725-2 example: laboratories × levels × results, and what is printed for each level. */
export type PrecisionCase = Common & {
  readonly inputs: { readonly lab_level_values: readonly (readonly (readonly number[])[])[] };
  readonly published: Readonly<Record<string, Readonly<Record<'m' | 's_r' | 's_R', string>>>>;
};

/** GUM H.3: a straight line and its value at one place. */
export type LineCase = Common & {
  readonly inputs: {
    readonly t_C: readonly number[];
    readonly b_C: readonly number[];
    readonly t0_C: number;
    readonly predict_at_C: number;
  };
  readonly published: Readonly<Record<'y1' | 's_y1' | 'y2' | 's_y2' | 's' | 'b30' | 'uc_b30', string>>;
};

/** QUAM example A5: calibration line and the uncertainty of a content read off it. */
export type CalibrationCase = Common & {
  readonly inputs: {
    readonly conc_mg_l: readonly number[];
    readonly absorbance_3_reps: readonly (readonly number[])[];
    readonly c0: number;
    readonly p: number;
  };
  readonly published: Readonly<Record<'B1' | 's_B1' | 'B0' | 's_B0' | 'S' | 'u_c0', string>>;
};

/** GUM H.5: days × observations, given by the mean and the standard deviation of each day. */
export type DaysCase = Common & {
  readonly inputs: { readonly day_mean_V: readonly number[]; readonly day_s_uV: readonly number[] };
  readonly published: Readonly<
    Record<
      'grand_mean_V' | 'sa_uV' | 'sb_uV' | 's_between_uV' | 'u_mean_between_uV' | 'u_mean_no_between_uV',
      string
    >
  >;
};

/** Everything the self-check computes anew. */
export interface PublishedCases {
  readonly generic: readonly ReferenceCase[];
  readonly own: readonly OwnCase[];
  readonly precision: PrecisionCase;
  readonly line: LineCase;
  readonly days: DaysCase;
  readonly calibration: CalibrationCase;
}
