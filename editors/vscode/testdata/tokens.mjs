// Reads [{lines, places: [[line, column], …]}, …] from standard input and
// writes the scopes at each place, by the library that VS Code highlights with.
import fs from 'node:fs';
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
const oniguruma = require('vscode-oniguruma');
const textmate = require('vscode-textmate');

await oniguruma.loadWASM(fs.readFileSync(require.resolve('vscode-oniguruma/release/onig.wasm')));
const grammarFile = new URL('../syntaxes/hem.tmLanguage.json', import.meta.url);
const registry = new textmate.Registry({
  onigLib: Promise.resolve({
    createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
    createOnigString: (text) => new oniguruma.OnigString(text),
  }),
  loadGrammar: async () => textmate.parseRawGrammar(fs.readFileSync(grammarFile, 'utf8'), 'hem.json'),
});
const grammar = await registry.loadGrammar('source.hem');

const samples = JSON.parse(fs.readFileSync(0, 'utf8'));
process.stdout.write(JSON.stringify(samples.map(({ lines, places }) => {
  let state = textmate.INITIAL;
  const tokens = lines.map((line) => {
    const result = grammar.tokenizeLine(line, state);
    state = result.ruleStack;
    return result.tokens;
  });
  return places.map(([line, column]) => tokens[line].find((t) => t.startIndex <= column && column < t.endIndex).scopes.join(' '));
})));
