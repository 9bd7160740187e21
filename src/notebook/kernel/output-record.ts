import type { DisplayOutput, ErrorOutput, Output } from '../format/notebook.js';
import type { Message } from './message.js';

/** Gathers what a kernel publishes into the outputs of the cells. */
export class OutputRecord {
  private readonly outputs: Output[][];
  /** Where each display that can be overwritten stands. */
  private readonly displays = new Map<string, { cell: number; at: number }[]>();

  constructor(cells: number) {
    this.outputs = Array.from({ length: cells }, () => []);
  }

  /** Outputs of a cell so far. */
  of(cell: number): readonly Output[] {
    return this.outputs[cell]!;
  }

  /** Takes a published message of a cell; status messages are passed over. */
  add(cell: number, message: Message): void {
    const { content } = message;
    if (message.type === 'stream') this.print(cell, content.name as 'stdout', String(content.text));
    if (message.type === 'error') this.addError(cell, content as unknown as ErrorOutput);
    if (message.type === 'display_data') this.display(cell, content);
    if (message.type === 'update_display_data') this.overwrite(content);
  }

  /** Adds printed text, to the output before where that is the same stream. */
  print(cell: number, name: 'stdout' | 'stderr', text: string): void {
    const list = this.outputs[cell]!;
    const last = list.at(-1);
    if (last?.output_type === 'stream' && last.name === name) {
      list[list.length - 1] = { ...last, text: last.text + text };
    } else list.push({ output_type: 'stream', name, text });
  }

  addError(cell: number, error: Pick<ErrorOutput, 'ename' | 'evalue' | 'traceback'>): void {
    const { ename, evalue, traceback } = error;
    this.outputs[cell]!.push({ output_type: 'error', ename, evalue, traceback });
  }

  private display(cell: number, content: Message['content']): void {
    const at = this.outputs[cell]!.push(displayOutput(content)) - 1;
    const id = displayId(content);
    if (id) this.displays.set(id, [...(this.displays.get(id) ?? []), { cell, at }]);
  }

  private overwrite(content: Message['content']): void {
    for (const { cell, at } of this.displays.get(displayId(content)) ?? []) {
      this.outputs[cell]![at] = displayOutput(content);
    }
  }
}

function displayOutput(content: Message['content']): DisplayOutput {
  const { data, metadata } = content as unknown as DisplayOutput;
  return { output_type: 'display_data', data, metadata };
}

function displayId(content: Message['content']): string {
  return (content.transient as { display_id?: string } | undefined)?.display_id ?? '';
}
