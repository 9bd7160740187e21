// Executes a notebook by the project's own runner: node run-notebook.cjs NOTEBOOK RESULT
const { dirname, resolve } = require('node:path');
const { readNotebook } = require('../dist/notebook/format/read-notebook.js');
const { runNotebook } = require('../dist/notebook/run-notebook.js');
const { writeNotebook } = require('../dist/notebook/format/write-notebook.js');

async function main([path, result]) {
  const run = await runNotebook({ source: await readNotebook(path), cwd: dirname(resolve(path)) });
  await writeNotebook(result, run.notebook);
  if (!run.ok)
    throw new Error(`${path}, cell ${run.failure.cell}: ${run.failure.message}\n${run.failure.source}`);
}

main(process.argv.slice(2)).catch((error) => {
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 1;
});
