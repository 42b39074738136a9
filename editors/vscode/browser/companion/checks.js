'use strict';
const assert = require('node:assert');
const path = require('node:path');
const vscode = require('vscode');

const patience = 20_000; // milliseconds

async function until(what, ready) {
  const end = Date.now() + patience;
  for (;;) {
    const value = await ready();
    if (value) return value;
    if (Date.now() > end) throw new Error(`waited in vain for ${what}`);
    await new Promise((resolve) => { setTimeout(resolve, 20); });
  }
}

const uriOf = (name) => vscode.Uri.joinPath(vscode.workspace.workspaceFolders[0].uri, name);
const run = (command, ...rest) => vscode.commands.executeCommand(`vscode.${command}`, ...rest);
const codeOf = (d) => (typeof d.code === 'object' ? d.code.value : d.code);
const found = (document, code) => vscode.languages.getDiagnostics(document.uri).filter((d) => codeOf(d) === code);

async function open(name) {
  const document = await vscode.workspace.openTextDocument(uriOf(name));
  await vscode.window.showTextDocument(document);
  return document;
}

/** The range of a text's first occurrence of words. */
function rangeOf(document, words) {
  const at = document.getText().indexOf(words);
  assert.ok(at >= 0, `no ${words} in the text`);
  return new vscode.Range(document.positionAt(at), document.positionAt(at + words.length));
}

async function replace(document, words, by) {
  const edit = new vscode.WorkspaceEdit();
  edit.replace(document.uri, rangeOf(document, words), by);
  assert.ok(await vscode.workspace.applyEdit(edit));
}

/** Puts a text back as it is on the disk, whatever a check left. */
async function restore(document, text) {
  const edit = new vscode.WorkspaceEdit();
  edit.replace(document.uri, new vscode.Range(0, 0, document.lineCount, 0), text);
  assert.ok(await vscode.workspace.applyEdit(edit));
}

/** A check on the receiver of the examples, which is clean. */
function onReceiver(check) {
  return async () => {
    const document = await open('receiver.hem');
    const before = document.getText();
    try {
      await check(document);
    } finally {
      await restore(document, before);
    }
    await until('no findings', () => vscode.languages.getDiagnostics(document.uri).length === 0);
  };
}

const wide = 'wrap   top 0.8 mm';
const narrow = 'wrap   top 0.3 mm';

exports.checks = {
  async 'a language of its own'() {
    const document = await open('receiver.hem');
    assert.equal(document.languageId, 'hem');
    const extension = vscode.extensions.getExtension('hemline.hemline');
    await extension.activate(); // fails as the extension's own activation does
    assert.ok(extension.isActive);
  },

  'a finding as it is typed, and gone': onReceiver(async (document) => {
    await replace(document, wide, narrow);
    const [finding] = await until('the finding', () => found(document, 'wrap_land').length === 1 && found(document, 'wrap_land'));
    assert.equal(finding.source, 'hemline');
    assert.equal(finding.severity, vscode.DiagnosticSeverity.Error);
    assert.match(finding.message, /^wrap on top is 0\.30 mm; standard asks for at least 0\.40 mm/);
    assert.ok(finding.range.isEqual(rangeOf(document, narrow)), JSON.stringify(finding.range));
    assert.match(finding.relatedInformation[0].location.uri.path, /shops\/standard\.hem$/);
    await replace(document, narrow, wide);
    await until('it to go', () => found(document, 'wrap_land').length === 0);
  }),

  'a quick fix takes the finding away': onReceiver(async (document) => {
    await replace(document, wide, narrow);
    const [finding] = await until('the finding', () => found(document, 'wrap_land').length === 1 && found(document, 'wrap_land'));
    const actions = await run('executeCodeActionProvider', document.uri, finding.range, vscode.CodeActionKind.QuickFix.value, 10);
    const fix = actions.find((a) => a.isPreferred && a.edit);
    assert.ok(fix, JSON.stringify(actions));
    assert.ok(await vscode.workspace.applyEdit(fix.edit));
    await until('it to go', () => found(document, 'wrap_land').length === 0);
  }),

  hover: onReceiver(async (document) => {
    const [card] = await run('executeHoverProvider', document.uri, rangeOf(document, 'wall {').start);
    const text = card.contents.map((c) => c.value ?? c).join('\n');
    assert.match(text, /\*\*plating wall\*\*/);
    assert.match(text, /shielding bound of the wall/);
  }),

  'completion offers what is not yet given': onReceiver(async (document) => {
    await replace(document, 'finish ENIG', '');
    const end = document.lineAt(rangeOf(document, 'layers top ground').start.line + 1).range.end;
    const list = await run('executeCompletionItemProvider', document.uri, end, undefined, 5);
    const labels = list.items.map((i) => i.label.label ?? i.label);
    for (const word of ['finish', 'wrap']) assert.ok(labels.includes(word), labels.join(' '));
    assert.ok(!labels.includes('net'), labels.join(' '));
  }),

  'the outline': onReceiver(async (document) => {
    const symbols = await run('executeDocumentSymbolProvider', document.uri);
    const names = symbols.map((s) => s.name);
    for (const word of ['slope_receiver', 'wall', 'lid']) assert.ok(names.some((n) => n.includes(word)), names.join(' '));
    const wall = symbols.find((s) => s.name.includes('wall'));
    assert.ok(wall.range.contains(rangeOf(document, wide)));
  }),

  formatting: onReceiver(async (document) => {
    const before = document.getText();
    assert.deepEqual(await run('executeFormatDocumentProvider', document.uri, { tabSize: 2, insertSpaces: true }) ?? [], []);
    await replace(document, wide, 'wrap top      0.8 mm');
    const edits = await run('executeFormatDocumentProvider', document.uri, { tabSize: 2, insertSpaces: true });
    const edit = new vscode.WorkspaceEdit();
    edit.set(document.uri, edits);
    assert.ok(await vscode.workspace.applyEdit(edit));
    assert.equal(document.getText(), before);
  }),

  'the definition of a name': onReceiver(async (document) => {
    const use = rangeOf(document, 'width launch');
    const [place] = await run('executeDefinitionProvider', document.uri, use.end.translate(0, -2));
    const target = place.targetSelectionRange ?? place.range;
    assert.equal(document.getText(target), 'launch');
    assert.match(document.lineAt(target.start).text, /^let launch/);
  }),

  async 'the definition in a used file'() {
    const document = await open('uses.hem');
    const [place] = await run('executeDefinitionProvider', document.uri, rangeOf(document, 'wide').start);
    assert.equal(path.posix.basename((place.targetUri ?? place.uri).path), 'used.hem');
  },

  async 'what is not saved in a used file counts'() {
    const document = await open('uses.hem');
    await until('no error', () => found(document, 'unknown_name').length === 0);
    const used = await open('used.hem');
    await replace(used, 'wide', 'other');
    await until('an unknown name', () => found(document, 'unknown_name').length === 1);
    await replace(used, 'other', 'wide');
    await until('it to go', () => found(document, 'unknown_name').length === 0);
  },

  'comments': onReceiver(async (document) => {
    const { start } = rangeOf(document, 'let long');
    vscode.window.activeTextEditor.selection = new vscode.Selection(start, start);
    await vscode.commands.executeCommand('editor.action.commentLine');
    assert.match(document.lineAt(start.line).text, /^\/\/ let long/);
  }),
};
