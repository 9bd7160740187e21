import { performance } from 'node:perf_hooks';

/**
 * Holds back printed text for a short time, so that ten thousand printed lines travel as a few messages. The
 * order of the two streams is kept.
 */
export class StreamBuffer {
  private parts: { name: 'stdout' | 'stderr'; text: string }[] = [];
  private since = 0;
  private timer: NodeJS.Timeout | undefined;

  /**
   * @param send takes what has gathered, a stream at a time
   * @param milliseconds the longest time for which text is held back
   */
  constructor(
    private readonly send: (name: 'stdout' | 'stderr', text: string) => void,
    private readonly milliseconds = 50,
  ) {}

  write(name: 'stdout' | 'stderr', text: string): void {
    const last = this.parts.at(-1);
    if (last?.name === name) last.text += text;
    else this.parts.push({ name, text });
    if (this.parts.length === 1 && !last) this.since = performance.now();
    // A cell that never pauses lets no timer fire: the clock is looked at on each write.
    if (performance.now() - this.since >= this.milliseconds) this.flush();
    else this.timer ??= setTimeout(() => this.flush(), this.milliseconds).unref();
  }

  flush(): void {
    clearTimeout(this.timer);
    this.timer = undefined;
    const parts = this.parts;
    this.parts = [];
    for (const { name, text } of parts) this.send(name, text);
  }
}
