import { join } from 'node:path';
import { MeltbookError } from '../errors.js';
import { writeRunHistory } from '../studies/run-history/write-run-history.js';
import { type Command, parseArguments } from './command.js';
import { stoppedCode } from './until-stopped.js';

const usage = 'history <study folder> <new folder>';

/** Works out many runs one after the other; their results and control results become CSV. */
export const history: Command = {
  name: 'history',
  usage,
  summary:
    'Works out the runs of a study one after the other, be they a year of them, and writes their results with standard uncertainties and remarks and their control history as CSV into a new folder. Each run stands alone, with its own blanks and calibration. It needs the plain case: internal standard on line, calibration in mg/kg, one line an analyte, no planned recovery.',
  async run(args, terminal) {
    const [study, folder] = parseArguments(args, {}, 2, usage).positionals as [string, string];
    const stop = new AbortController();
    const abort = (): void => stop.abort(new MeltbookError('stopped: nothing written', stoppedCode));
    process.on('SIGINT', abort);
    try {
      const found = await writeRunHistory(study, folder, { signal: stop.signal });
      const { runs, days, results, remarked, controlResults, invented } = found;
      if (invented) terminal.out('Invented data: no real laboratory, sample or result.');
      const period = days === null ? '' : ` from ${days[0]} to ${days[1]}`;
      terminal.out(`${runs} run(s)${period}: ${results} results, ${controlResults} control results`);
      if (remarked > 0) terminal.out(`${remarked} of the results bear a remark: about.md counts them`);
      for (const file of ['results.csv', 'history.csv', 'about.md']) terminal.out(join(folder, file));
      terminal.out('Controls are not judged here; results that go out come from notebook 40.');
      return 0;
    } finally {
      process.off('SIGINT', abort);
    }
  },
};
