'use strict';
// A process that writes issues and, where it is told so, kills itself at one step of its work on files.
const files = require('node:fs/promises');
const { join } = require('node:path');

const [compiled, root, count, stepText, moment] = process.argv.slice(2);
const step = Number(stepText);
let steps = 0;

const die = () => {
  process.kill(process.pid, 'SIGKILL');
  return new Promise(() => {});
};

/** Wraps one function so that the step it makes may be the last: when it is done, or when half of it is. */
function watch(owner, name, half) {
  const original = owner[name];
  owner[name] = async function (...given) {
    steps += 1;
    if (steps !== step) return original.apply(this, given);
    await original.apply(this, moment === 'half-way through' ? half(given) : given);
    return die();
  };
}

async function main() {
  const handle = await files.open(__filename, 'r');
  const prototype = Object.getPrototypeOf(handle);
  await handle.close();
  const firstHalf = (content) => content.slice(0, Math.floor(content.length / 2));
  watch(prototype, 'writeFile', ([content, ...rest]) => [firstHalf(content), ...rest]);
  if (moment !== 'half-way through') {
    for (const name of ['mkdir', 'open', 'link', 'symlink', 'rename', 'unlink', 'rm']) watch(files, name);
    watch(prototype, 'sync');
  }
  const { writeIssue } = require(join(compiled, 'report/issue/write-issue.js'));
  for (let i = 0; i < Number(count); i++) {
    await writeIssue({
      root,
      study: 'demo',
      created: '2026-01-02T03:04:05Z',
      versions: { meltbook: '0.1.0' },
      seed: 1,
      parameters: { process: process.pid },
      records: [],
      files: (number) => ({ 'report.html': `report ${number}`, 'tables/a.csv': 'x\r\n1\r\n' }),
    });
  }
  process.stdout.write(String(steps));
}

main();
