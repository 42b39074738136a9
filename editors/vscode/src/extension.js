'use strict';
const vscode = require('vscode');
const { LanguageClient } = require('vscode-languageclient/node');
const { pictureMiddleware } = require('./picture');
const { findServer } = require('./server');

let client;
const picture = pictureMiddleware(() => client);

async function start() {
  const setting = vscode.workspace.getConfiguration('hemline').get('path') || 'hemline';
  const command = findServer(setting);
  if (!command) {
    // Not awaited: the message may stay for as long as the user likes.
    void complain(setting);
    return;
  }
  client = new LanguageClient('hemline', 'hemline', { command, args: ['lsp'] }, {
    documentSelector: [{ language: 'hem' }],
    middleware: { executeCommand: picture.executeCommand },
  });
  await client.start();
  await vscode.commands.executeCommand('setContext', 'hemline.running', true);
}

async function complain(setting) {
  const settings = 'Open Settings';
  const chosen = await vscode.window.showErrorMessage(
    `hemline: cannot find the program "${setting}". Install hemline, or set "hemline.path" to where it is. `
      + 'Until then .hem files are coloured but not checked.', settings);
  if (chosen === settings) {
    await vscode.commands.executeCommand('workbench.action.openSettings', 'hemline.path');
  }
}

async function stop() {
  const running = client;
  client = undefined;
  await vscode.commands.executeCommand('setContext', 'hemline.running', false);
  await running?.stop();
}

async function restart() {
  try {
    await stop();
  } finally {
    await start();
  }
}

async function activate(context) {
  context.subscriptions.push(
    picture,
    vscode.commands.registerCommand('hemline.restart', restart),
    vscode.workspace.onDidChangeConfiguration((e) => (e.affectsConfiguration('hemline.path') ? restart() : undefined)),
  );
  await start();
}

module.exports = { activate, deactivate: stop };
