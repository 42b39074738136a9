'use strict';
const assert = require('node:assert/strict');
const Module = require('node:module');
const { test } = require('node:test');

// The editor's own module exists in the editor alone; what is used of it here
// is a text editor, a warning and an event.
function withEditor(editor) {
  const vscode = {
    window: {
      activeTextEditor: editor,
      warned: [],
      showWarningMessage(text) { this.warned.push(text); },
      onDidChangeTextEditorSelection(listener) {
        vscode.moved = listener;
        return { dispose: () => { vscode.moved = undefined; } };
      },
    },
  };
  const load = Module._load;
  Module._load = (name, ...rest) => (name === 'vscode' ? vscode : load(name, ...rest));
  delete require.cache[require.resolve('../src/picture')];
  const { pictureMiddleware } = require('../src/picture');
  Module._load = load;
  return { vscode, pictureMiddleware };
}

const board = { document: { languageId: 'hem', uri: 'file:///b.hem' }, selection: { active: { line: 3, character: 4 } } };

function aClient() {
  const sent = [];
  return {
    sent,
    isRunning: () => true,
    sendNotification: (method, params) => sent.push([method, params]),
    code2ProtocolConverter: { asUri: (u) => String(u), asPosition: (p) => ({ ...p }), asTextDocumentIdentifier: (d) => ({ uri: d.uri }) },
  };
}

test('the command gets the active document and its cursor, which is then followed', async () => {
  const { vscode, pictureMiddleware } = withEditor(board);
  const client = aClient();
  const picture = pictureMiddleware(() => client);
  const calls = [];
  const next = (command, args) => calls.push([command, args]);
  await picture.executeCommand('hemline.picture', [], next);
  assert.deepEqual(calls, [['hemline.picture', ['file:///b.hem', { line: 3, character: 4 }]]]);
  vscode.moved({ textEditor: board });
  vscode.moved({ textEditor: { document: { languageId: 'markdown' } } });
  assert.deepEqual(client.sent, [['hemline/cursor', { textDocument: { uri: 'file:///b.hem' }, position: { line: 3, character: 4 } }]]);
  picture.dispose();
  assert.equal(vscode.moved, undefined);
});

test('other commands, and one that has its arguments, pass as they are', async () => {
  const { pictureMiddleware } = withEditor(board);
  const calls = [];
  const picture = pictureMiddleware(aClient);
  await picture.executeCommand('hemline.other', [], (...c) => calls.push(c));
  await picture.executeCommand('hemline.picture', ['file:///x.hem'], (...c) => calls.push(c));
  assert.deepEqual(calls, [['hemline.other', []], ['hemline.picture', ['file:///x.hem']]]);
});

test('without a board in the editor it says so', async () => {
  for (const editor of [undefined, { document: { languageId: 'markdown' } }]) {
    const { vscode, pictureMiddleware } = withEditor(editor);
    await pictureMiddleware(aClient).executeCommand('hemline.picture', [], () => assert.fail('sent'));
    assert.equal(vscode.window.warned.length, 1);
  }
});
