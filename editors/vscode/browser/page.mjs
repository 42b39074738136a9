// What the scripts share: a browser that shows the editor, and steps that are
// printed, a line each, as NAME TAB VALUE.
//
// A machine may be slow, and the editor loses a key, a click or a text that
// comes while it lays itself out. So a step looks for what it was to bring
// about, and is done again, as a user would, until that is there.
import path from 'node:path';
import { chromium } from 'playwright-core';

const patience = 60_000; // milliseconds, for a step with all its repetitions
const whole = 210_000; // for a session; below the limit of the test, which would end it without a word

export const say = (name, value) => console.log(`${name}\t${plain(value)}`);
export const plain = (text) => String(text).replace(/\s+/g, ' ').trim();
// A failure's first words: Playwright goes on with all that it tried.
const brief = (error, most = 300) => String(error.message ?? error).slice(0, most);

/** Opens the editor, plays a session and takes a picture of the end of it. */
export async function play(name, session) {
  const browser = await chromium.launch({
    executablePath: '/usr/bin/chromium', headless: true,
    args: ['--no-sandbox', '--disable-gpu', '--enable-unsafe-swiftshader', '--disable-quic', '--no-first-run', '--disable-background-networking',
      '--disable-component-update', '--disable-sync'],
  });
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  context.setDefaultTimeout(patience);
  const page = await context.newPage();
  const late = new Promise((_, reject) => {
    setTimeout(() => reject(new Error(`not done after ${whole / 1000} s`)), whole).unref();
  });
  const opened = async () => {
    await page.goto(process.env.HEMLINE_PAGE, { waitUntil: 'domcontentloaded' });
    await page.waitForSelector('.monaco-workbench');
    await session(page);
  };
  try {
    await Promise.race([opened(), late]);
  } catch (error) {
    console.error(await shown(page).catch((e) => `the screen cannot be read: ${e.message}`));
    console.error(brief(error.stack ?? error, 1500));
    process.exitCode = 1;
  } finally {
    await page.screenshot({ path: path.join(process.env.HEMLINE_PICTURES, `${name}.png`), timeout: 10_000 })
      .catch((e) => console.error(`no picture of the end: ${e.message}`));
    await browser.close();
  }
}

/** What the screen shows, for the reader of a failure. */
async function shown(page) {
  const parts = await page.evaluate(() => {
    const texts = (selector, text = (e) => e.innerText) => [...document.querySelectorAll(selector)]
      .filter((e) => e.checkVisibility()).sort((a, b) => a.getBoundingClientRect().y - b.getBoundingClientRect().y).map(text);
    const focused = document.activeElement;
    return {
      'status bar': [texts('.statusbar-item').filter((text) => text.trim() !== '').join(' | ')],
      focus: [focused ? `${focused.tagName} ${focused.className}` : 'nothing'],
      tabs: texts('.tab'),
      text: texts('.editor-container .view-line'),
      squiggles: [document.querySelectorAll('.squiggly-error').length],
      'problems, rows': texts('.markers-panel .monaco-list-row'),
      'problems, filter': texts('.panel .viewpane-filter input', (e) => JSON.stringify(e.value)),
      'quick input': texts('.quick-input-widget input', (e) => JSON.stringify(e.value)),
      menu: texts('.action-widget .monaco-list-row'),
      hover: texts('.monaco-hover'),
      notifications: texts('.notification-list-item'),
    };
  });
  const lines = Object.entries(parts).flatMap(([name, list]) => [`${name}:`, ...list.map((text) => `  ${plain(text).slice(0, 120)}`)]);
  return ['the screen shows', ...lines, ''].join('\n');
}

/**
 * Does something until it is seen to have had its effect, with more time for
 * each try. Both are given the milliseconds that the try may take, and both
 * throw where it fails. Returns what is seen.
 */
export async function until(what, act, seen) {
  const end = Date.now() + patience;
  for (let wait = 4000; ; wait *= 1.5) {
    try {
      await act(wait);
      return await seen(wait);
    } catch (error) {
      if (Date.now() > end) throw new Error(`${what}: not there, for all that it was tried again: ${brief(error)}`);
      say('once more', `${what}: ${brief(error)}`);
    }
  }
}

/**
 * Replaces the text of a box in one go. Playwright's fill first gives the box
 * the focus and then sends the text to whatever has it; VS Code takes the
 * filter of a panel out of its place and puts it back soon after the filter got
 * the focus, which loses it, and on a slow machine the text as well.
 */
async function write(box, text, timeout) {
  await box.evaluate((input, t) => {
    input.focus();
    input.select();
    document.execCommand('insertText', false, t);
  }, text, { timeout });
  const value = await box.inputValue({ timeout });
  if (value !== text) throw new Error(`the box reads ${JSON.stringify(value)}, not ${JSON.stringify(text)}`);
}

/** Filters the list of problems until a row is there. */
export function filterProblems(page, text, row) {
  const box = page.locator('.panel .viewpane-filter input').locator('visible=true');
  return until(`the problems with ${text}`, (timeout) => write(box, text, timeout), (timeout) => row.waitFor({ timeout }));
}

/** Opens a file from the list of the folder's. */
export function openFile(page, name) {
  const row = page.locator('.explorer-folders-view .monaco-list-row', { hasText: name }).first();
  return until(`${name} in the editor`, (timeout) => row.dblclick({ timeout }), async (timeout) => {
    await page.locator('.tab.active', { hasText: name }).waitFor({ timeout });
    await page.locator('.editor-container .view-line').first().waitFor({ timeout });
  });
}

/** Opens the box that a key leads to, and writes into it. */
async function ask(page, key, text, timeout) {
  await page.keyboard.press('Escape'); // of a try before
  await page.keyboard.press(key);
  const box = page.locator('.quick-input-widget input[type="text"]').locator('visible=true');
  await box.waitFor({ timeout });
  await write(box, text, timeout);
  return box;
}

/** Runs a command by its title, as from the palette, until its effect is seen. */
export function command(page, title, seen) {
  return until(title, async (timeout) => {
    await ask(page, 'F1', `>${title}`, timeout);
    await page.locator('.quick-input-list .monaco-list-row', { hasText: title }).first().click({ timeout });
  }, seen);
}

/** The cursor's place as the status bar tells it, once it has a text. */
export const placed = (page, text, timeout) => page.locator('#status\\.editor\\.selection', { hasText: text }).waitFor({ timeout });

/** Goes to a place of the open text, line and column counted from 1. */
export async function goTo(page, line, column, timeout) {
  const box = await ask(page, 'Control+g', `:${line}:${column}`, timeout);
  await box.press('Enter', { timeout });
  await placed(page, new RegExp(`^Ln ${line}, Col ${column}$`), timeout);
  await page.locator('.monaco-editor.focused').waitFor({ timeout });
}

/** Types one character over another, until a line that reads so is there. */
export function overtype(page, line, column, character, reads) {
  return until(`the line with ${reads}`, async (timeout) => {
    await goTo(page, line, column, timeout);
    await page.keyboard.press('Shift+ArrowRight');
    await placed(page, `Ln ${line}, Col ${column + 1} (1 selected)`, timeout);
    await page.keyboard.insertText(character);
  }, (timeout) => lineOf(page, reads).waitFor({ timeout }));
}

/** The first line in view that has a text. */
export const lineOf = (page, text) => page.locator('.editor-container .view-line', { hasText: text }).first();

/** Whether some words of the text come to be painted in different colours. */
export async function coloured(page) {
  await page.waitForFunction(() => {
    const colours = new Set([...document.querySelectorAll('.view-line span span')].map((e) => getComputedStyle(e).color));
    return colours.size > 3;
  });
  return true;
}

export const colourOf = (locator) => locator.evaluate((element) => getComputedStyle(element).color);
