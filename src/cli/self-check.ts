import { runSelfCheck } from '../notebook/run-self-check.js';
import { type Command, parseArguments } from './command.js';

const usage = 'self-check [--json]';

/** Recomputes the published examples; exit code 5 where one does not agree. */
export const selfCheck: Command = {
  name: 'self-check',
  usage,
  summary: 'Computes published examples on this machine and compares them with the printed figures.',
  async run(args, terminal) {
    const parsed = parseArguments(args, { json: { type: 'boolean' } }, 0, usage);
    const rows = await runSelfCheck();
    const wrong = rows.filter((row) => !row.holds);
    if (parsed.values.json === true) {
      terminal.out(JSON.stringify(rows, null, 2));
    } else {
      for (const row of rows) {
        const mark = row.holds ? 'agrees  ' : 'DIFFERS ';
        terminal.out(
          `${mark} ${row.published.padStart(12)} ${row.computed.toPrecision(8).padStart(14)}  ${row.source}, ${row.clause}: ${row.quantity}`,
        );
      }
      const remembered = rows.filter((row) => row.figureTakenFrom !== 'document read').length;
      terminal.out(
        `${rows.length - wrong.length} of ${rows.length} published figures agree; ${remembered} of them were remembered: compare those with your own copy of the document.`,
      );
    }
    return wrong.length === 0 ? 0 : 5;
  },
};
