// What the editor shows when the program is not where it is said to be.
import { coloured, openFile, play, say } from './page.mjs';

await play('missing', async (page) => {
  await openFile(page, 'receiver.hem');
  const message = page.locator('.notification-list-item', { hasText: 'hemline' }).first();
  await message.waitFor();
  say('message', await message.innerText());
  say('coloured', await coloured(page));
  await message.locator('.monaco-button', { hasText: 'Open Settings' }).click();
  await page.waitForSelector('.settings-editor');
  say('looked for', await page.locator('.settings-header .view-line').first().innerText());
});
