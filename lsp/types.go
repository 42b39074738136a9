package lsp

import (
	"encoding/json"

	"go.lsp.dev/protocol"
)

// The types here stand in for those of the protocol library that are wrong or
// missing for version 3.17: optional parts that it cannot tell from zero, and
// position encodings. What a client sends is decoded only as far as the
// server reads it, so that a field it does not need cannot spoil a message.

// position is a place as a client sends it. JSON numbers are floating point
// in most clients, and some send the largest one for "the end of the line".
type position struct {
	Line      float64 `json:"line"`
	Character float64 `json:"character"`
}

type textRange struct {
	Start position `json:"start"`
	End   position `json:"end"`
}

type documentID struct {
	URI string `json:"uri"`
}

type documentParams struct {
	TextDocument documentID `json:"textDocument"`
}

func (p *documentParams) uri() string { return p.TextDocument.URI }

type positionParams struct {
	documentParams
	Position position `json:"position"`
}

type didOpenParams struct {
	TextDocument struct {
		URI     string `json:"uri"`
		Version *int32 `json:"version"`
		Text    string `json:"text"`
	} `json:"textDocument"`
}

type didChangeParams struct {
	TextDocument struct {
		URI     string `json:"uri"`
		Version *int32 `json:"version"`
	} `json:"textDocument"`
	ContentChanges []contentChange `json:"contentChanges"`
}

// contentChange replaces a range, or the whole text where there is none.
type contentChange struct {
	Range *textRange `json:"range"`
	Text  *string    `json:"text"` // nil where the client gave none
}

// publishParams always has a list, and keeps a version of 0.
type publishParams struct {
	URI         string                `json:"uri"`
	Version     *int32                `json:"version,omitempty"`
	Diagnostics []protocol.Diagnostic `json:"diagnostics"`
}

type initializeParams struct {
	ProcessID    *int               `json:"processId"`
	RootURI      string             `json:"rootUri"`
	Folders      []workspaceFolder  `json:"workspaceFolders"`
	Options      json.RawMessage    `json:"initializationOptions"`
	Capabilities clientCapabilities `json:"capabilities"`
}

// clientCapabilities is the part of them that the server asks about.
type clientCapabilities struct {
	General struct {
		PositionEncodings []string `json:"positionEncodings"`
	} `json:"general"`
	Window struct {
		Progress     bool `json:"workDoneProgress"`
		ShowDocument struct {
			Support bool `json:"support"`
		} `json:"showDocument"`
	} `json:"window"`
	Workspace struct {
		ApplyEdit     bool `json:"applyEdit"`
		WorkspaceEdit struct {
			DocumentChanges   bool      `json:"documentChanges"`
			ChangeAnnotations *struct{} `json:"changeAnnotationSupport"`
		} `json:"workspaceEdit"`
		Configuration          bool           `json:"configuration"`
		DidChangeConfiguration dynamicSupport `json:"didChangeConfiguration"`
		DidChangeWatchedFiles  dynamicSupport `json:"didChangeWatchedFiles"`
		Diagnostics            refreshSupport `json:"diagnostics"`
		InlayHint              refreshSupport `json:"inlayHint"`
		CodeLens               refreshSupport `json:"codeLens"`
	} `json:"workspace"`
	TextDocument struct {
		CodeAction struct {
			Disabled bool `json:"disabledSupport"`
		} `json:"codeAction"`
		Diagnostic *struct {
			RelatedDocuments bool `json:"relatedDocumentSupport"`
		} `json:"diagnostic"`
		SignatureHelp struct {
			Information struct {
				Parameters struct {
					LabelOffsets bool `json:"labelOffsetSupport"`
				} `json:"parameterInformation"`
			} `json:"signatureInformation"`
		} `json:"signatureHelp"`
		PublishDiagnostics struct {
			RelatedInformation bool `json:"relatedInformation"`
			CodeDescription    bool `json:"codeDescriptionSupport"`
			TagSupport         struct {
				ValueSet []protocol.DiagnosticTag `json:"valueSet"`
			} `json:"tagSupport"`
		} `json:"publishDiagnostics"`
		Hover struct {
			ContentFormat []protocol.MarkupKind `json:"contentFormat"`
		} `json:"hover"`
		Completion struct {
			Item struct {
				Snippets bool `json:"snippetSupport"`
			} `json:"completionItem"`
		} `json:"completion"`
		Definition struct {
			LinkSupport bool `json:"linkSupport"`
		} `json:"definition"`
		DocumentSymbol struct {
			Hierarchical bool `json:"hierarchicalDocumentSymbolSupport"`
		} `json:"documentSymbol"`
	} `json:"textDocument"`
}

type dynamicSupport struct {
	Registration bool `json:"dynamicRegistration"`
}

type refreshSupport struct {
	Refresh bool `json:"refreshSupport"`
}

type initializeResult struct {
	Capabilities serverCapabilities  `json:"capabilities"`
	ServerInfo   protocol.ServerInfo `json:"serverInfo"`
}

type serverCapabilities struct {
	PositionEncoding   string             `json:"positionEncoding"`
	DiagnosticProvider *diagnosticOptions `json:"diagnosticProvider,omitempty"`
	InlayHintProvider  bool               `json:"inlayHintProvider"`
	// SemanticTokens stands in for the library's, which has no legend.
	SemanticTokens semanticTokensOptions `json:"semanticTokensProvider"`
	protocol.ServerCapabilities
}

type semanticTokensOptions struct {
	Legend struct {
		TokenTypes     []string `json:"tokenTypes"`
		TokenModifiers []string `json:"tokenModifiers"`
	} `json:"legend"`
	Full  map[string]bool `json:"full"`
	Range bool            `json:"range"`
}

// sourceFixAll is a kind of code action that the library does not have.
const sourceFixAll protocol.CodeActionKind = "source.fixAll"
