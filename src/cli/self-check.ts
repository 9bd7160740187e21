import { runSelfCheck } from '../notebook/run-self-check.js';
import { selfCheckSummary } from '../studies/self-check/summary.js';
import { type Command, parseArguments } from './command.js';

const usage = 'self-check [--json]';

/** Recomputes the published examples; exit code 5 where one differs. */
export const selfCheck: Command = {
  name: 'self-check',
  usage,
  summary: 'Computes published examples on this machine and compares them with the printed figures.',
  async run(args, terminal) {
    const parsed = parseArguments(args, { json: { type: 'boolean' } }, 0, usage);
    const rows = await runSelfCheck();
    const { counts, remembered, text } = selfCheckSummary(rows);
    if (parsed.values.json === true) {
      terminal.out(JSON.stringify(rows, null, 2));
    } else {
      for (const row of rows) {
        const mark = row.agreement === 'differs' ? 'DIFFERS' : row.agreement;
        terminal.out(
          `${mark.padEnd(26)} ${row.published.padStart(12)} ${row.computed.toPrecision(8).padStart(14)}  ${row.source}, ${row.clause}: ${row.quantity}`,
        );
      }
      terminal.out(
        `${text[0]!.toUpperCase()}${text.slice(1)}. ${remembered} are cited from memory, written down without the document at hand: compare those with your own copy before you rely on them.`,
      );
    }
    return counts.differs === 0 ? 0 : 5;
  },
};
