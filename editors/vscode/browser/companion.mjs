// Shows the editor until the companion has written its results. Before a file is renamed
// the editor asks whether the extension may change other files: it may.
import fs from 'node:fs';
import { play, say } from './page.mjs';

await play('companion', async (page) => {
  const end = Date.now() + 120_000;
  const agree = page.locator('.monaco-dialog-box .monaco-button', { hasText: /^OK$/ });
  while (!fs.existsSync(process.env.HEMLINE_RESULTS)) {
    if (Date.now() > end) throw new Error('the companion wrote nothing');
    if (await agree.isVisible()) await agree.click({ timeout: 2000 }).catch(() => {});
    await new Promise((resolve) => { setTimeout(resolve, 50); });
  }
  say('written', true);
});
