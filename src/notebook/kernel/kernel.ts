import { type ChildProcess, spawn } from 'node:child_process';
import { randomBytes, randomUUID } from 'node:crypto';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import type { Dealer, Subscriber } from 'zeromq';
import { MeltbookError } from '../../errors.js';
import { decodeMessage, encodeMessage, type Message, request } from './message.js';

export interface KernelOptions {
  /** Program and arguments; the path of the connection file is added at the end. */
  readonly command: readonly [string, ...string[]];
  readonly cwd: string;
  readonly env: NodeJS.ProcessEnv;
  /** Longest time until the kernel answers. */
  readonly startSeconds: number;
}

/** How a kernel process ended. */
export interface KernelExit {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  /** What the process wrote on its own standard error, the last part of it. */
  readonly stderr: string;
}

/**
 * A Jupyter kernel as a child process, spoken to over sockets in a private temporary folder. No port is opened.
 *
 * @see Jupyter messaging protocol 5.3
 */
export class Kernel {
  /** Settles when the process has ended and its last messages have been heard. */
  readonly exit: Promise<KernelExit>;
  /** Hears every message that the kernel publishes. */
  onPublished: (message: Message) => void = () => undefined;
  private readonly session = randomUUID();
  private readonly replies = new Map<string, (message: Message) => void>();
  private lastPublished = 0;
  private ended = false;
  private stderr = '';

  private constructor(
    private readonly child: ChildProcess,
    private readonly key: string,
    private readonly shell: Dealer,
    private readonly control: Dealer,
    private readonly iopub: Subscriber,
  ) {
    child.stdout!.resume();
    child.stderr!.on('data', (text: Buffer) => {
      this.stderr = (this.stderr + text.toString('utf8')).slice(-8000);
    });
    this.exit = this.untilExit();
    this.listen(shell, (message) => this.replies.get(message.parent)?.(message));
    this.listen(control, (message) => this.replies.get(message.parent)?.(message));
    this.listen(iopub, (message) => {
      this.lastPublished = performance.now();
      this.onPublished(message);
    });
  }

  /**
   * Starts a kernel and waits until it answers on all its sockets.
   *
   * @throws MeltbookError the process cannot be started, ends, or does not answer in time
   */
  static async start(options: KernelOptions): Promise<Kernel> {
    const folder = await mkdtemp(join(tmpdir(), 'meltbook-'));
    try {
      const { key, path, address } = await connection(folder);
      const { Dealer, Subscriber } = await import('zeromq');
      const [program, ...args] = options.command;
      // A process group of its own: an interrupt at the terminal is ours to pass on, and no grandchild is left.
      const child = spawn(program, [...args, path], {
        cwd: options.cwd,
        env: options.env,
        stdio: ['ignore', 'pipe', 'pipe'],
        detached: true,
      });
      const sockets = [new Dealer({ linger: 0 }), new Dealer({ linger: 0 })] as const;
      const iopub = new Subscriber({ linger: 0, receiveHighWaterMark: 0 });
      iopub.subscribe();
      sockets[0].connect(address(1));
      sockets[1].connect(address(2));
      iopub.connect(address(3));
      const kernel = new Kernel(child, key, ...sockets, iopub);
      await kernel.untilReady(options.startSeconds);
      return kernel;
    } finally {
      // Connected sockets need their names no longer.
      await rm(folder, { recursive: true, force: true });
    }
  }

  /** The kernel's reply; never settles if the kernel ends before: race it with `exit`. */
  async ask(message: Message, channel: 'shell' | 'control' = 'shell'): Promise<Message> {
    const reply = new Promise<Message>((resolve) => this.replies.set(message.id, resolve));
    if (this.ended) return reply;
    await this[channel].send([...encodeMessage(message, this.session, this.key)]);
    return reply.finally(() => this.replies.delete(message.id));
  }

  /** Asks the running cell to stop, as the stop button does. */
  interrupt(): void {
    if (!this.ended) this.child.kill('SIGINT');
  }

  /**
   * Lets the kernel finish what was left running, then ends it.
   *
   * @param seconds longest time it is given
   * @returns how it ended; `null` where it was still busy and was killed
   */
  async shutDown(seconds: number): Promise<KernelExit | null> {
    void this.ask(request('shutdown_request', { restart: false }), 'control');
    const exit = await Promise.race([this.exit, delay(seconds * 1000, null, { ref: false })]);
    if (!exit) await this.kill();
    return exit;
  }

  /** Ends the process and all that it started, at once. */
  async kill(): Promise<void> {
    this.killGroup();
    await this.exit;
  }

  private killGroup(): void {
    if (this.ended || this.child.pid === undefined) return;
    try {
      process.kill(-this.child.pid, 'SIGKILL');
    } catch (cause) {
      // Nobody left in the group.
      if ((cause as NodeJS.ErrnoException).code !== 'ESRCH') throw cause;
    }
  }

  private async untilReady(seconds: number): Promise<void> {
    const heard = new Promise<void>((resolve) => {
      this.onPublished = () => resolve();
    });
    const ready = (async () => {
      await this.askUntilAnswered('control');
      // The first status may be published before our subscription has arrived: ask until one is heard.
      for (let found = false; !found; ) {
        await this.askUntilAnswered('shell');
        found = await Promise.race([heard.then(() => true), delay(100, false)]);
      }
    })();
    const late = delay(seconds * 1000, `did not answer within ${seconds} s`, { ref: false });
    const problem = await Promise.race([ready, this.exit.then(describeExit), late]);
    if (problem === undefined) return;
    await this.kill();
    throw new MeltbookError(`the kernel could not be started: it ${problem}`, 4);
  }

  /** A kernel that has bound its sockets but does not read them yet loses what arrives: ask again. */
  private async askUntilAnswered(channel: 'shell' | 'control'): Promise<void> {
    let answered = false;
    while (!answered && !this.ended) {
      const reply = this.ask(request('kernel_info_request'), channel).then(() => true);
      answered = await Promise.race([reply, delay(3000, false, { ref: false })]);
    }
  }

  private async untilExit(): Promise<KernelExit> {
    const [code, signal] = await new Promise<[number | null, NodeJS.Signals | null]>((resolve) => {
      // What the kernel started may outlive it and hold its output open.
      this.child.on('exit', () => this.killGroup());
      this.child.on('close', (...end) => resolve(end));
      // A program that is not there gives an error and no end.
      this.child.on('error', (cause) => {
        this.stderr += cause.message;
        resolve([null, null]);
      });
    });
    this.ended = true;
    this.lastPublished = performance.now();
    while (performance.now() - this.lastPublished < 100) await delay(20);
    for (const socket of [this.shell, this.control, this.iopub]) socket.close();
    return { code, signal, stderr: this.stderr };
  }

  private listen(socket: Dealer | Subscriber, hear: (message: Message) => void): void {
    const untilClosed = async () => {
      for await (const frames of socket) hear(decodeMessage(frames, this.key));
    };
    untilClosed().catch((cause: Error) => {
      this.stderr += cause.message;
      this.killGroup();
    });
  }
}

/** `exited (code 3)`, with the last words of the process below it; addresses inside Node itself are left out. */
export function describeExit({ code, signal, stderr }: KernelExit): string {
  const words = stderr.replace(/^-+ Native stack trace -+$[\s\S]*/m, '').trim();
  const how = signal ? `signal ${signal}` : `code ${code}`;
  return `exited (${how})${words ? `\n${words}` : ''}`;
}

/** A connection file that only this user can read, and the addresses it names. */
async function connection(folder: string) {
  const key = randomBytes(32).toString('hex');
  const path = join(folder, 'connection.json');
  const ip = join(folder, 'kernel');
  const ports = { shell_port: 1, control_port: 2, iopub_port: 3, stdin_port: 4, hb_port: 5 };
  const content = { transport: 'ipc', ip, ...ports, key, signature_scheme: 'hmac-sha256' };
  await writeFile(path, JSON.stringify(content), { mode: 0o600, flag: 'wx' });
  // The kernel joins folder and number with a colon.
  return { key, path, address: (port: number) => `ipc://${ip}:${port}` };
}
