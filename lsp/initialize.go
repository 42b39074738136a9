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
		unnecessary:  slices.Contains(td.PublishDiagnostics.TagSupport.ValueSet, protocol.DiagnosticTagUnnecessary),
		markdown:     prefersMarkdown(td.Hover.ContentFormat),
		snippets:     td.Completion.Item.Snippets,
		links:        td.Definition.LinkSupport,
		hierarchical: td.DocumentSymbol.Hierarchical,
	}
	if p.ProcessID != nil {
		go watchParent(*p.ProcessID, s.gone)
	}
	s.phase = running
	return initializeResult{
		Capabilities: serverCapabilities{
			PositionEncoding: name,
			ServerCapabilities: protocol.ServerCapabilities{
				TextDocumentSync: protocol.TextDocumentSyncOptions{
					OpenClose: true,
					Change:    protocol.TextDocumentSyncKindIncremental,
					Save:      &protocol.SaveOptions{},
				},
				HoverProvider:              true,
				CompletionProvider:         &protocol.CompletionOptions{TriggerCharacters: []string{" ", "\"", "/", "."}},
				CodeActionProvider:         protocol.CodeActionOptions{CodeActionKinds: []protocol.CodeActionKind{protocol.QuickFix, sourceFixAll}},
				DefinitionProvider:         true,
				DocumentSymbolProvider:     true,
				DocumentFormattingProvider: true,
				ExecuteCommandProvider:     &protocol.ExecuteCommandOptions{Commands: commandNames()},
			},
		},
		ServerInfo: protocol.ServerInfo{Name: "hemline", Version: s.version},
	}, nil
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
