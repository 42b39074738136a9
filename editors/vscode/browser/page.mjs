// What the scripts share: a browser that shows the editor, and steps that are
// printed, a line each, as NAME TAB VALUE.
import path from 'node:path';
import { chromium } from 'playwright-core';

const patience = 30_000; // milliseconds

export const say = (name, value) => console.log(`${name}\t${String(value).replace(/\s+/g, ' ').trim()}`);

/** Opens the editor, plays a session and takes a picture of the end of it. */
export async function play(name, session) {
  const browser = await chromium.launch({
    executablePath: '/usr/bin/chromium', headless: true,
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
      '--disable-component-update', '--disable-sync'],
  });
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  page.setDefaultTimeout(patience);
  try {
    await page.goto(process.env.HEMLINE_PAGE, { waitUntil: 'domcontentloaded' });
    await page.waitForSelector('.monaco-workbench');
    await session(page);
  } catch (error) {
    console.error(error);
    process.exitCode = 1;
  } finally {
    await page.screenshot({ path: path.join(process.env.HEMLINE_PICTURES, `${name}.png`) });
    await browser.close();
  }
}

/** Opens a file from the list of the folder's. */
export async function openFile(page, name) {
  const row = page.locator('.explorer-folders-view .monaco-list-row', { hasText: name });
  await row.first().dblclick();
  await page.waitForSelector('.monaco-editor .view-line');
}

/** Runs a command by its title, as from the palette. */
export async function command(page, title) {
  await page.keyboard.press('F1');
  await page.waitForSelector('.quick-input-widget:not([style*="display: none"]) input');
  await page.keyboard.insertText(title);
  await page.locator('.quick-input-list .monaco-list-row', { hasText: title }).first().click();
}

/** Goes to a place of the open text, line and column counted from 1. */
export async function goTo(page, line, column) {
  await page.keyboard.press('Control+Home');
  for (let i = 1; i < line; i++) await page.keyboard.press('ArrowDown');
  for (let i = 1; i < column; i++) await page.keyboard.press('ArrowRight');
}

/** Whether two words of the text are painted in different colours. */
export function coloured(page) {
  return page.evaluate(() => {
    const colours = new Set([...document.querySelectorAll('.view-line span span')].map((e) => getComputedStyle(e).color));
    return colours.size > 3;
  });
}

export const colourOf = (locator) => locator.evaluate((element) => getComputedStyle(element).color);
