// One pass over the screen: a finding is made, seen, read and mended.
import { command, coloured, colourOf, goTo, openFile, play, say } from './page.mjs';

// An editor that is busy laying itself out loses a movement of the mouse, and
// what the mouse rested on before may still show a hint of its own; a user then
// moves it away and back once more until what is wanted is there.
async function pointAt(page, word, wanted) {
  for (let tries = 0; ; tries++) {
    await word.hover();
    try {
      return await wanted.waitFor({ timeout: 4000 });
    } catch (e) {
      if (tries === 12) throw e;
      await page.mouse.move(5 + tries, 5);
    }
  }
}

await play('screen', async (page) => {
  await openFile(page, 'receiver.hem');
  const language = page.locator('#status\\.editor\\.mode');
  await language.filter({ hasText: 'hem' }).waitFor();
  say('language', await language.innerText());
  await goTo(page, 51, 16); // behind the 0. of 0.8 mm
  await page.keyboard.press('Delete');
  await page.keyboard.insertText('3');

  await page.waitForSelector('.squiggly-error', { state: 'attached' });
  say('coloured', await coloured(page));
  await page.keyboard.press('Control+Shift+M');
  const problems = page.locator('.markers-panel .monaco-list-row');
  // The findings of the whole folder are listed, also of files that are not open.
  await problems.filter({ hasText: 'broken' }).first().waitFor();
  await page.locator('.panel').getByPlaceholder(/^Filter \(e\.g\. text/).locator('visible=true').fill('wrap on top is 0.30');
  await problems.filter({ hasText: 'wrap on top' }).first().waitFor();
  say('problems', await page.locator('.markers-panel').innerText());
  await page.screenshot({ path: `${process.env.HEMLINE_PICTURES}/problems.png` });

  // As a user goes there: the list leads to the place.
  await problems.filter({ hasText: 'Ln 51' }).first().dblclick();
  const word = page.locator('.view-line', { hasText: 'lands' }).locator('span span', { hasText: 'wrap' }).first();
  say('clause', await colourOf(word));
  say('name', await colourOf(page.locator('.view-line', { hasText: 'plating' }).locator('span span', { hasText: 'wall' }).first()));
  await pointAt(page, word, page.locator('.monaco-hover:visible', { hasText: 'wrap on top' }).first());
  say('hover', (await page.locator('.monaco-hover:visible').allInnerTexts()).join(' | '));
  await page.screenshot({ path: `${process.env.HEMLINE_PICTURES}/hover.png` });

  await word.click();
  await page.keyboard.press('Control+.');
  const fix = page.locator('.action-widget .monaco-list-row', { hasText: 'widen the wrap' }).first();
  await fix.waitFor();
  await page.screenshot({ path: `${process.env.HEMLINE_PICTURES}/fix.png` });
  say('fix', await fix.innerText());
  await fix.click();
  await page.waitForSelector('.squiggly-error', { state: 'detached' });
  say('squiggles', await page.locator('.squiggly-error').count());
  say('fixed line', await page.locator('.view-line', { hasText: 'lands' }).first().innerText());

  // The picture opens in a window of its own, and follows what is typed. The
  // editor in a browser sends addresses of its machine through a proxy, where
  // the picture would be under a foreign name, and refuse; this one leads back.
  const proxied = /\/proxy\/(\d+)(\/.*)$/;
  await page.context().route(proxied, (route) => {
    const [, port, rest] = proxied.exec(route.request().url());
    return route.fulfill({ status: 302, headers: { location: `http://127.0.0.1:${port}${rest}` } });
  });
  const window = page.context().waitForEvent('page');
  await command(page, 'hemline: Show Picture');
  const picture = await window;
  const feature = picture.locator('[data-side="top"] [data-id="feature lna"]');
  await feature.waitFor();
  say('picture', await picture.title());
  say('listed', await picture.locator('#list button').count());
  await page.keyboard.press('Control+z');
  await picture.locator('#list button', { hasText: 'wrap_land' }).waitFor();
  say('listed then', await picture.locator('#list button').allInnerTexts());
  await picture.screenshot({ path: `${process.env.HEMLINE_PICTURES}/picture.png` });

  // A click on an item there moves the cursor here.
  await feature.click();
  const place = page.locator('#status\\.editor\\.selection');
  await place.filter({ hasText: 'Ln 86' }).waitFor();
  say('cursor', await place.innerText());
});
