// Bundles the extension into out/, with the licences of what is bundled.
import { build } from 'esbuild';
import fs from 'node:fs';
import path from 'node:path';

process.chdir(import.meta.dirname ?? path.dirname(new URL(import.meta.url).pathname));
fs.rmSync('out', { recursive: true, force: true });
const { metafile } = await build({
  entryPoints: ['src/extension.js'],
  outfile: 'out/extension.js',
  bundle: true,
  platform: 'node',
  format: 'cjs',
  target: 'node18',
  external: ['vscode'],
  minify: true,
  legalComments: 'none',
  metafile: true,
});

// Every package in the bundle asks that its notice goes with it.
const packages = new Set();
for (const input of Object.keys(metafile.inputs)) {
  const found = /^(?:.*\/)?node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(input);
  if (found) packages.add(input.slice(0, found[0].length - 1));
}
const notices = [...packages].sort().map((folder) => {
  const { name, version, license } = JSON.parse(fs.readFileSync(path.join(folder, 'package.json'), 'utf8'));
  const file = fs.readdirSync(folder).find((f) => /^licen[cs]e/i.test(f));
  if (!file) throw new Error(`${name} has no licence file`);
  return `${name} ${version} (${license})\n\n${fs.readFileSync(path.join(folder, file), 'utf8').trim()}\n`;
});
fs.writeFileSync('out/NOTICES.txt', notices.join(`\n${'-'.repeat(78)}\n\n`));
fs.copyFileSync('../../LICENSE', 'LICENSE');
