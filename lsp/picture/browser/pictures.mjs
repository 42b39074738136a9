// The pictures of the page that the README shows. Run as a program it takes
// them all anew, and has the drawings beside them made anew too.
import { execFileSync, spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

export const CHROMIUM = process.env.CHROMIUM ?? '/usr/bin/chromium';
export const root = fileURLToPath(new URL('../../..', import.meta.url));
export const kept = path.join(root, 'testdata', 'pictures');

/** The switches of a browser that draws WebGL without a graphics card, the same everywhere. */
export const DRAWN = ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--ignore-gpu-blocklist'];

/** What is shown: a board, the sides seen, the size of the window in px; of a solid how it is turned, cut and near. */
export const PICTURES = {
  'live-first.png': { board: 'first.hem', seen: 'both', width: 1200, height: 548 },
  'live-receiver.png': { board: 'examples/receiver.hem', seen: 'top', width: 1200, height: 608 },
  'live-solid.png': { board: 'examples/receiver.hem', seen: 'solid', width: 1200, height: 608, turned: { turn: -0.7, tilt: 1.05, cut: [11, 0], at: [15, 1.5], near: 4.6 } },
};

export const sum = (data) => createHash('sha256').update(data).digest('hex');

/** A folder with the program, the examples and the board of the README's tour. */
export function workshop() {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'pictures-'));
  execFileSync('go', ['build', '-o', path.join(folder, 'hemline'), './cmd/hemline'], { cwd: root, stdio: 'inherit' });
  fs.symlinkSync(path.join(root, 'examples'), path.join(folder, 'examples'));
  const readme = fs.readFileSync(path.join(root, 'README.md'), 'utf8');
  const [, text] = [...readme.matchAll(/^```hem\n([^]*?)^```$/gm)].find(([, t]) => t.includes('board first'));
  fs.writeFileSync(path.join(folder, 'first.hem'), text);
  return folder;
}

/** Takes a picture; also tells what it is made from, and where on it the sheets are. */
export async function taken(folder, browser, { board, seen, width, height, turned }) {
  const watch = spawn(path.join(folder, 'hemline'), ['watch', board], { cwd: folder, stdio: ['ignore', 'pipe', 'inherit'] });
  const gone = new Promise((done) => { watch.on('exit', done); });
  const context = await browser.newContext({ viewport: { width, height }, colorScheme: 'light', reducedMotion: 'reduce' });
  try {
    const url = await said(watch, gone);
    const madeFrom = sum(`${await (await fetch(url)).text()}\n${await firstFrame(url)}`);
    const page = await context.newPage();
    await page.goto(url);
    await page.locator('[data-side="top"] .over text').first().waitFor();
    await page.selectOption('#seen', seen);
    await page.evaluate(() => document.activeElement.blur());
    if (turned) await page.evaluate(turnTo, turned);
    await page.locator('.sheet .over text').first().waitFor();
    // Two pictures of the screen later everything has its place.
    await page.evaluate(() => new Promise((done) => { requestAnimationFrame(() => requestAnimationFrame(done)); }));
    return { png: await page.screenshot(), madeFrom, sheets: await page.locator('#sheets').boundingBox() };
  } finally {
    await context.close();
    watch.kill('SIGINT');
    await gone;
  }
}

/** In the page: turns the solid, cuts it, and comes near. */
function turnTo({ turn, tilt, cut, at, near }) {
  const [sheet] = sheets;
  Object.assign(sheet, { turn, tilt });
  view.fit();
  sheet.cutThrough(...cut);
  [view.x, view.y] = at;
  sheet.zoom(near);
}

/** The address that the program prints first. */
async function said(watch, gone) {
  let text = '';
  const line = new Promise((done) => {
    watch.stdout.on('data', (data) => {
      text += data;
      if (text.includes(' finding')) done(text.split('\n')[0]);
    });
  });
  return Promise.race([line, gone.then((code) => { throw new Error(`hemline watch ended with ${code}: ${text}`); })]);
}

async function firstFrame(url) {
  const stop = new AbortController();
  const answer = await fetch(`${url}events`, { signal: stop.signal });
  let text = '';
  for await (const data of answer.body.pipeThrough(new TextDecoderStream())) {
    text += data;
    const found = /^data: (.*)\n/m.exec(text);
    if (found) {
      stop.abort();
      return found[1];
    }
  }
  throw new Error(`no frame came: ${text}`);
}

async function write() {
  execFileSync('go', ['generate', './cmd/hemline'], { cwd: root, stdio: 'inherit' });
  const browser = await chromium.launch({ executablePath: CHROMIUM, args: DRAWN });
  const folder = workshop();
  try {
    const record = {};
    for (const [name, picture] of Object.entries(PICTURES)) {
      const { png, madeFrom } = await taken(folder, browser, picture);
      fs.writeFileSync(path.join(kept, name), png);
      record[name] = { board: picture.board, madeFrom, picture: sum(png) };
    }
    fs.writeFileSync(path.join(kept, 'live.json'), `${JSON.stringify(record, null, 2)}\n`);
  } finally {
    await browser.close();
    fs.rmSync(folder, { recursive: true });
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await write();
