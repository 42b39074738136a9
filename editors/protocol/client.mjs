// A client of the server that HEMLINE names, by the protocol's own library.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { after } from 'node:test';
import { pathToFileURL } from 'node:url';
import * as rpc from 'vscode-jsonrpc/node.js';
import * as p from 'vscode-languageserver-protocol/node.js';

const limit = 10_000; // milliseconds that an answer may take

// A test that fails leaves its server behind, which would keep the run alive.
const children = [];
after(() => children.forEach((child) => setTimeout(() => child.kill(), 2000).unref())); // after the file's own

/** What an editor offers that can do everything of version 3.17. */
export const everything = {
  general: { positionEncodings: ['utf-16', 'utf-8', 'utf-32'], markdown: { parser: 'marked' }, staleRequestSupport: { cancel: true, retryOnContentModified: [] } },
  window: { workDoneProgress: true, showDocument: { support: true }, showMessage: { messageActionItem: { additionalPropertiesSupport: true } } },
  workspace: {
    applyEdit: true, configuration: true, workspaceFolders: true,
    workspaceEdit: { documentChanges: true, resourceOperations: ['create', 'rename', 'delete'], failureHandling: 'textOnlyTransactional', normalizesLineEndings: true, changeAnnotationSupport: { groupsOnLabel: true } },
    didChangeConfiguration: { dynamicRegistration: true }, didChangeWatchedFiles: { dynamicRegistration: true, relativePatternSupport: true },
    symbol: { dynamicRegistration: true, resolveSupport: { properties: ['location.range'] } }, executeCommand: { dynamicRegistration: true },
    codeLens: { refreshSupport: true }, semanticTokens: { refreshSupport: true }, inlayHint: { refreshSupport: true }, diagnostics: { refreshSupport: true },
  },
  textDocument: {
    synchronization: { dynamicRegistration: true, willSave: true, willSaveWaitUntil: true, didSave: true },
    publishDiagnostics: { relatedInformation: true, versionSupport: true, codeDescriptionSupport: true, dataSupport: true, tagSupport: { valueSet: [1, 2] } },
    completion: {
      dynamicRegistration: true, contextSupport: true, insertTextMode: 2, completionList: { itemDefaults: ['commitCharacters', 'editRange', 'insertTextFormat', 'insertTextMode', 'data'] },
      completionItem: {
        snippetSupport: true, commitCharactersSupport: true, documentationFormat: ['markdown', 'plaintext'], deprecatedSupport: true, preselectSupport: true, tagSupport: { valueSet: [1] },
        insertReplaceSupport: true, resolveSupport: { properties: ['documentation', 'detail', 'additionalTextEdits'] }, insertTextModeSupport: { valueSet: [1, 2] }, labelDetailsSupport: true,
      },
    },
    hover: { dynamicRegistration: true, contentFormat: ['markdown', 'plaintext'] },
    signatureHelp: { dynamicRegistration: true, contextSupport: true, signatureInformation: { documentationFormat: ['markdown'], parameterInformation: { labelOffsetSupport: true }, activeParameterSupport: true } },
    definition: { dynamicRegistration: true, linkSupport: true }, references: { dynamicRegistration: true }, documentHighlight: { dynamicRegistration: true },
    documentSymbol: { dynamicRegistration: true, hierarchicalDocumentSymbolSupport: true, tagSupport: { valueSet: [1] }, labelSupport: true },
    codeAction: {
      dynamicRegistration: true, isPreferredSupport: true, disabledSupport: true, dataSupport: true, resolveSupport: { properties: ['edit'] }, honorsChangeAnnotations: true,
      codeActionLiteralSupport: { codeActionKind: { valueSet: ['', 'quickfix', 'refactor', 'refactor.extract', 'refactor.rewrite', 'source', 'source.fixAll'] } },
    },
    codeLens: { dynamicRegistration: true }, formatting: { dynamicRegistration: true }, rangeFormatting: { dynamicRegistration: true }, onTypeFormatting: { dynamicRegistration: true },
    rename: { dynamicRegistration: true, prepareSupport: true, prepareSupportDefaultBehavior: 1, honorsChangeAnnotations: true },
    documentLink: { dynamicRegistration: true, tooltipSupport: true }, foldingRange: { dynamicRegistration: true, rangeLimit: 5000, lineFoldingOnly: false },
    selectionRange: { dynamicRegistration: true }, linkedEditingRange: { dynamicRegistration: true }, inlayHint: { dynamicRegistration: true, resolveSupport: { properties: ['tooltip'] } },
    semanticTokens: {
      dynamicRegistration: true, formats: ['relative'], requests: { range: true, full: { delta: true } }, overlappingTokenSupport: true, multilineTokenSupport: true, augmentsSyntaxTokens: true,
      tokenTypes: ['namespace', 'type', 'variable', 'property', 'keyword', 'comment', 'string', 'number', 'operator', 'function', 'parameter'], tokenModifiers: ['declaration', 'definition', 'readonly', 'defaultLibrary'],
    },
    diagnostic: { dynamicRegistration: true, relatedDocumentSupport: true },
  },
};

/** A running server, initialized. The folder is that of its files. */
export async function start(folder, capabilities = everything) {
  const child = spawn(process.env.HEMLINE, ['lsp'], { stdio: ['pipe', 'pipe', 'inherit'] });
  children.push(child);
  const ended = once(child, 'exit');
  const connection = p.createProtocolConnection(new rpc.StreamMessageReader(child.stdout), new rpc.StreamMessageWriter(child.stdin));
  const client = { connection, child, published: new Map(), asked: [], errors: [], waiting: [] };
  connection.onError((error) => client.errors.push(error));
  connection.onNotification(p.PublishDiagnosticsNotification.type, (params) => {
    client.published.set(params.uri, params);
    client.waiting = client.waiting.filter((look) => !look());
  });
  const note = (type, answer) => connection.onRequest(type, (params) => {
    client.asked.push({ method: type.method, params });
    return answer(params);
  });
  note(p.ConfigurationRequest.type, ({ items }) => items.map(() => null));
  note(p.RegistrationRequest.type, () => undefined);
  note(p.WorkDoneProgressCreateRequest.type, () => undefined);
  note(p.ShowDocumentRequest.type, () => ({ success: true }));
  for (const { type } of [p.DiagnosticRefreshRequest, p.InlayHintRefreshRequest, p.CodeLensRefreshRequest, p.SemanticTokensRefreshRequest]) {
    note(type, () => undefined);
  }
  note(p.ApplyWorkspaceEditRequest.type, () => ({ applied: true }));
  connection.listen();

  const folderUri = pathToFileURL(folder).toString();
  client.initialized = await within(connection.sendRequest(p.InitializeRequest.type, {
    processId: process.pid, clientInfo: { name: 'test' }, locale: 'en', rootUri: folderUri, capabilities, trace: 'off',
    workspaceFolders: [{ uri: folderUri, name: 'boards' }],
  }));
  await connection.sendNotification(p.InitializedNotification.type, {});

  client.ask = (type, params) => within(connection.sendRequest(type, params));
  client.open = (uri, text, version = 1) => connection.sendNotification(p.DidOpenTextDocumentNotification.type, {
    textDocument: { uri, languageId: 'hem', version, text } });
  client.change = (uri, version, ...contentChanges) => connection.sendNotification(p.DidChangeTextDocumentNotification.type, {
    textDocument: { uri, version }, contentChanges });
  /** The diagnostics of a text once they are what is waited for. */
  client.found = (uri, ready) => within(new Promise((resolve) => {
    const look = () => {
      const params = client.published.get(uri);
      if (!params || !ready(params)) return false;
      resolve(params);
      return true;
    };
    if (!look()) client.waiting.push(look);
  }));
  /** Ends the session as the protocol has it; the exit code of the process. */
  client.end = async () => {
    await within(connection.sendRequest(p.ShutdownRequest.type));
    await connection.sendNotification(p.ExitNotification.type);
    const [code] = await within(ended);
    connection.dispose();
    return code;
  };
  return client;
}

export async function within(promise) {
  let timer;
  const late = new Promise((_, reject) => { timer = setTimeout(() => reject(new Error(`no answer within ${limit} ms`)), limit); });
  try {
    return await Promise.race([promise, late]);
  } finally {
    clearTimeout(timer);
  }
}

/** The place of a text's first occurrence of words, and a step into it. */
export function place(text, words, step = 0) {
  const at = text.indexOf(words);
  if (at < 0) throw new Error(`no ${words} in the text`);
  const before = text.slice(0, at + step).split('\n');
  return { line: before.length - 1, character: before.at(-1).length };
}

/** The range of a text's first occurrence of words. */
export function rangeOf(text, words) {
  return { start: place(text, words), end: place(text, words, words.length) };
}
