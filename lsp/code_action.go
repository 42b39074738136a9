package lsp

import (
	"context"
	"encoding/json"
	"slices"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"hemline/checks"
	"hemline/checks/ways"
	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lsp/assist"
)

type codeActionParams struct {
	documentParams
	Range   textRange `json:"range"`
	Context struct {
		Only    []protocol.CodeActionKind `json:"only"`
		Trigger int                       `json:"triggerKind"`
	} `json:"context"`
}

func (s *server) codeAction(params json.RawMessage) (answer, error) {
	var p codeActionParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	world := s.docs.current()
	return func(ctx context.Context) (any, error) {
		actions, last := []protocol.CodeAction{}, []protocol.CodeAction{}
		var clean, costly []protocol.CodeAction // the ways out of findings
		var kinds []kind                        // the rules of the findings here that have a sure fix
		looked, text := 0, s.tries(world, doc)
		at := span(doc.file, p.Range, s.client.encoding)
		if wants(p.Context.Only, protocol.QuickFix) {
			for _, f := range doc.findings() {
				if touches(doc, &f, at) {
					about := []protocol.Diagnostic{s.toProtocol(world, doc, &f)}
					fixes, accept := s.quickFixes(doc, &f, about)
					if sure(&f) && !slices.ContainsFunc(kinds, func(k kind) bool { return k.rule == f.Rule }) {
						kinds = append(kinds, kind{f.Rule, about})
					}
					if looked++; p.Context.Trigger != automatic && looked <= mostLooked {
						if out, ok := s.waysOut(ctx, doc, text, &f); ok {
							own, some, others := s.ways(doc, &f, about, out)
							fixes, clean, costly = own, append(clean, some...), append(costly, others...)
						}
					}
					actions, last = append(actions, fixes...), append(last, accept...)
				}
			}
		}
		unasked := p.Context.Trigger == automatic && len(p.Context.Only) == 0
		if !unasked {
			actions = append(actions, s.fixesOfKinds(ctx, doc, text, kinds)...)
		}
		for _, x := range assist.Actions(doc.analysis(), at, world.limits(doc.analysis())) {
			var try func() *ways.Text // where a user asks
			if p.Context.Trigger != automatic && s.docs.engine.Ways != nil {
				try = text
			}
			if action := s.refactoring(ctx, world, doc, at, x, try); wants(p.Context.Only, action.Kind) {
				actions = append(actions, action)
			}
		}
		actions = append(append(actions, clean...), costly...)
		actions = append(actions, last...) // to accept what could be mended is the last resort
		if !unasked && wants(p.Context.Only, sourceFixAll) {
			actions = append(actions, s.fixAll(ctx, doc, text)...)
		}
		return actions, nil
	}, nil
}

// refactoring is an action of the author's own accord; one that ends a finding
// here is a quick fix of it, and says what else it brings.
func (s *server) refactoring(ctx context.Context, w *world, doc *document, at source.Span, x assist.Action, try func() *ways.Text) protocol.CodeAction {
	action := protocol.CodeAction{Title: source.Visible(x.Title), Kind: protocol.Refactor, Edit: s.workspaceEdit(doc, x.Edits)}
	switch {
	case strings.HasPrefix(x.Title, "extract"):
		action.Kind = protocol.RefactorExtract
	case x.Rewrite:
		action.Kind = protocol.RefactorRewrite
	}
	for _, f := range doc.findings() {
		if slices.Contains(x.Rules, f.Rule) && touches(doc, &f, at) {
			if try != nil {
				way, ok := try().Try(ctx, f, x.Title, x.Edits)
				if !ok {
					continue
				}
				action.Title = source.Visible(way.Says())
			}
			action.Kind = protocol.QuickFix
			action.Diagnostics = append(action.Diagnostics, s.toProtocol(w, doc, &f))
		}
	}
	return action
}

func touches(doc *document, f *finding.Located, at source.Span) bool {
	return f.File == doc.file && f.Span.Start <= at.End && at.Start <= f.Span.End
}

// wants tells whether a client that asks for some kinds only asks for this one:
// a kind stands for those below it.
func wants(only []protocol.CodeActionKind, kind protocol.CodeActionKind) bool {
	return len(only) == 0 || slices.ContainsFunc(only, func(k protocol.CodeActionKind) bool {
		return k == kind || strings.HasPrefix(string(kind), string(k)+".") || k == ""
	})
}

// quickFixes are a finding's own edit, and the offer to accept it.
func (s *server) quickFixes(doc *document, f *finding.Located, about []protocol.Diagnostic) (fixes, accept []protocol.CodeAction) {
	if edits, ok := s.editsOf(doc, f); ok {
		fixes = append(fixes, protocol.CodeAction{
			Title: f.Fix.Title, Kind: protocol.QuickFix, Diagnostics: about, IsPreferred: !f.Fix.Guess, Edit: s.workspaceEdit(doc, edits),
		})
	}
	if statement := checks.Acceptance(&f.Finding); statement != "" {
		end := source.Span{Start: doc.file.Len(), End: doc.file.Len()}
		statement += "\n"
		if text := doc.file.Text(); text != "" && !strings.HasSuffix(text, "\n") {
			statement = "\n" + statement
		}
		accept = append(accept, protocol.CodeAction{
			Title: "accept " + f.Rule + ", with a reason", Kind: protocol.QuickFix, Diagnostics: about,
			Edit: s.workspaceEdit(doc, []source.Edit{{Span: end, Text: statement}}),
		})
	}
	return fixes, accept
}

// editsOf locates a finding's edits; ok is false where there are none or one
// lies in another file.
func (s *server) editsOf(doc *document, f *finding.Located) (edits []source.Edit, ok bool) {
	if f.Fix == nil {
		return nil, false
	}
	for _, e := range f.Fix.Edits {
		file, at, found := s.docs.engine.Locate(doc.analysis(), e.Place)
		if !found || file != doc.file {
			return nil, false
		}
		edits = append(edits, source.Edit{Span: at, Text: e.Text})
	}
	return edits, true
}

func (s *server) workspaceEdit(doc *document, edits []source.Edit) *protocol.WorkspaceEdit {
	list := make([]protocol.TextEdit, len(edits))
	for i, e := range edits {
		list[i] = protocol.TextEdit{Range: s.client.textRange(doc.file, e.Span), NewText: e.Text}
	}
	if s.client.documentChanges {
		return s.versioned(doc, list)
	}
	return &protocol.WorkspaceEdit{Changes: map[uri.URI][]protocol.TextEdit{uri.URI(doc.uri): list}}
}
