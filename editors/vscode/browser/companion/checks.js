'use strict';
const assert = require('node:assert');
const fs = require('node:fs');
const http = require('node:http');
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

const wide = 'wrap   top bottom 0.8 mm';
const narrow = 'wrap   top bottom 0.3 mm';

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
    assert.match(finding.message, /^wrap on top and bottom is 0\.30 mm; standard asks for at least 0\.40 mm/);
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
    await replace(document, 'finish ENIG thickness 4 um, 0.05 um // nickel, gold', '');
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
    await replace(document, wide, 'wrap top bottom    0.8 mm');
    const edits = await run('executeFormatDocumentProvider', document.uri, { tabSize: 2, insertSpaces: true });
    const edit = new vscode.WorkspaceEdit();
    edit.set(document.uri, edits);
    assert.ok(await vscode.workspace.applyEdit(edit));
    assert.equal(document.getText(), before);
  }),

  'the definition of a name': onReceiver(async (document) => {
    const use = rangeOf(document, 'like scar');
    const [place] = await run('executeDefinitionProvider', document.uri, use.end.translate(0, -2));
    const target = place.targetSelectionRange ?? place.range;
    assert.equal(document.getText(target), 'scar');
    assert.match(document.lineAt(target.start).text, /^typical scar/);
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

  async 'what changes on disk is noticed'() {
    const document = await open('follows.hem');
    await until('no error', () => found(document, 'unknown_name').length === 0);
    const file = uriOf('followed.hem').fsPath; // not open: only the disk tells
    const before = fs.readFileSync(file, 'utf8');
    fs.writeFileSync(file, before.replace('wide', 'other'));
    await until('an unknown name', () => found(document, 'unknown_name').length === 1);
    fs.writeFileSync(file, before);
    await until('it to go', () => found(document, 'unknown_name').length === 0);
  },

  async 'a name in two files is renamed in both'() {
    const document = await open('uses.hem');
    const at = rangeOf(document, 'wide').start;
    const prepared = await run('prepareRename', document.uri, at);
    assert.equal(prepared.placeholder, 'wide');
    const edit = await run('executeDocumentRenameProvider', document.uri, at, 'breadth');
    assert.deepEqual(edit.entries().map(([uri]) => path.posix.basename(uri.path)).sort(), ['used.hem', 'uses.hem']);
    assert.ok(await vscode.workspace.applyEdit(edit));
    const used = await vscode.workspace.openTextDocument(uriOf('used.hem'));
    assert.match(used.getText(), /let breadth/);
    assert.match(document.getText(), /rectangle breadth by/);
    await until('no error', () => found(document, 'unknown_name').length === 0);
    await replace(used, 'breadth', 'wide');
    await replace(document, 'breadth', 'wide');
    await assert.rejects(run('executeDocumentRenameProvider', document.uri, rangeOf(document, 'outline').start, 'x'));
  },

  'references and highlights': onReceiver(async (document) => {
    const at = rangeOf(document, 'typical scar').end;
    assert.equal((await run('executeReferenceProvider', document.uri, at)).length, 5);
    assert.equal((await run('executeDocumentHighlights', document.uri, at)).length, 5);
  }),

  'signature help': onReceiver(async (document) => {
    const help = await run('executeSignatureHelpProvider', document.uri, rangeOf(document, 'tab s ').end);
    assert.match(help.signatures[0].label, /^tab/);
  }),

  'folds and selections': onReceiver(async (document) => {
    const folds = await run('executeFoldingRangeProvider', document.uri);
    assert.ok(folds.some((f) => f.start === rangeOf(document, 'plating wall').start.line));
    const [selection] = await run('executeSelectionRangeProvider', document.uri, [rangeOf(document, wide).end.translate(0, -4)]);
    assert.ok(selection.parent.parent.range.contains(selection.range));
  }),

  'hints, and the setting that ends them': onReceiver(async (document) => {
    const all = new vscode.Range(0, 0, document.lineCount, 0);
    const line = rangeOf(document, 'connector antenna').start.line;
    const shown = async () => (await run('executeInlayHintProvider', document.uri, all) ?? []).some((h) => h.position.line === line);
    assert.ok(await shown());
    const settings = vscode.workspace.getConfiguration('hemline');
    await settings.update('inlayHints.coordinates', false, vscode.ConfigurationTarget.Workspace);
    await until('no hint', async () => !await shown());
    await settings.update('inlayHints.coordinates', undefined, vscode.ConfigurationTarget.Workspace);
    await until('the hint', shown);
  }),

  'lenses and links': onReceiver(async (document) => {
    const lenses = await run('executeCodeLensProvider', document.uri, 10);
    assert.ok(lenses.some((l) => /plated/.test(l.command?.title)), JSON.stringify(lenses));
    const links = await run('executeLinkProvider', document.uri, 10);
    assert.ok(links.some((l) => /shops\/standard\.hem$/.test(l.target.path)));
  }),

  'the lens of the findings leads to them': onReceiver(async (document) => {
    await replace(document, '0.8 mm // the lid', '0.3 mm // the lid');
    await until('the finding', () => found(document, 'wrap_land').length === 1);
    const lens = await until('its lens', async () => (await run('executeCodeLensProvider', document.uri, 20)).find((l) => /^standard: 1 unbuildable/.test(l.command?.title)));
    await vscode.commands.executeCommand(lens.command.command, ...lens.command.arguments);
    await until('the cursor on it', () => {
      const editor = vscode.window.activeTextEditor;
      return editor?.document === document && found(document, 'wrap_land')[0].range.contains(editor.selection.active);
    });
  }),

  async 'a file that is renamed keeps its uses'() {
    const document = await open('uses.hem');
    const move = async (from, to) => {
      const edit = new vscode.WorkspaceEdit();
      edit.renameFile(uriOf(from), uriOf(to));
      assert.ok(await vscode.workspace.applyEdit(edit));
      await until(`use of ${to}`, () => document.getText().includes(`use "${to}"`));
    };
    await move('used.hem', 'moved.hem');
    await move('moved.hem', 'used.hem');
    await document.save();
  },

  'semantic tokens': onReceiver(async (document) => {
    const legend = await run('provideDocumentSemanticTokensLegend', document.uri);
    const tokens = await run('provideDocumentSemanticTokens', document.uri);
    assert.equal(legend.tokenTypes[tokens.data[3]], 'keyword'); // of the first token: hem
    assert.equal(tokens.data.length % 5, 0);
  }),

  async 'symbols of the workspace'() {
    const symbols = await run('executeWorkspaceSymbolProvider', 'wide');
    assert.ok(symbols.some((s) => s.location.uri.path.endsWith('/used.hem')), JSON.stringify(symbols));
  },

  async 'findings in files that are not open'() {
    const uri = uriOf('broken/receiver.hem');
    const expected = [...fs.readFileSync(uri.fsPath, 'utf8').matchAll(/\/\/ finds (.*)/g)].flatMap((m) => m[1].split(' ')).sort();
    await until('them', () => vscode.languages.getDiagnostics(uri).map(codeOf).sort().join(' ') === expected.join(' '));
  },

  'text is brought into form as a line ends': onReceiver(async (document) => {
    const settings = vscode.workspace.getConfiguration('editor');
    await settings.update('formatOnType', true, vscode.ConfigurationTarget.Workspace);
    await replace(document, wide, 'wrap top    bottom 0.8 mm');
    const edits = await run('executeFormatOnTypeProvider', document.uri,
      new vscode.Position(rangeOf(document, 'wrap top    bottom').start.line + 1, 0), '\n', { tabSize: 2, insertSpaces: true });
    assert.ok(edits.length > 0);
    await settings.update('formatOnType', undefined, vscode.ConfigurationTarget.Workspace);
  }),

  async 'the server starts anew when it is told to'() {
    const document = await open('receiver.hem');
    await vscode.commands.executeCommand('hemline.restart');
    await until('a hover', async () => (await run('executeHoverProvider', document.uri, rangeOf(document, 'wall {').start)).length === 1);
  },

  'comments': onReceiver(async (document) => {
    const { start } = rangeOf(document, 'marking none');
    vscode.window.activeTextEditor.selection = new vscode.Selection(start, start);
    await vscode.commands.executeCommand('editor.action.commentLine');
    assert.match(document.lineAt(start.line).text, /^\/\/ marking none/);
  }),

  // The last: it leads to a page outside, which the editor asks its user about.
  'the picture: opened, clicked, and told where the cursor is': onReceiver(async (document) => {
    const { uri } = await vscode.commands.executeCommand('hemline.picture');
    assert.match(uri, /^http:\/\/127\.0\.0\.1:\d+\/[\w-]{43}\/$/);
    let events = '';
    const stream = http.get(`${uri}events`, (answer) => answer.on('data', (text) => { events += text; }));
    try {
      await until('the board', () => events.includes('"id":"connector antenna"'));
      const body = '{"item":"connector reference"}';
      const headers = { 'Content-Type': 'application/json', 'Content-Length': body.length, Origin: new URL(uri).origin };
      http.request(`${uri}go`, { method: 'POST', headers }).end(body);
      const at = rangeOf(document, 'connector reference').start;
      await until('the cursor', () => vscode.window.activeTextEditor?.selection.start.isEqual(at));
      const { start } = rangeOf(document, 'tab w like');
      vscode.window.activeTextEditor.selection = new vscode.Selection(start, start);
      await until('the mark', () => events.includes('data: "tab w"'));
    } finally {
      stream.destroy();
    }
  }),
};
