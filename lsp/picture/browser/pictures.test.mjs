// The pictures that the README shows, held against what the page shows now.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { chromium } from 'playwright-core';
import { CHROMIUM, DRAWN, kept, PICTURES, sum, taken, workshop } from './pictures.mjs';

const present = fs.existsSync(CHROMIUM);
if (!present && process.env.HEMLINE_CI === '1') throw new Error(`there is no ${CHROMIUM}`);
const skip = present ? false : `there is no ${CHROMIUM}`;

let folder;
let browser;

before(async () => {
  if (skip) return;
  folder = workshop();
  browser = await chromium.launch({ executablePath: CHROMIUM, args: DRAWN });
});

after(async () => {
  await browser?.close();
  if (folder) fs.rmSync(folder, { recursive: true });
});

// Another machine has other fonts and rounds edges in another way. So fields of 8 px square
// are compared by their mean colour, on the sheets alone, which fonts hardly move: of the fields
// that are not plain in both, at most 5 of 100 may differ by more than 24 of 255. What is too
// faint for that is left to the sum over what the picture is made from.
const FIELD = 8;
const COLOUR = 24;
const SHARE = 0.05;

/** The share of fields that differ, of those where either picture has something. */
async function difference(one, other, box) {
  const page = await browser.newPage();
  try {
    return await page.evaluate(async ({ urls, box, FIELD, COLOUR }) => {
      const means = async (url) => {
        const image = new Image();
        image.src = url;
        await image.decode();
        const canvas = document.createElement('canvas');
        [canvas.width, canvas.height] = [image.width, image.height];
        const to = canvas.getContext('2d');
        to.drawImage(image, 0, 0);
        const list = [];
        for (let y = box.y; y + FIELD <= box.y + box.height; y += FIELD) {
          for (let x = box.x; x + FIELD <= box.x + box.width; x += FIELD) {
            const { data } = to.getImageData(x, y, FIELD, FIELD);
            const field = [0, 0, 0];
            for (let i = 0; i < data.length; i++) if (i % 4 < 3) field[i % 4] += data[i] / FIELD / FIELD;
            list.push({ field, plain: data.every((v, i) => v === data[i % 4]) });
          }
        }
        return list;
      };
      const [a, b] = [await means(urls[0]), await means(urls[1])];
      const apart = (i) => Math.max(...a[i].field.map((v, c) => Math.abs(v - b[i].field[c]))) > COLOUR;
      const full = a.map((_, i) => i).filter((i) => !a[i].plain || !b[i].plain || apart(i));
      return full.filter(apart).length / full.length;
    }, { urls: [one, other].map((png) => `data:image/png;base64,${png.toString('base64')}`), box, FIELD, COLOUR });
  } finally {
    await page.close();
  }
}

const size = (png) => [png.readUInt32BE(16), png.readUInt32BE(20)];

for (const [name, picture] of Object.entries(PICTURES)) {
  test(`${name} is what the page shows`, { skip }, async () => {
    const stored = fs.readFileSync(path.join(kept, name));
    const record = JSON.parse(fs.readFileSync(path.join(kept, 'live.json'), 'utf8'))[name];
    const { png, madeFrom, sheets } = await taken(folder, browser, picture);
    assert.deepEqual(record, { board: picture.board, madeFrom, picture: sum(stored) }, 'stale: npm run pictures');
    assert.deepEqual(size(stored), [picture.width, picture.height]);
    const share = await difference(stored, png, { x: Math.ceil(sheets.x), y: Math.ceil(sheets.y), width: Math.floor(sheets.width), height: Math.floor(sheets.height) });
    assert.ok(share <= SHARE, `${(share * 100).toFixed(1)} % of the drawing differs: npm run pictures`);
  });
}
