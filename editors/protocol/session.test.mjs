import assert from 'node:assert/strict';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import test from 'node:test';
import { pathToFileURL } from 'node:url';
import * as rpc from 'vscode-jsonrpc/node.js';
import * as p from 'vscode-languageserver-protocol/node.js';
import { place, rangeOf, start } from './client.mjs';

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'hemline é '));
test.after(() => fs.rmSync(folder, { recursive: true }));
fs.cpSync(new URL('../../examples', import.meta.url), folder, { recursive: true });
const file = path.join(folder, 'receiver.hem');
const uri = pathToFileURL(file).toString();
const text = fs.readFileSync(file, 'utf8');
const doc = { textDocument: { uri } };

test('a session', async () => {
  // Pulled diagnostics have a test of their own: a server sends one kind alone.
  const { everything } = await import('./client.mjs');
  const { diagnostic, ...rest } = everything.textDocument;
  const client = await start(folder, { ...everything, textDocument: rest });
  const { capabilities } = client.initialized;
  assert.equal(capabilities.positionEncoding, 'utf-16');

  await client.open(uri, text);
  await client.found(uri, (d) => d.version === 1 && d.diagnostics.length === 0);

  const wide = 'wrap   top bottom 0.8 mm';
  await client.change(uri, 2, { range: rangeOf(text, wide), text: 'wrap   top bottom 0.3 mm' });
  const { diagnostics } = await client.found(uri, (d) => d.version === 2);
  assert.deepEqual(diagnostics.map((d) => [d.code, d.severity, d.source]), [['wrap_land', p.DiagnosticSeverity.Error, 'hemline']]);
  assert.deepEqual(diagnostics[0].range, rangeOf(text, wide));
  assert.match(diagnostics[0].relatedInformation[0].location.uri, /\/shops\/standard\.hem$/);

  const actions = await client.ask(p.CodeActionRequest.type, { ...doc, range: diagnostics[0].range, context: { diagnostics, only: ['quickfix'] } });
  let fix = actions.find((a) => a.isPreferred);
  assert.ok(fix, JSON.stringify(actions));
  if (!fix.edit) fix = await client.ask(p.CodeActionResolveRequest.type, fix);
  const edits = fix.edit.documentChanges ? fix.edit.documentChanges.flatMap((c) => c.edits) : fix.edit.changes[uri];
  await client.change(uri, 3, ...edits.map((e) => ({ range: e.range, text: e.newText })));
  await client.found(uri, (d) => d.version === 3 && d.diagnostics.length === 0);
  await client.change(uri, 4, { text });
  await client.found(uri, (d) => d.version === 4 && d.diagnostics.length === 0);

  const hover = await client.ask(p.HoverRequest.type, { ...doc, position: place(text, 'plating wall', 9) });
  assert.equal(hover.contents.kind, 'markdown');
  assert.match(hover.contents.value, /shielding bound of the wall/);

  const completion = await client.ask(p.CompletionRequest.type, { ...doc, position: place(text, '  along  all', 2) });
  const items = Array.isArray(completion) ? completion : completion.items;
  assert.ok(items.some((i) => i.label === 'wrap'), JSON.stringify(items.map((i) => i.label)));

  const definition = await client.ask(p.DefinitionRequest.type, { ...doc, position: place(text, 'like scar', 6) });
  assert.deepEqual(definition[0].targetSelectionRange, rangeOf(text, 'scar'));

  const symbols = await client.ask(p.DocumentSymbolRequest.type, doc);
  assert.ok(symbols.some((s) => s.name.includes('slope_receiver')));
  assert.deepEqual(await client.ask(p.DocumentFormattingRequest.type, { ...doc, options: { tabSize: 2, insertSpaces: true } }), []);

  await assert.rejects(client.ask('nobody/knows', {}), { code: rpc.ErrorCodes.MethodNotFound });
  assert.equal(await client.end(), 0);
  assert.deepEqual(client.errors, []);
});

test('a request that is cancelled is answered within 50 ms', async () => {
  const client = await start(folder);
  let gaps = '';
  for (let i = 0; i < 20_000; i++) gaps += `let a${i} = ${i} mm + a${Math.max(0, i - 1)} * 1\n`;
  const large = text + gaps;
  const other = pathToFileURL(path.join(folder, 'large.hem')).toString();
  const times = [];
  let cancelled = 0;
  for (let version = 1; version <= 5; version++) {
    if (version === 1) await client.open(other, large);
    else await client.change(other, version, { text: `${large}let last = ${version} mm\n` });
    const source = new rpc.CancellationTokenSource();
    const answer = client.connection.sendRequest(p.HoverRequest.type, { textDocument: { uri: other }, position: { line: 0, character: 0 } }, source.token)
      .then(() => 'answered', (error) => error.code);
    // What nobody knows is refused as soon as it is read: the text and the
    // question before it have been, too.
    await assert.rejects(client.ask('nobody/knows', {}));
    const before = performance.now();
    source.cancel();
    if (await answer === p.LSPErrorCodes.RequestCancelled) {
      cancelled++;
      times.push(performance.now() - before);
    }
  }
  assert.ok(cancelled > 0, 'every request was answered before it was cancelled');
  // The quickest: a machine with much to do lets a process wait now and then, and a
  // server that first ended what it was at would be late each time.
  assert.ok(Math.min(...times) <= 50, `answered after ${times.map((t) => t.toFixed(1))} ms`);
  assert.equal(await client.end(), 0);
});

test('a client that offers nothing has a server all the same', async () => {
  const client = await start(folder, {});
  await client.open(uri, `${text}plating wall {}\n`);
  const { diagnostics } = await client.found(uri, (d) => d.diagnostics.length > 0);
  assert.ok(diagnostics.every((d) => d.relatedInformation === undefined));
  const hover = await client.ask(p.HoverRequest.type, { ...doc, position: place(text, 'plating wall', 9) });
  assert.equal(typeof (hover.contents.value ?? hover.contents), 'string');
  assert.equal(await client.end(), 0);
});
