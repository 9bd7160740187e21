import type { Budget } from '../uncertainty/budget.js';
import type { Verdict } from '../validation/finding.js';

/**
 * A cell of a table: text, or a number shown with `digits` significant digits and kept whole in JSON and CSV.
 * `link` is the identifier of the section, table or figure that the text leads to.
 */
export type Cell =
  | { readonly kind: 'text'; readonly text: string; readonly link?: string }
  | { readonly kind: 'number'; readonly value: number; readonly digits: number }
  | { readonly kind: 'verdict'; readonly verdict: Verdict }
  | { readonly kind: 'empty'; readonly reason: string };

export interface Column {
  readonly heading: string;
  /** Unit of the numbers below, empty where there is none. */
  readonly unit: string;
}

/** A table; also the fallback of each figure and the content of one CSV file. */
export interface Table {
  readonly kind: 'table';
  /** Stable identifier: anchor in HTML and name of the CSV file. */
  readonly id: string;
  readonly caption: string;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
  readonly notes: readonly string[];
  /** Column whose equal neighbours are gathered under one heading row on the page; CSV and JSON keep the column. */
  readonly groupedBy?: number;
}

/** A figure drawn by plotly; `traces` and `layout` are plotly's own JSON. Its table holds every number drawn. */
export interface Figure {
  readonly kind: 'figure';
  readonly id: string;
  readonly caption: string;
  readonly traces: readonly Readonly<Record<string, unknown>>[];
  readonly layout: Readonly<Record<string, unknown>>;
  readonly table: Table;
}

export type Block =
  | { readonly kind: 'paragraph'; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  | { readonly kind: 'facts'; readonly facts: readonly { readonly name: string; readonly value: string }[] }
  | { readonly kind: 'caution'; readonly text: string }
  | { readonly kind: 'equation'; readonly name: string; readonly expression: string; readonly unit: string }
  | { readonly kind: 'signatures'; readonly roles: readonly string[] }
  | {
      readonly kind: 'budget';
      readonly id: string;
      readonly caption: string;
      readonly budget: Budget;
      readonly target: number | null;
    }
  | Table
  | Figure;

export interface Section {
  /** Stable identifier: anchor in HTML. */
  readonly id: string;
  readonly heading: string;
  /** ISO/IEC 17025:2017 item this section answers, empty where there is none. */
  readonly clause: string;
  readonly blocks: readonly Block[];
  readonly sections: readonly Section[];
  /** Print begins a new page here. */
  readonly startsPage?: boolean;
}

/** A report before rendering. `data` is carried whole into the JSON, at full precision. */
export interface ReportDocument {
  readonly title: string;
  readonly subtitle: string;
  /** Printed on every page, such as "Invented demonstration data". Empty where there is none. */
  readonly banner: string;
  readonly facts: readonly { readonly name: string; readonly value: string }[];
  readonly sections: readonly Section[];
  readonly data: unknown;
}
