/** One row left out of the calculations, with who, when and the technical cause. */
export interface ExclusionRecord {
  readonly table: string;
  /** Key of the row in its table, such as a digestion; a vertical bar joins the parts of a key of several columns (`D-013|Ca`). */
  readonly rowKey: string;
  readonly who: string;
  /** ISO date. */
  readonly when: string;
  readonly technicalCause: string;
}
