// Reads a list of regular expressions from standard input and writes those
// that do not compile, with the reason.
import fs from 'node:fs';
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
const oniguruma = require('vscode-oniguruma');
await oniguruma.loadWASM(fs.readFileSync(require.resolve('vscode-oniguruma/release/onig.wasm')));
const bad = [];
for (const pattern of JSON.parse(fs.readFileSync(0, 'utf8'))) {
  try {
    new oniguruma.OnigScanner([pattern]).dispose();
  } catch (error) {
    bad.push(`${pattern}: ${error.message}`);
  }
}
process.stdout.write(JSON.stringify(bad));
