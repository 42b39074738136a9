// Makes page/lib: what the solid view takes from npm, as one script that needs
// no network, and the licences beside it. The lock file pins what goes in; the
// same lock file gives the same bytes, which a test holds.
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const here = path.dirname(fileURLToPath(import.meta.url));
export const kept = path.join(here, '..', 'page', 'lib');
const WORKS = { 'twgl.js': 'LICENSE.md', earcut: 'LICENSE' };

// What of them the page uses; the rest is left out.
const ENTRY = `
export { createProgramInfo, createVertexArrayInfo, createBufferInfoFromArrays, setBuffersAndAttributes, setUniforms, drawBufferInfo, resizeCanvasToDisplaySize } from 'twgl.js';
export { default as earcut } from 'earcut';
`;

const version = (name) => JSON.parse(fs.readFileSync(path.join(here, 'node_modules', name, 'package.json'), 'utf8')).version;

export async function bundled() {
  const names = Object.keys(WORKS).map((n) => `${n} ${version(n)}`);
  const { outputFiles: [file] } = await build({
    stdin: { contents: ENTRY, resolveDir: here }, bundle: true, minify: true, write: false, legalComments: 'none',
    format: 'iife', globalName: 'lib', target: 'es2022', charset: 'ascii',
    banner: { js: `// ${names.join(', ')}: made by npm run bundle in lsp/picture/browser; licences beside it` },
  });
  const licences = Object.entries(WORKS).map(([name, text]) => [`LICENSE-${name}.txt`, fs.readFileSync(path.join(here, 'node_modules', name, text), 'utf8')]);
  return { 'lib.js': file.text, ...Object.fromEntries(licences) };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  fs.mkdirSync(kept, { recursive: true });
  for (const [name, text] of Object.entries(await bundled())) fs.writeFileSync(path.join(kept, name), text);
}
