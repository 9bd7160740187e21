// Refuses two executed copies of one notebook that print or show different things: node compare-outputs.cjs A B
const { readFileSync } = require('node:fs');

/** Text of an output; the time of the run is the one thing that two runs never share. */
const text = (lines) =>
  (Array.isArray(lines) ? lines.join('') : (lines ?? '')).replace(/\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ/g, 'TIME');

/** What a reader sees, apart from the one thing that Jupyter does and the runner does not: numbering displays. */
function seen(path) {
  return JSON.parse(readFileSync(path, 'utf8')).cells.map((cell) =>
    (cell.outputs ?? []).map((output) =>
      output.data
        ? Object.entries(output.data).map(([type, value]) => [type, text(value)])
        : text(output.text),
    ),
  );
}

const [a, b] = process.argv.slice(2).map(seen);
for (const [i, outputs] of a.entries()) {
  if (JSON.stringify(outputs) !== JSON.stringify(b[i])) {
    process.stderr.write(`cell ${i + 1}\n${JSON.stringify(outputs)}\n${JSON.stringify(b[i])}\n`);
    process.exitCode = 1;
  }
}
