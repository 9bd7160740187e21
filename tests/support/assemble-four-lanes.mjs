// Writes the WebAssembly of the simulation's draws from its source. usage: npm run wasm
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import wabt from 'wabt';

const folder = join(dirname(fileURLToPath(import.meta.url)), '../../src/uncertainty/simulation/draws/lanes');

/** The module as bytes in base64. */
export async function assembleFourLanes() {
  const text = readFileSync(join(folder, 'four-lanes.wat'), 'utf8');
  const module = (await wabt()).parseWat('four-lanes.wat', text, { simd: true });
  module.validate();
  return Buffer.from(module.toBinary({}).buffer).toString('base64');
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const lines = (await assembleFourLanes()).match(/.{1,100}/g).map((line) => `  '${line}'`);
  writeFileSync(
    join(folder, 'four-lanes-module.ts'),
    `/** What \`npm run wasm\` makes of \`four-lanes.wat\`, in base64; a test compares them. */\nexport const fourLanesModule =\n${lines.join(' +\n')};\n`,
  );
}
