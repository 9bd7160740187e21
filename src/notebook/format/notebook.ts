/** Metadata is free-form; what we read of it: `tags` of a cell, `kernelspec` and `language_info` of a notebook. */
export type Metadata = Readonly<Record<string, unknown>>;

export interface StreamOutput {
  readonly output_type: 'stream';
  readonly name: 'stdout' | 'stderr';
  readonly text: string;
}

/** `data` has one representation a media type: text as a string, JSON types as they are. */
export interface DisplayOutput {
  readonly output_type: 'display_data';
  readonly data: Readonly<Record<string, unknown>>;
  readonly metadata: Metadata;
}

export interface ExecuteResultOutput {
  readonly output_type: 'execute_result';
  readonly execution_count: number | null;
  readonly data: Readonly<Record<string, unknown>>;
  readonly metadata: Metadata;
}

export interface ErrorOutput {
  readonly output_type: 'error';
  readonly ename: string;
  readonly evalue: string;
  readonly traceback: readonly string[];
}

export type Output = StreamOutput | DisplayOutput | ExecuteResultOutput | ErrorOutput;

export interface CodeCell {
  readonly cell_type: 'code';
  readonly id: string;
  readonly metadata: Metadata;
  readonly source: string;
  readonly execution_count: number | null;
  readonly outputs: readonly Output[];
}

export interface TextCell {
  readonly cell_type: 'markdown' | 'raw';
  readonly id: string;
  readonly metadata: Metadata;
  readonly source: string;
  readonly attachments?: Readonly<Record<string, unknown>>;
}

export type NotebookCell = CodeCell | TextCell;

/**
 * A notebook of format 4.5 or a later 4.x, with every text joined to one string.
 *
 * @see nbformat 4.5, "The notebook format"
 */
export interface Notebook {
  readonly nbformat: 4;
  readonly nbformat_minor: number;
  readonly metadata: Metadata;
  readonly cells: readonly NotebookCell[];
}

/**
 * Tags of a cell, none where its metadata name none.
 *
 * @example
 * tagsOf({ cell_type: 'code', id: 'a', metadata: { tags: ['parameters'] }, source: '', execution_count: null, outputs: [] }) // => ['parameters']
 */
export function tagsOf(cell: NotebookCell): readonly string[] {
  const tags = cell.metadata.tags;
  return Array.isArray(tags) ? tags.filter((tag): tag is string => typeof tag === 'string') : [];
}
