// What the browser tests share: the board they look at, the program, and a
// page that looks at what an editor has open.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { chromium } from 'playwright-core';
import { Editor } from './editor.mjs';

export const CHROMIUM = process.env.CHROMIUM ?? '/usr/bin/chromium';
const root = path.resolve(import.meta.dirname ?? path.dirname(new URL(import.meta.url).pathname), '../../..');
const present = fs.existsSync(CHROMIUM);
if (!present && process.env.HEMLINE_CI === '1') throw new Error(`there is no ${CHROMIUM}`);
export const skip = present ? false : `there is no ${CHROMIUM}`;

export const TEXT = `board demo { title "Demo board"; thickness 1.6 mm }
outline rectangle 60 mm by 40 mm corner 2 mm
plating wall { along all; net GND; copper 25 um; wrap top 0.5 mm; wrap bottom 0.3 mm; extend 0.05 mm }
gap g1 of wall on south at 20 mm width 4 mm
gap g2 of wall on north at 30 mm width 1 mm
tab t1 on south at 20 mm width 3 mm solid
feature c7 on top rectangle 3 mm by 2 mm at (10 mm, 12 mm) net V3
feature d7 on bottom circle 2 mm at (50 mm, 30 mm)
`;

/** The program, built anew in a folder of its own. */
export function built() {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'picture-'));
  const program = path.join(folder, 'hemline');
  execFileSync('go', ['build', '-o', program, './cmd/hemline'], { cwd: root, stdio: 'inherit' });
  return { folder, program };
}

export const launched = (...args) => chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox', ...args] });

/** An editor with the picture open, and a page that looks at it. */
export async function lookedAt(t, { program, browser }, text = TEXT, { capabilities = { window: { showDocument: { support: true } } }, ...options } = {}) {
  const editor = new Editor(program, capabilities);
  t.after(() => editor.process.kill());
  const uri = 'file:///boards/demo.hem';
  await editor.open(uri, text);
  const { uri: url } = await editor.call('workspace/executeCommand', { command: 'hemline.picture', arguments: [uri] });
  const context = await browser.newContext({ viewport: { width: 1366, height: 768 }, reducedMotion: 'reduce', ...options });
  t.after(() => context.close());
  const page = await context.newPage();
  const trouble = [];
  const hosts = new Set();
  page.on('console', (m) => { if (['error', 'warning'].includes(m.type())) trouble.push(m.text()); });
  page.on('pageerror', (e) => trouble.push(String(e)));
  page.on('request', (r) => hosts.add(new URL(r.url()).host));
  await page.addInitScript(() => {
    window.violations = [];
    document.addEventListener('securitypolicyviolation', (e) => window.violations.push(`${e.violatedDirective} ${e.blockedURI}`));
  });
  await page.goto(url);
  const item = (id, side = 'top') => page.locator(`[data-side="${side}"] [data-id="${id}"]`);
  const calm = async () => {
    assert.deepEqual(trouble, []);
    assert.deepEqual(await page.evaluate(() => window.violations), []);
    assert.deepEqual([...hosts].filter((h) => h !== new URL(url).host && h !== ''), [], 'no other host is asked');
  };
  return { editor, page, url, item, calm, uri };
}
