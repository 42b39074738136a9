// One pass over the screen: a finding is made, seen, read and mended.
import { readFileSync } from 'node:fs';

import {
  command, coloured, colourOf, filterProblems, goTo, lineOf, openFile, overtype, placed, plain, play, say, until,
} from './page.mjs';

// An editor that is busy laying itself out loses a movement of the mouse, and
// what the mouse rested on before may still show a hint of its own; a user then
// moves it away and back once more until what is wanted is there. The hint may
// go as soon as it has come, so it is read when it is found.
function pointAt(page, word, wanted) {
  let tries = 0;
  return until(`the hint of ${wanted}`, async (timeout) => {
    await page.mouse.move(5 + tries++, 5);
    // Not by hover(), which scrolls the editor where something hides the word.
    const { x, y, width, height } = await word.boundingBox({ timeout });
    await page.mouse.move(x + width / 2, y + height / 2);
  }, async (timeout) => {
    const text = await page.waitForFunction((part) => [...document.querySelectorAll('.monaco-hover')]
      .filter((e) => e.checkVisibility()).map((e) => e.innerText).find((t) => t.replace(/\s+/g, ' ').includes(part)), wanted, { timeout });
    return text.jsonValue();
  });
}

// The lines of the example that are edited and led to.
const lines = readFileSync(new URL('../../../examples/receiver.hem', import.meta.url), 'utf8').split('\n');
const numberOf = (part) => lines.findIndex((line) => line.includes(part)) + 1;
const choices = readFileSync(new URL('../../../examples/broken/receiver.hem', import.meta.url), 'utf8').split('\n');
const [wrap, lna] = [numberOf('wrap   top bottom 0.8 mm'), numberOf('feature lna')];
const tenths = lines[wrap - 1].indexOf('0.8') + '0.8'.length;

await play('screen', async (page) => {
  const picturePath = (name) => `${process.env.HEMLINE_PICTURES}/${name}.png`;
  await openFile(page, 'receiver.hem');
  const language = page.locator('#status\\.editor\\.mode');
  await language.filter({ hasText: 'hem' }).waitFor();
  say('language', await language.innerText());
  await overtype(page, wrap, tenths, '3', 'bottom 0.3 mm'); // behind the 0. of 0.8 mm

  const squiggle = page.locator('.squiggly-error');
  await squiggle.first().waitFor({ state: 'attached' });
  say('coloured', await coloured(page));
  const panel = page.locator('.markers-panel');
  const problems = panel.locator('.monaco-list-row');
  // The findings of the whole folder are listed, also of files that are not open.
  await until('the list of problems', async () => {
    if (!await panel.isVisible()) await page.keyboard.press('Control+Shift+M'); // which would close it
  }, (timeout) => problems.filter({ hasText: 'broken' }).first().waitFor({ timeout }));
  const finding = problems.filter({ hasText: 'wrap on top' }).filter({ hasText: `Ln ${wrap}` }).first();
  await filterProblems(page, 'wrap on top and bottom is 0.30', finding);
  say('problems', await panel.innerText());
  await page.screenshot({ path: picturePath('problems') });

  // As a user goes there: the list leads to the place.
  await until('the way from the list', (timeout) => finding.dblclick({ timeout }),
    (timeout) => placed(page, new RegExp(`^Ln ${wrap}, Col \\d+ \\(\\d+ selected\\)$`), timeout));
  const word = lineOf(page, 'lands').locator('span span', { hasText: 'wrap' }).first();
  say('clause', await colourOf(word));
  say('name', await colourOf(lineOf(page, 'plating').locator('span span', { hasText: 'wall' }).first()));
  say('hover', await pointAt(page, word, 'wrap on top and bottom is 0.30 mm'));
  await page.screenshot({ path: picturePath('hover') });

  const fix = page.locator('.action-widget .monaco-list-row', { hasText: 'widen the wrap' }).first();
  // The cursor is put there by keys: a click() on a word that something hides
  // for a moment scrolls it away, below the line that sticks to the top.
  const offerFixes = async (timeout) => {
    await page.mouse.move(5, 5);
    await goTo(page, wrap, 5, timeout);
    await page.keyboard.press('Control+.');
  };
  say('fix', plain(await until('the fix', offerFixes, (timeout) => fix.innerText({ timeout }))));
  await page.screenshot({ path: picturePath('fix') });
  const fixed = lineOf(page, 'bottom 0.4 mm');
  await until('the line as it is fixed', async (timeout) => {
    if (await fixed.isVisible()) return;
    if (!await fix.isVisible()) await offerFixes(timeout);
    await fix.click({ timeout });
  }, (timeout) => fixed.waitFor({ timeout }));
  await squiggle.first().waitFor({ state: 'detached' });
  say('squiggles', await squiggle.count());
  say('fixed line', await fixed.innerText());

  // The picture opens in a window of its own, and follows what is typed. The
  // editor in a browser sends addresses of its machine through a proxy, where
  // the picture would be under a foreign name, and refuse; this one leads back.
  const proxied = /\/proxy\/(\d+)(\/.*)$/;
  await page.context().route(proxied, (route) => {
    const [, port, rest] = proxied.exec(route.request().url());
    return route.fulfill({ status: 302, headers: { location: `http://127.0.0.1:${port}${rest}` } });
  });
  const picture = await command(page, 'hemline: Show Picture', async (timeout) => {
    const others = () => page.context().pages().filter((p) => p !== page);
    for (const end = Date.now() + 3 * timeout; others().length === 0; await page.waitForTimeout(50)) {
      if (Date.now() > end) throw new Error('no window of the picture');
    }
    return others()[0];
  });
  const feature = picture.locator('[data-side="top"] [data-id="feature lna"]');
  await feature.waitFor();
  say('picture', await picture.title());
  say('listed', await picture.locator('#list button').count());
  const listed = picture.locator('#list button', { hasText: 'wrap_land' });
  await until('the finding again, where the fix is undone', async (timeout) => {
    if (!await fixed.isVisible()) return;
    await goTo(page, wrap, 5, timeout);
    await page.keyboard.press('Control+z');
  }, (timeout) => listed.waitFor({ timeout }));
  say('listed then', await picture.locator('#list button').allInnerTexts());
  await picture.screenshot({ path: picturePath('picture') });

  // A click on an item there moves the cursor here.
  await until('the cursor at the feature', (timeout) => feature.click({ timeout }), (timeout) => placed(page, `Ln ${lna}`, timeout));
  say('cursor', await page.locator('#status\\.editor\\.selection').innerText());

  // The board as a solid, in the same window.
  await picture.selectOption('#seen', 'solid');
  await picture.waitForFunction(() => sheets[0]?.solid && sheets[0].took > 0);
  say('solid', await picture.locator('#seen').inputValue());
  await picture.screenshot({ path: picturePath('solid') });

  // A finding with several ways out of it, each told with what it does: one is chosen.
  await page.bringToFront();
  await openFile(page, 'choices.hem');
  const near = choices.findIndex((line) => line.includes('finds launch_clearance')) + 1;
  const ways = page.locator('.action-widget .monaco-list-row');
  const span = ways.filter({ hasText: 'span 1.81 mm instead of 1.7 mm' }).first();
  const offerWays = async (timeout) => {
    await page.mouse.move(5, 5);
    await goTo(page, near, choices[near - 1].indexOf('launch') + 2, timeout);
    await page.keyboard.press('Control+.');
  };
  await until('the ways', offerWays, (timeout) => span.waitFor({ timeout }));
  say('ways', (await ways.allInnerTexts()).map(plain).join(' | '));
  await page.screenshot({ path: picturePath('ways') });
  const chosen = lineOf(page, 'opens span 1.81 mm');
  await until('the way that is chosen', async (timeout) => {
    if (await chosen.isVisible()) return;
    if (!await span.isVisible()) await offerWays(timeout);
    await span.click({ timeout });
  }, (timeout) => chosen.waitFor({ timeout }));
  say('chosen', await chosen.innerText());
  await page.screenshot({ path: picturePath('chosen') });
});
