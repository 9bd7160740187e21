import { createRequire } from 'node:module';

/**
 * The parts of tslab that the launcher reaches into. None is public: the version is pinned, and the tests of the
 * runner fail where a later one differs.
 */
export interface KernelMessage {
  readonly content: object;
  createReply(): {
    header: { msg_type: string };
    content: unknown;
    signAndSend(key: string, s: unknown): void;
  };
}

export interface KernelSocket {
  sendHighWaterMark: number;
  sendTimeout: number;
  close(): void;
}

export interface KernelServer {
  readonly connInfo: { readonly key: string };
  readonly iopub: KernelSocket;
  readonly handler: { close(): void };
  readonly shell: KernelSocket;
  readonly control: KernelSocket;
  readonly stdin: KernelSocket;
  readonly hb: KernelSocket;
  bindSocket(socket: KernelSocket, port: number): Promise<void>;
  handleExecute(socket: KernelSocket, message: KernelMessage): Promise<void>;
  close(): void;
}

export type WriteStream = (name: 'stdout' | 'stderr', text: string) => void;
export type WriteDisplay = (data: unknown, update: boolean) => void;

export interface KernelHandler {
  handleExecute(request: object, stream: WriteStream, display: WriteDisplay): Promise<{ status: string }>;
  /** Resolves to the execution count of a cell that went well; throws the count of one that did not. */
  handleExecuteImpl(request: object, stream: WriteStream, display: WriteDisplay): Promise<unknown>;
}

export interface KernelInternals {
  readonly server: KernelServer;
  readonly handler: KernelHandler;
  start(options: { configPath: string; enableFindLocal: boolean }): void;
}

/** The prototypes of tslab's server and handler, and its start. */
export function kernelInternals(): KernelInternals {
  const load = createRequire(__filename);
  const jupyter = load('tslab/dist/jupyter.js') as {
    ZmqServer: { prototype: KernelServer };
    JupyterHandlerImpl: { prototype: KernelHandler };
  };
  const main = load('tslab/dist/main.js') as { startKernel: KernelInternals['start'] };
  return {
    server: jupyter.ZmqServer.prototype,
    handler: jupyter.JupyterHandlerImpl.prototype,
    start: main.startKernel,
  };
}
