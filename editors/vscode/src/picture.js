'use strict';
const vscode = require('vscode');

const PICTURE = 'hemline.picture';

/**
 * The part of the client's middleware that belongs to the picture. The client
 * registers the server's commands itself, so that the extension cannot register
 * the same one: what it can do is to give the command its arguments, since
 * nobody types them into the palette.
 */
function pictureMiddleware(clientOf) {
  let following;
  return {
    async executeCommand(command, args, next) {
      if (command !== PICTURE || args.length > 0) return next(command, args);
      const editor = vscode.window.activeTextEditor;
      const client = clientOf();
      if (editor?.document.languageId !== 'hem' || !client) {
        void vscode.window.showWarningMessage('hemline: a picture is shown of the .hem file in the active editor.');
        return undefined;
      }
      const convert = client.code2ProtocolConverter;
      const result = await next(command, [convert.asUri(editor.document.uri), convert.asPosition(editor.selection.active)]);
      following ??= vscode.window.onDidChangeTextEditorSelection((e) => tellCursor(clientOf(), e.textEditor));
      return result;
    },
    dispose: () => following?.dispose(),
  };
}

/** Tells the server where the cursor stands, which the picture marks. */
function tellCursor(client, editor) {
  if (!client?.isRunning() || editor.document.languageId !== 'hem') return;
  const convert = client.code2ProtocolConverter;
  void client.sendNotification('hemline/cursor', {
    textDocument: convert.asTextDocumentIdentifier(editor.document),
    position: convert.asPosition(editor.selection.active),
  });
}

module.exports = { pictureMiddleware };
