// What the editor shows when the program is not where it is said to be.
import { coloured, openFile, play, say, until } from './page.mjs';

await play('missing', async (page) => {
  await openFile(page, 'receiver.hem');
  const message = page.locator('.notification-list-item', { hasText: 'hemline' }).first();
  await message.waitFor();
  say('message', await message.innerText());
  say('coloured', await coloured(page));
  const looked = page.locator('.settings-editor .settings-header .view-line', { hasText: 'hemline' }).first();
  await until('the settings', async (timeout) => {
    if (await message.isVisible()) await message.locator('.monaco-button', { hasText: 'Open Settings' }).click({ timeout });
  }, (timeout) => looked.waitFor({ timeout }));
  say('looked for', await looked.innerText());
});
