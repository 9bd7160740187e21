import type { Terminal } from './command.js';

/** Exit code of a run that was stopped at the terminal, as shells count it: 128 and the number of SIGINT. */
export const stoppedCode = 130;

/**
 * Does a piece of work that ends in a report, and says at Ctrl-C that none was issued. A report that is already being
 * written is finished: what the ledger names must stand.
 *
 * @param isWriting whether the calculation is over and the report is being written
 */
export async function untilStopped<T>(
  terminal: Terminal,
  isWriting: () => boolean,
  work: () => Promise<T>,
): Promise<T> {
  const stop = (): void => {
    if (isWriting()) {
      terminal.err('the report is being written and will be finished');
    } else {
      terminal.err('stopped: no report issued');
      process.exit(stoppedCode);
    }
  };
  process.on('SIGINT', stop);
  try {
    return await work();
  } finally {
    process.off('SIGINT', stop);
  }
}
