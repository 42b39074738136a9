package lsp

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lsp/assist"
)

// client is what the client can take, in the words of this package.
type client struct {
	encoding     source.Encoding
	related      bool // diagnostics may point at other places
	descriptions bool // a diagnostic's code may be a link
	unnecessary  bool // diagnostics may be tagged so
	markdown     bool
	snippets     bool // what a completion writes may have stops
	links        bool // a definition may say more than a place
	hierarchical bool // symbols may have children
	disabled     bool // a code action may say why it cannot be made
	appliesEdits bool // it makes edits that the server sends
	labelOffsets bool // a signature's parameters may be ends in its label

	pulls                bool // it asks for diagnostics, so that none are sent
	relatedDocuments     bool // such an answer may speak of other texts
	progress             bool // the server may show how far it is
	configuration        bool // it may be asked for settings
	configurationChanges bool // it tells of changes to them if asked to
	watching             bool // it tells of files that change on disk if asked to
	showsDocuments       bool // it opens a document or an address for the server
	documentChanges      bool // a change may name the version of the text that it is of
	annotations          bool // a change's places may be labelled

	// It may be told to ask again for these.
	diagnosticRefresh, inlayHintRefresh, codeLensRefresh bool
}

func (c client) position(f *source.File, offset int) protocol.Position {
	p := f.Position(offset, c.encoding)
	return protocol.Position{Line: uint32(p.Line), Character: uint32(p.Column)}
}

func (c client) textRange(f *source.File, s source.Span) protocol.Range {
	return protocol.Range{Start: c.position(f, s.Start), End: c.position(f, s.End)}
}

// uriOf is the URI of a file as this client knows it: its own spelling where
// the file is open.
func (w *world) uriOf(doc *document, f *source.File) string {
	path := f.Path()
	if path == doc.file.Path() {
		return doc.uri
	}
	return w.uriOfPath(path)
}

func (w *world) uriOfPath(path string) string {
	if other, ok := w.byPath[absolute(path)]; ok {
		return other.uri
	}
	if other, ok := w.byURI[path]; ok {
		return other.uri // a text without a path goes under its URI
	}
	return uriOf(path)
}

func severity(c finding.Category) protocol.DiagnosticSeverity {
	switch c {
	case finding.Tidy:
		return protocol.DiagnosticSeverityHint
	case finding.Costly:
		return protocol.DiagnosticSeverityInformation
	case finding.Risky:
		return protocol.DiagnosticSeverityWarning
	default:
		return protocol.DiagnosticSeverityError
	}
}

// idle are the rules whose findings are text that does nothing, which an
// editor may show faded.
var idle = []string{"gap_idle", "name_unused", "relief_idle"}

// toProtocol converts a finding of doc.
func (s *server) toProtocol(w *world, doc *document, found *finding.Located) protocol.Diagnostic {
	d := protocol.Diagnostic{
		Range:    s.client.textRange(found.File, found.Span),
		Severity: severity(found.Category),
		Code:     found.Rule,
		Source:   "hemline",
		Message:  doc.named(found.Message),
	}
	if s.client.descriptions {
		if place := s.rulePlace(found.Rule); place != "" {
			d.CodeDescription = &protocol.CodeDescription{Href: uri.URI(place)}
		}
	}
	if s.client.unnecessary && slices.Contains(idle, found.Rule) {
		d.Tags = []protocol.DiagnosticTag{protocol.DiagnosticTagUnnecessary}
	}
	for _, related := range found.Related {
		file, span, ok := s.docs.engine.Locate(doc.analysis(), related.Place)
		switch {
		case !ok:
			d.Message += "\n" + related.Message
		case s.client.related:
			d.RelatedInformation = append(d.RelatedInformation, protocol.DiagnosticRelatedInformation{
				Location: protocol.Location{URI: uri.URI(w.uriOf(doc, file)), Range: s.client.textRange(file, span)},
				Message:  doc.named(related.Message),
			})
		default:
			d.Message += "\n" + mention(found.File, file, span) + ": " + related.Message
		}
	}
	return d
}

// named names files in a message as the text would name them.
func (doc *document) named(message string) string { return lang.NamedFrom(doc.path, message) }

// mention names a place for people, lines counted from 1.
func mention(from, file *source.File, span source.Span) string {
	line := file.LineOf(span.Start) + 1
	if file.Path() == from.Path() {
		return fmt.Sprintf("line %d", line)
	}
	return fmt.Sprintf("%s:%d", source.Visible(filepath.Base(file.Path())), line)
}

// symbolKinds gives the entries of an outline the icon that fits best among those
// that editors have. A test holds it to the symbols that there are.
var symbolKinds = map[board.Symbol]protocol.SymbolKind{
	board.SymbolObject:   protocol.SymbolKindObject,
	board.SymbolModule:   protocol.SymbolKindModule,
	board.SymbolConstant: protocol.SymbolKindConstant,
	board.SymbolText:     protocol.SymbolKindString,
	board.SymbolList:     protocol.SymbolKindArray,
	board.SymbolFile:     protocol.SymbolKindFile,
	board.SymbolNumber:   protocol.SymbolKindNumber,
}

// symbolName is never blank, as the protocol asks.
func symbolName(s assist.Symbol) string {
	if strings.TrimSpace(s.Name) != "" {
		return source.Visible(s.Name)
	}
	return s.Kind
}
