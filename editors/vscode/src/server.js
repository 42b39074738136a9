'use strict';
const fs = require('node:fs');
const os = require('node:os');
const path = require('node:path');

/**
 * The absolute path of the program that a setting names, or undefined where
 * there is none: a bare name is looked for in the folders of PATH.
 */
function findServer(setting, env = process.env, platform = process.platform) {
  const home = setting === '~' || setting.startsWith('~/') ? os.homedir() + setting.slice(1) : setting;
  const endings = platform === 'win32' ? ['', ...(env.PATHEXT ?? '.EXE;.CMD;.BAT').split(';')] : [''];
  const folders = /[\\/]/.test(home) ? [''] : (env.PATH ?? '').split(platform === 'win32' ? ';' : ':');
  for (const folder of folders) {
    for (const ending of endings) {
      const file = path.resolve(folder, home + ending);
      if (home !== '' && runs(file, platform)) return file;
    }
  }
  return undefined;
}

function runs(file, platform) {
  try {
    fs.accessSync(file, platform === 'win32' ? fs.constants.F_OK : fs.constants.X_OK);
    return fs.statSync(file).isFile();
  } catch {
    return false;
  }
}

module.exports = { findServer };
