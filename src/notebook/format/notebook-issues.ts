type Fields = Readonly<Record<string, unknown>>;

const cellFields: Record<string, readonly string[]> = {
  code: ['id', 'cell_type', 'metadata', 'source', 'outputs', 'execution_count'],
  markdown: ['id', 'cell_type', 'metadata', 'source', 'attachments'],
  raw: ['id', 'cell_type', 'metadata', 'source', 'attachments'],
};

const outputFields: Record<string, readonly string[]> = {
  stream: ['name', 'text'],
  display_data: ['data', 'metadata'],
  execute_result: ['data', 'metadata', 'execution_count'],
  error: ['ename', 'evalue', 'traceback'],
};

/**
 * What is wrong with a value as a notebook of format 4.5; empty where nothing is.
 *
 * The part of the format that meltbook relies on, stricter than the format nowhere. Every problem is listed.
 *
 * @param value parsed JSON
 * @see nbformat 4.5, "The notebook format"
 * @example
 * notebookIssues({ nbformat: 4, nbformat_minor: 5, metadata: {}, cells: [] }) // => []
 * @example
 * notebookIssues({ nbformat: 3, metadata: {}, worksheets: [] })[0] // => 'format: found 3.undefined, expected 4.5 or a later 4.x'
 */
export function notebookIssues(value: unknown): readonly string[] {
  if (!isFields(value)) return ['notebook: found no JSON object'];
  const issues: string[] = [];
  if (value.nbformat !== 4 || !isCount(value.nbformat_minor) || value.nbformat_minor < 5) {
    issues.push(`format: found ${value.nbformat}.${value.nbformat_minor}, expected 4.5 or a later 4.x`);
  }
  if (!isFields(value.metadata)) issues.push('metadata: expected an object');
  if (!Array.isArray(value.cells)) return [...issues, 'cells: expected a list'];
  const cells: readonly unknown[] = value.cells;
  const ids = cells.map((cell) => (isFields(cell) ? cell.id : undefined));
  for (const [i, cell] of cells.entries()) {
    const found = isFields(cell) ? cellIssues(cell) : ['expected an object'];
    if (ids[i] !== undefined && ids.indexOf(ids[i]) < i) found.push(`the id ${ids[i]} is already taken`);
    issues.push(...found.map((issue) => `cell ${i + 1}: ${issue}`));
  }
  return issues;
}

function cellIssues(cell: Fields): string[] {
  const issues: string[] = [];
  const allowed = cellFields[String(cell.cell_type)];
  if (!allowed) return [`kind: found ${cell.cell_type}, expected code, markdown or raw`];
  if (typeof cell.id !== 'string' || !/^[a-zA-Z0-9_-]{1,64}$/.test(cell.id)) {
    issues.push(`id: found ${cell.id}, expected 1 to 64 letters, digits, "-" or "_"`);
  }
  if (!isFields(cell.metadata)) issues.push('metadata: expected an object');
  if (!isText(cell.source)) issues.push('source: expected text');
  issues.push(...unknownFields(cell, allowed));
  if (cell.cell_type === 'code') issues.push(...codeIssues(cell));
  return issues;
}

function codeIssues(cell: Fields): string[] {
  const issues: string[] = [];
  if (cell.execution_count !== null && !isCount(cell.execution_count)) {
    issues.push('execution_count: expected null or a whole number');
  }
  if (!Array.isArray(cell.outputs)) return [...issues, 'outputs: expected a list'];
  for (const output of cell.outputs as unknown[]) {
    const needed = isFields(output) ? outputFields[String(output.output_type)] : undefined;
    if (!isFields(output) || !needed) {
      issues.push('output: expected stream, display_data, execute_result or error');
      continue;
    }
    const missing = needed.filter((field) => !(field in output));
    if (missing.length > 0) issues.push(`${output.output_type}: without ${missing.join(', ')}`);
    issues.push(...unknownFields(output, [...needed, 'output_type']));
  }
  return issues;
}

function unknownFields(fields: Fields, allowed: readonly string[]): string[] {
  const found = Object.keys(fields).filter((name) => !allowed.includes(name));
  return found.map((name) => `${name}: not a field of ${fields.cell_type ?? fields.output_type}`);
}

function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isText(value: unknown): boolean {
  return (
    typeof value === 'string' || (Array.isArray(value) && value.every((line) => typeof line === 'string'))
  );
}

function isCount(value: unknown): value is number {
  return Number.isInteger(value) && (value as number) >= 0;
}
