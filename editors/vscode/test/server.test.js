'use strict';
const assert = require('node:assert');
const fs = require('node:fs');
const os = require('node:os');
const path = require('node:path');
const test = require('node:test');
const { findServer } = require('../src/server');

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'hemline-'));
test.after(() => fs.rmSync(folder, { recursive: true }));
const program = path.join(folder, 'hemline');
fs.writeFileSync(program, '', { mode: 0o755 });
fs.writeFileSync(path.join(folder, 'notes'), '', { mode: 0o644 });
fs.writeFileSync(path.join(folder, 'tool.EXE'), '', { mode: 0o644 });
fs.mkdirSync(path.join(folder, 'folder'));

test('a bare name is looked for on the PATH, in order', () => {
  const PATH = ['/nowhere', folder, '/usr/bin'].join(':');
  assert.equal(findServer('hemline', { PATH }, 'linux'), program);
  assert.equal(findServer('hemline', { PATH: '/nowhere' }, 'linux'), undefined);
  assert.equal(findServer('hemline', {}, 'linux'), undefined);
});

test('a path is taken as it is', () => {
  assert.equal(findServer(program, { PATH: '' }, 'linux'), program);
  assert.equal(findServer(program + 'x', { PATH: folder }, 'linux'), undefined);
});

test('what cannot run is not the program', () => {
  assert.equal(findServer('notes', { PATH: folder }, 'linux'), undefined);
  assert.equal(findServer('folder', { PATH: folder }, 'linux'), undefined);
  assert.equal(findServer('', { PATH: folder }, 'linux'), undefined);
});

test('Windows adds the endings of programs', () => {
  assert.equal(findServer('tool', { PATH: `/nowhere;${folder}`, PATHEXT: '.COM;.EXE' }, 'win32'), path.join(folder, 'tool.EXE'));
});

test('a leading ~ is the home folder', () => {
  const home = os.homedir;
  os.homedir = () => folder;
  try {
    assert.equal(findServer('~/hemline', { PATH: '' }, 'linux'), program);
  } finally {
    os.homedir = home;
  }
});
