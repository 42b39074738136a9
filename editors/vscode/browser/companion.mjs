// Shows the editor until the companion has written its results.
import fs from 'node:fs';
import { play, say } from './page.mjs';

await play('companion', async () => {
  const end = Date.now() + 120_000;
  while (!fs.existsSync(process.env.HEMLINE_RESULTS)) {
    if (Date.now() > end) throw new Error('the companion wrote nothing');
    await new Promise((resolve) => { setTimeout(resolve, 50); });
  }
  say('written', true);
});
