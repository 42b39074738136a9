// Each part of the protocol once, asked by the protocol's own library; what
// the answers must be is in the tests of the server.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import test from 'node:test';
import { pathToFileURL } from 'node:url';
import * as p from 'vscode-languageserver-protocol/node.js';
import { place, rangeOf, start } from './client.mjs';

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'hemline features '));
fs.cpSync(new URL('../../examples', import.meta.url), folder, { recursive: true });
const write = (name, text) => fs.writeFileSync(path.join(folder, name), text);
const uriOf = (name) => pathToFileURL(path.join(folder, name)).toString();
const usedText = 'hem 1\nlet wide = 60 mm\n';
const usesText = 'hem 1\nuse "used.hem"\nboard b {\n  thickness 1.6 mm\n}\noutline rectangle wide by 40 mm\n';
write('used.hem', usedText);
write('uses.hem', usesText);

const uri = uriOf('receiver.hem');
const text = fs.readFileSync(path.join(folder, 'receiver.hem'), 'utf8');
const doc = { textDocument: { uri } };
const at = (words, step) => ({ ...doc, position: place(text, words, step) });
const whole = { start: { line: 0, character: 0 }, end: place(text, 'note "Lid') };

let client;
test.before(async () => {
  client = await start(folder);
  await client.open(uri, text);
  await client.open(uriOf('uses.hem'), usesText);
});
test.after(async () => {
  const code = await client.end();
  fs.rmSync(folder, { recursive: true });
  assert.equal(code, 0);
  assert.deepEqual(client.errors, []);
});

test('diagnostics are pulled, and pushed to nobody who pulls', async () => {
  assert.ok(client.initialized.capabilities.diagnosticProvider.workspaceDiagnostics);
  const first = await client.ask(p.DocumentDiagnosticRequest.type, doc);
  assert.deepEqual([first.kind, first.items], ['full', []]);
  const second = await client.ask(p.DocumentDiagnosticRequest.type, { ...doc, previousResultId: first.resultId });
  assert.equal(second.kind, 'unchanged');
  const { items } = await client.ask(p.WorkspaceDiagnosticRequest.type, { previousResultIds: [] });
  const broken = items.find((i) => i.uri === uriOf('broken/receiver.hem'));
  const expected = [...fs.readFileSync(path.join(folder, 'broken/receiver.hem'), 'utf8').matchAll(/\/\/ finds (.*)/g)].flatMap((m) => m[1].split(' '));
  assert.deepEqual(broken.items.map((d) => d.code).sort(), expected.sort());
  const again = await client.ask(p.WorkspaceDiagnosticRequest.type, { previousResultIds: items.map((i) => ({ uri: i.uri, value: i.resultId })) });
  assert.ok(again.items.every((i) => i.kind === 'unchanged'));
  assert.equal(client.published.size, 0);
});

test('signature help', async () => {
  const help = await client.ask(p.SignatureHelpRequest.type, at('tab s like scar', 6));
  assert.match(help.signatures[0].label, /^tab/);
  assert.ok(help.signatures[0].parameters.length > 1);
});

test('references and highlights', async () => {
  const references = await client.ask(p.ReferencesRequest.type, { ...at('typical scar', 9), context: { includeDeclaration: true } });
  assert.equal(references.length, 5);
  const highlights = await client.ask(p.DocumentHighlightRequest.type, at('typical scar', 9));
  assert.equal(highlights.length, 5);
});

test('a name in two files is renamed in both', async () => {
  const position = place(usesText, 'wide', 1);
  const params = { textDocument: { uri: uriOf('uses.hem') }, position };
  const prepared = await client.ask(p.PrepareRenameRequest.type, params);
  assert.deepEqual(prepared, { range: rangeOf(usesText, 'wide'), placeholder: 'wide' });
  const { documentChanges } = await client.ask(p.RenameRequest.type, { ...params, newName: 'breadth' });
  const edited = (name) => documentChanges.find((c) => c.textDocument.uri === uriOf(name)).edits.map(({ range, newText }) => ({ range, newText }));
  assert.deepEqual(edited('used.hem'), [{ range: rangeOf(usedText, 'wide'), newText: 'breadth' }]);
  assert.deepEqual(edited('uses.hem'), [{ range: rangeOf(usesText, 'wide'), newText: 'breadth' }]);
  await assert.rejects(client.ask(p.RenameRequest.type, { ...at('typical scar', 9), newName: 'wall' }), { code: p.LSPErrorCodes.RequestFailed });
  await assert.rejects(client.ask(p.PrepareRenameRequest.type, at('outline rectangle', 2)), { code: p.LSPErrorCodes.RequestFailed });
});

test('symbols of the workspace', async () => {
  const symbols = await client.ask(p.WorkspaceSymbolRequest.type, { query: 'wide' });
  assert.ok(symbols.some((s) => s.location.uri === uriOf('used.hem')), JSON.stringify(symbols));
});

test('formatting a range, and as is typed', async () => {
  const shifted = text.replace('wrap   top bottom', 'wrap top    bottom');
  await client.change(uri, 2, { text: shifted });
  const options = { tabSize: 2, insertSpaces: true };
  const here = rangeOf(shifted, 'wrap top    bottom');
  const edits = await client.ask(p.DocumentRangeFormattingRequest.type, { ...doc, range: here, options });
  assert.ok(edits.length > 0);
  const elsewhere = await client.ask(p.DocumentRangeFormattingRequest.type, { ...doc, range: rangeOf(shifted, 'marking none'), options });
  assert.deepEqual(elsewhere, []);
  const typed = await client.ask(p.DocumentOnTypeFormattingRequest.type, { ...doc, position: { line: here.end.line + 1, character: 0 }, ch: '\n', options });
  assert.ok(typed.length > 0);
  await client.change(uri, 3, { text });
});

test('folds and selections', async () => {
  const folds = await client.ask(p.FoldingRangeRequest.type, doc);
  assert.ok(folds.some((f) => f.startLine === place(text, 'plating wall {').line));
  const [selection] = await client.ask(p.SelectionRangeRequest.type, { ...doc, positions: [place(text, 'wrap   top bottom 0.8', 19)] });
  let depth = 0;
  for (let s = selection; s; s = s.parent) depth++;
  assert.ok(depth >= 4, JSON.stringify(selection));
});

test('semantic tokens: all, a part, and what has changed', async () => {
  const full = await client.ask(p.SemanticTokensRequest.type, doc);
  assert.equal(full.data.length % 5, 0);
  const part = await client.ask(p.SemanticTokensRangeRequest.type, { ...doc, range: rangeOf(text, 'plane on power net V3') });
  assert.equal(part.data.length / 5, 5);
  await client.change(uri, 4, { text: text.replace('marking none', 'marking   none') });
  const delta = await client.ask(p.SemanticTokensDeltaRequest.type, { ...doc, previousResultId: full.resultId });
  const changed = [...full.data];
  for (const e of [...delta.edits].reverse()) changed.splice(e.start, e.deleteCount, ...(e.data ?? []));
  const now = await client.ask(p.SemanticTokensRequest.type, doc);
  assert.deepEqual(changed, now.data);
  assert.ok(delta.edits.flatMap((e) => e.data ?? []).length < 20, 'little is sent again');
  await client.change(uri, 5, { text });
});

test('hints, lenses and links', async () => {
  const hints = await client.ask(p.InlayHintRequest.type, { ...doc, range: whole });
  assert.ok(hints.some((h) => h.position.line === place(text, 'connector antenna').line));
  const lenses = await client.ask(p.CodeLensRequest.type, doc);
  assert.ok(lenses.some((l) => l.range.start.line === place(text, 'plating wall').line && /plated/.test(l.command.title)), JSON.stringify(lenses));
  const links = await client.ask(p.DocumentLinkRequest.type, doc);
  assert.deepEqual(links.map((l) => l.target), [uriOf('shops/standard.hem'), uriOf('parts/launches.hem')]);
});

test('a name and its uses are edited together', async () => {
  const linked = await client.ask(p.LinkedEditingRangeRequest.type, at('typical scar', 9));
  assert.equal(linked.ranges.length, 5);
});

test('actions beyond quick fixes', async () => {
  const before = 'connector antenna like launch on west at ';
  const range = { start: place(text, before, before.length), end: place(text, before, before.length + '21 mm'.length) };
  const actions = await client.ask(p.CodeActionRequest.type, { ...doc, range, context: { diagnostics: [] } });
  assert.ok(actions.some((a) => a.kind === 'refactor.extract'), JSON.stringify(actions.map((a) => [a.kind, a.title])));
});

test('the client is asked for settings and to watch files', async () => {
  const methods = client.asked.map((a) => a.method);
  assert.ok(methods.includes('workspace/configuration'), methods.join(' '));
  const registered = client.asked.filter((a) => a.method === 'client/registerCapability').flatMap((a) => a.params.registrations.map((r) => r.method));
  assert.ok(registered.includes('workspace/didChangeWatchedFiles'), registered.join(' '));
});

test('a file that changes on disk is read again, and the client told to ask', async () => {
  const before = client.asked.length;
  write('used.hem', usedText.replace('wide', 'broad'));
  await client.connection.sendNotification(p.DidChangeWatchedFilesNotification.type, { changes: [{ uri: uriOf('used.hem'), type: p.FileChangeType.Changed }] });
  const params = { textDocument: { uri: uriOf('uses.hem') } };
  const { items } = await client.ask(p.DocumentDiagnosticRequest.type, params);
  assert.deepEqual(items.map((d) => d.code), ['unknown_name']);
  for (let i = 0; i < 100 && !client.asked.slice(before).some((a) => a.method === 'workspace/diagnostic/refresh'); i++) {
    await new Promise((resolve) => { setTimeout(resolve, 20); });
  }
  assert.ok(client.asked.slice(before).some((a) => a.method === 'workspace/diagnostic/refresh'));
  write('used.hem', usedText);
  await client.connection.sendNotification(p.DidChangeWatchedFilesNotification.type, { changes: [{ uri: uriOf('used.hem'), type: p.FileChangeType.Changed }] });
  assert.deepEqual((await client.ask(p.DocumentDiagnosticRequest.type, params)).items, []);
});
