package lsp

import (
	"encoding/json"
	"slices"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// initialize is answered on the read loop, so that what follows finds the
// client's abilities known.
func (s *server) initialize(params json.RawMessage) (any, error) {
	if s.phase != fresh {
		return nil, jsonrpc2.NewError(jsonrpc2.InvalidRequest, "initialize was asked for before")
	}
	var p initializeParams
	if err := decode(params, &p); err != nil {
		return nil, err
	}
	name, enc := encoding(p.Capabilities.General.PositionEncodings)
	td := p.Capabilities.TextDocument
	s.client = client{
		encoding:     enc,
		related:      td.PublishDiagnostics.RelatedInformation,
		descriptions: td.PublishDiagnostics.CodeDescription,
		unnecessary:  slices.Contains(td.PublishDiagnostics.TagSupport.ValueSet, protocol.DiagnosticTagUnnecessary),
		markdown:     prefersMarkdown(td.Hover.ContentFormat),
		snippets:     td.Completion.Item.Snippets,
		links:        td.Definition.LinkSupport,
		hierarchical: td.DocumentSymbol.Hierarchical,
		disabled:     td.CodeAction.Disabled,
		appliesEdits: p.Capabilities.Workspace.ApplyEdit,
		labelOffsets: td.SignatureHelp.Information.Parameters.LabelOffsets,
	}
	s.client.asks(&p.Capabilities)
	s.docs.atOnce = s.client.pulls && !s.client.diagnosticRefresh
	folders := folderPaths(p.Folders)
	if len(p.Folders) == 0 && p.RootURI != "" {
		folders = folderPaths([]workspaceFolder{{p.RootURI}})
	}
	s.workspace.set(folders)
	if len(p.Options) > 0 {
		s.applySettings(p.Options)
	}
	if p.ProcessID != nil {
		watchParent(*p.ProcessID, s.gone)
	}
	s.phase = running
	go s.followDays()
	return initializeResult{Capabilities: s.capabilities(name), ServerInfo: protocol.ServerInfo{Name: "hemline", Version: s.version}}, nil
}

// asks notes what the client may be asked and what it asks for by itself.
func (c *client) asks(p *clientCapabilities) {
	c.pulls = p.TextDocument.Diagnostic != nil
	c.relatedDocuments = c.pulls && p.TextDocument.Diagnostic.RelatedDocuments
	c.progress = p.Window.Progress
	c.documentChanges = p.Workspace.WorkspaceEdit.DocumentChanges
	c.annotations = c.documentChanges && p.Workspace.WorkspaceEdit.ChangeAnnotations != nil
	c.showsDocuments = p.Window.ShowDocument.Support
	c.configuration = p.Workspace.Configuration
	c.configurationChanges = p.Workspace.DidChangeConfiguration.Registration
	c.watching = p.Workspace.DidChangeWatchedFiles.Registration
	c.diagnosticRefresh = p.Workspace.Diagnostics.Refresh
	c.inlayHintRefresh = p.Workspace.InlayHint.Refresh
	c.codeLensRefresh = p.Workspace.CodeLens.Refresh
}

// capabilities are what the server can do for this client.
func (s *server) capabilities(encoding string) serverCapabilities {
	can := serverCapabilities{
		PositionEncoding:  encoding,
		InlayHintProvider: true,
		ServerCapabilities: protocol.ServerCapabilities{
			TextDocumentSync: protocol.TextDocumentSyncOptions{
				OpenClose: true,
				Change:    protocol.TextDocumentSyncKindIncremental,
				Save:      &protocol.SaveOptions{},
			},
			HoverProvider:                    true,
			CompletionProvider:               &protocol.CompletionOptions{TriggerCharacters: []string{" ", "\"", "/", "."}},
			CodeActionProvider:               protocol.CodeActionOptions{CodeActionKinds: []protocol.CodeActionKind{protocol.QuickFix, protocol.Refactor, protocol.RefactorExtract, protocol.RefactorRewrite, sourceFixAll}},
			DefinitionProvider:               true,
			DocumentSymbolProvider:           true,
			DocumentFormattingProvider:       true,
			DocumentRangeFormattingProvider:  true,
			DocumentOnTypeFormattingProvider: &protocol.DocumentOnTypeFormattingOptions{FirstTriggerCharacter: onTypeFirst, MoreTriggerCharacter: []string{onTypeLine}},
			SignatureHelpProvider:            &protocol.SignatureHelpOptions{TriggerCharacters: []string{" "}},
			ReferencesProvider:               true,
			DocumentHighlightProvider:        true,
			RenameProvider:                   &protocol.RenameOptions{PrepareProvider: true},
			LinkedEditingRangeProvider:       true,
			WorkspaceSymbolProvider:          true,
			FoldingRangeProvider:             true,
			SelectionRangeProvider:           true,
			CodeLensProvider:                 &protocol.CodeLensOptions{},
			DocumentLinkProvider:             &protocol.DocumentLinkOptions{},
			Workspace: &protocol.ServerCapabilitiesWorkspace{WorkspaceFolders: &protocol.ServerCapabilitiesWorkspaceFolders{Supported: true, ChangeNotifications: true},
				FileOperations: &protocol.ServerCapabilitiesWorkspaceFileOperations{WillRename: fileOperations(), DidRename: fileOperations()}},
			ExecuteCommandProvider: &protocol.ExecuteCommandOptions{Commands: commandNames()},
		},
	}
	can.SemanticTokens.Legend.TokenTypes, can.SemanticTokens.Legend.TokenModifiers = tokenTypes, tokenModifiers
	can.SemanticTokens.Full, can.SemanticTokens.Range = map[string]bool{"delta": true}, true
	if s.client.pulls {
		can.DiagnosticProvider = &diagnosticOptions{Identifier: section, InterFileDependencies: true, WorkspaceDiagnostics: true}
	}
	return can
}

// prefersMarkdown follows the order in which a client lists the formats.
func prefersMarkdown(formats []protocol.MarkupKind) bool {
	for _, format := range formats {
		switch format {
		case protocol.Markdown:
			return true
		case protocol.PlainText:
			return false
		}
	}
	return false
}
