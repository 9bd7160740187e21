import { format, inspect } from 'node:util';
import {
  type KernelHandler,
  type KernelMessage,
  type KernelServer,
  kernelInternals,
  type WriteDisplay,
  type WriteStream,
} from './kernel-internals.js';
import { watchParent } from './parent-watch.js';
import { StreamBuffer } from './stream-buffer.js';

/*
 * Starts the tslab kernel: `node kernel-launcher.js <connection file>`. As it comes, the kernel loses messages
 * beyond some 500 in one synchronous stretch, gives no reason with a failed cell, lets a rejection that nobody
 * handles pass as success, and outlives the process that started it. Here these are put right, for our runner and
 * for Jupyter alike. Its kernel specification stands in .jupyter/kernels/tslab.
 */

interface Problem {
  readonly ename: string;
  readonly evalue: string;
  readonly traceback: readonly string[];
}

/** The cell that runs, or ran last: what work left running prints or throws goes to it. */
interface Cell {
  readonly problems: Problem[];
  readonly buffer: StreamBuffer;
  readonly publish: (problem: Problem) => void;
}

let cell: Cell | undefined;
/** What the type check says about the present cell, a line a finding: one cell gets one error. */
const diagnostics: string[] = [];
const publishers = new WeakMap<object, Cell['publish']>();
const replies = new WeakMap<object, readonly Problem[]>();

function fail(problem: Problem): void {
  if (!cell) process.stderr.write(`${problem.traceback.join('\n')}\n`);
  cell?.problems.push(problem);
  cell?.buffer.flush();
  cell?.publish(problem);
}

/** Lines of a stack that lead through Node and the kernel, not through a cell or a module. */
const inner = /^\s+at .*(?:node:|[\\/]tslab[\\/]dist[\\/]|kernel-launcher)/;

function thrown(value: unknown, kind?: string): Problem {
  if (!(value instanceof Error)) {
    const text = inspect(value);
    return { ename: kind ?? 'Thrown', evalue: text, traceback: text.split('\n') };
  }
  const lines = (value.stack ?? String(value)).split('\n').filter((line) => !inner.test(line));
  const cause = value.cause === undefined ? [] : ['Caused by:', ...thrown(value.cause).traceback];
  return { ename: kind ?? value.name, evalue: value.message, traceback: [...lines, ...cause] };
}

function refused(findings: string): Problem {
  return { ename: 'TypeScript', evalue: findings, traceback: [`TypeScript: ${findings}`] };
}

/** Every message leaves at once: neither a full queue nor a slow turn of the event loop drops one. */
function mendSockets(server: KernelServer): void {
  const bind = server.bindSocket;
  server.bindSocket = async function (this: KernelServer, socket, port) {
    if (socket === this.iopub) Object.assign(socket, { sendHighWaterMark: 0, sendTimeout: 0 });
    await bind.call(this, socket, port);
  };
  const execute = server.handleExecute;
  server.handleExecute = function (this: KernelServer, socket, message) {
    publishers.set(message.content, (problem) => publish(this, message, 'error', problem));
    return execute.call(this, socket, message);
  };
  // The publishing socket stays open until nothing is left to do, so that late output and late errors are heard.
  server.close = function (this: KernelServer) {
    this.handler.close();
    for (const socket of [this.shell, this.control, this.stdin, this.hb]) socket.close();
  };
}

function publish(server: KernelServer, parent: KernelMessage, type: string, content: unknown): void {
  const message = parent.createReply();
  message.header.msg_type = type;
  message.content = content;
  message.signAndSend(server.connInfo.key, server.iopub);
}

function mendCells(handler: KernelHandler): void {
  const run = handler.handleExecuteImpl;
  handler.handleExecuteImpl = async function (this: KernelHandler, request, stream, display) {
    const own = begin(request, stream);
    const show: WriteDisplay = (data, update) => {
      own.buffer.flush();
      display(data, update);
    };
    try {
      const count = await run.call(this, request, (name, text) => own.buffer.write(name, text), show);
      // A rejection that nobody handles is reported at the end of the present turn: the reply waits for it.
      await new Promise(setImmediate);
      if (own.problems.length > 0) throw count;
      return count;
    } finally {
      own.buffer.flush();
      if (diagnostics.length > 0) fail(refused(diagnostics.splice(0).join('\n')));
    }
  };
  const execute = handler.handleExecute;
  handler.handleExecute = async function (this: KernelHandler, request, stream, display) {
    const reply = await execute.call(this, request, stream, display);
    return reply.status === 'error' ? { ...reply, ...replies.get(request)?.[0] } : reply;
  };
}

function begin(request: object, stream: WriteStream): Cell {
  cell?.buffer.flush();
  const problems: Problem[] = [];
  replies.set(request, problems);
  cell = { problems, buffer: new StreamBuffer(stream), publish: publishers.get(request)! };
  return cell;
}

/** The kernel tells what is wrong with a cell only through the console that it finds when it starts. */
function startWith(report: (...parts: unknown[]) => void, start: () => void): void {
  const { console: sink } = globalThis;
  const { error } = sink;
  sink.error = report;
  start();
  sink.error = error;
}

function main(connectionFile: string): void {
  watchParent();
  const { server, handler, start } = kernelInternals();
  mendSockets(server);
  mendCells(handler);
  startWith(
    (...parts) => (parts.length > 1 ? diagnostics.push(format(...parts)) : fail(thrown(parts[0]))),
    () => start({ configPath: connectionFile, enableFindLocal: false }),
  );
  for (const [event, kind] of [
    ['uncaughtException', 'UncaughtException'],
    ['unhandledRejection', 'UnhandledPromiseRejection'],
  ] as const) {
    process.removeAllListeners(event);
    process.on(event, (reason: unknown) => fail(thrown(reason, kind)));
  }
  process.on('exit', () => cell?.buffer.flush());
}

if (require.main === module) main(process.argv[2]!);
