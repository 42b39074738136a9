// What a language server may send, by method, in the types of the protocol's
// own library. generate.mjs makes messages.json from the two interfaces.
import * as P from 'vscode-languageserver-protocol';

/** Answers: the result of each request of the client. */
export interface Results {
  'initialize': P.InitializeResult;
  'shutdown': null;
  'textDocument/hover': P.Hover | null;
  'textDocument/completion': P.CompletionItem[] | P.CompletionList | null;
  'completionItem/resolve': P.CompletionItem;
  'textDocument/signatureHelp': P.SignatureHelp | null;
  'textDocument/declaration': P.Declaration | P.LocationLink[] | null;
  'textDocument/definition': P.Definition | P.LocationLink[] | null;
  'textDocument/typeDefinition': P.Definition | P.LocationLink[] | null;
  'textDocument/implementation': P.Definition | P.LocationLink[] | null;
  'textDocument/references': P.Location[] | null;
  'textDocument/documentHighlight': P.DocumentHighlight[] | null;
  'textDocument/documentSymbol': P.DocumentSymbol[] | P.SymbolInformation[] | null;
  'textDocument/codeAction': (P.Command | P.CodeAction)[] | null;
  'codeAction/resolve': P.CodeAction;
  'textDocument/codeLens': P.CodeLens[] | null;
  'codeLens/resolve': P.CodeLens;
  'textDocument/documentLink': P.DocumentLink[] | null;
  'documentLink/resolve': P.DocumentLink;
  'textDocument/documentColor': P.ColorInformation[];
  'textDocument/colorPresentation': P.ColorPresentation[];
  'textDocument/formatting': P.TextEdit[] | null;
  'textDocument/rangeFormatting': P.TextEdit[] | null;
  'textDocument/onTypeFormatting': P.TextEdit[] | null;
  'textDocument/rename': P.WorkspaceEdit | null;
  'textDocument/prepareRename': P.PrepareRenameResult | null;
  'textDocument/foldingRange': P.FoldingRange[] | null;
  'textDocument/selectionRange': P.SelectionRange[] | null;
  'textDocument/linkedEditingRange': P.LinkedEditingRanges | null;
  'textDocument/semanticTokens/full': P.SemanticTokens | null;
  'textDocument/semanticTokens/full/delta': P.SemanticTokens | P.SemanticTokensDelta | null;
  'textDocument/semanticTokens/range': P.SemanticTokens | null;
  'textDocument/inlayHint': P.InlayHint[] | null;
  'inlayHint/resolve': P.InlayHint;
  'textDocument/inlineValue': P.InlineValue[] | null;
  'textDocument/moniker': P.Moniker[] | null;
  'textDocument/prepareCallHierarchy': P.CallHierarchyItem[] | null;
  'callHierarchy/incomingCalls': P.CallHierarchyIncomingCall[] | null;
  'callHierarchy/outgoingCalls': P.CallHierarchyOutgoingCall[] | null;
  'textDocument/prepareTypeHierarchy': P.TypeHierarchyItem[] | null;
  'typeHierarchy/supertypes': P.TypeHierarchyItem[] | null;
  'typeHierarchy/subtypes': P.TypeHierarchyItem[] | null;
  'textDocument/diagnostic': P.DocumentDiagnosticReport;
  'workspace/diagnostic': P.WorkspaceDiagnosticReport;
  'textDocument/willSaveWaitUntil': P.TextEdit[] | null;
  'workspace/symbol': P.SymbolInformation[] | P.WorkspaceSymbol[] | null;
  'workspaceSymbol/resolve': P.WorkspaceSymbol;
  'workspace/executeCommand': P.LSPAny;
  'workspace/willCreateFiles': P.WorkspaceEdit | null;
  'workspace/willRenameFiles': P.WorkspaceEdit | null;
  'workspace/willDeleteFiles': P.WorkspaceEdit | null;
}

type WorkDone = P.WorkDoneProgressBegin | P.WorkDoneProgressReport | P.WorkDoneProgressEnd;

/** Notifications and requests of the server: their params. */
export interface Params {
  'textDocument/publishDiagnostics': P.PublishDiagnosticsParams;
  'window/showMessage': P.ShowMessageParams;
  'window/showMessageRequest': P.ShowMessageRequestParams;
  'window/showDocument': P.ShowDocumentParams;
  'window/logMessage': P.LogMessageParams;
  'window/workDoneProgress/create': P.WorkDoneProgressCreateParams;
  'telemetry/event': P.LSPObject | P.LSPArray;
  '$/progress': { token: P.ProgressToken; value: WorkDone | P.WorkspaceDiagnosticReportPartialResult };
  '$/logTrace': P.LogTraceParams;
  '$/cancelRequest': { id: P.integer | string };
  'client/registerCapability': P.RegistrationParams;
  'client/unregisterCapability': P.UnregistrationParams;
  'workspace/applyEdit': P.ApplyWorkspaceEditParams;
  'workspace/configuration': P.ConfigurationParams;
  'workspace/workspaceFolders': null;
  'workspace/codeLens/refresh': null;
  'workspace/foldingRange/refresh': null;
  'workspace/semanticTokens/refresh': null;
  'workspace/inlayHint/refresh': null;
  'workspace/inlineValue/refresh': null;
  'workspace/diagnostic/refresh': null;
}

/** The error of an answer. */
export interface Failure {
  code: P.integer;
  message: string;
  data?: P.LSPAny;
}

export interface Messages { results: Results; params: Params; failure: Failure }
