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
	m := &menu{s: s, world: s.docs.current(), doc: doc, at: span(doc.file, p.Range, s.client.encoding)}
	m.user, m.asked = p.Context.Trigger != automatic, p.Context.Trigger != automatic || len(p.Context.Only) > 0
	m.text = s.tries(m.world, doc)
	return func(ctx context.Context) (any, error) {
		if wants(p.Context.Only, protocol.QuickFix) {
			for _, f := range doc.findings() {
				if touches(doc, &f, m.at) {
					m.finding(ctx, &f)
				}
			}
		}
		if m.asked {
			m.first = append(m.first, s.fixesOfKinds(ctx, doc, m.text, m.kinds)...)
		}
		for _, x := range assist.Actions(doc.analysis(), m.at, m.world.limits(doc.analysis())) {
			if action := m.refactoring(ctx, x); wants(p.Context.Only, action.Kind) {
				m.first = append(m.first, action)
			}
		}
		// To accept what could be mended is the last resort.
		actions := append([]protocol.CodeAction{}, slices.Concat(m.first, m.clean, m.costly, m.accept)...)
		if m.asked && wants(p.Context.Only, sourceFixAll) {
			actions = append(actions, s.fixAll(ctx, doc, m.text)...)
		}
		return actions, nil
	}, nil
}

// menu is what is offered at a place of a document.
type menu struct {
	s     *server
	world *world
	doc   *document
	at    source.Span
	text  func() *ways.Text
	user  bool // a user asks, and not the client by itself
	asked bool // or the client, for some kinds

	// In this order: findings' own fixes and an author's actions, the ways out of findings that bring
	// nothing, those that bring something, and to accept a finding.
	first, clean, costly, accept []protocol.CodeAction

	kinds  []kind // the rules of the findings here that have a sure fix
	looked int    // for how many findings ways were looked for
}

// finding offers what there is for a finding.
func (m *menu) finding(ctx context.Context, f *finding.Located) {
	about := []protocol.Diagnostic{m.s.toProtocol(m.world, m.doc, f)}
	if sure(f) && !slices.ContainsFunc(m.kinds, func(k kind) bool { return k.rule == f.Rule }) {
		m.kinds = append(m.kinds, kind{f.Rule, about})
	}
	fixes, accept := m.s.quickFixes(m.doc, f, about)
	if m.looked++; m.user && m.looked <= mostLooked {
		if out, ok := m.s.waysOut(ctx, m.doc, m.text, f); ok {
			own, clean, costly := m.s.ways(m.doc, f, about, out)
			fixes, m.clean, m.costly = own, append(m.clean, clean...), append(m.costly, costly...)
		}
	}
	m.first, m.accept = append(m.first, fixes...), append(m.accept, accept...)
}

// refactoring is an action of the author's own accord; one that ends a finding
// here is a quick fix of it, and says what else it brings.
func (m *menu) refactoring(ctx context.Context, x assist.Action) protocol.CodeAction {
	action := protocol.CodeAction{Title: source.Visible(x.Title), Kind: protocol.Refactor, Edit: m.s.workspaceEdit(m.doc, x.Edits)}
	switch {
	case strings.HasPrefix(x.Title, "extract"):
		action.Kind = protocol.RefactorExtract
	case x.Rewrite:
		action.Kind = protocol.RefactorRewrite
	}
	for _, f := range m.doc.findings() {
		if !slices.Contains(x.Rules, f.Rule) || !touches(m.doc, &f, m.at) {
			continue
		}
		if m.user && m.s.docs.engine.Ways != nil {
			way, ok := m.text().Try(ctx, f, x.Title, x.Edits)
			if !ok {
				continue
			}
			action.Title = source.Visible(way.Says())
		}
		action.Kind = protocol.QuickFix
		action.Diagnostics = append(action.Diagnostics, m.s.toProtocol(m.world, m.doc, &f))
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
		accept = append(accept, protocol.CodeAction{
			Title: "accept " + f.Rule + ", with a reason", Kind: protocol.QuickFix, Diagnostics: about,
			Edit: s.workspaceEdit(doc, []source.Edit{doc.file.Append(statement)}),
		})
	}
	return fixes, accept
}

// editsOf locates a finding's edits; ok is false where there are none or one
// lies in another file.
func (s *server) editsOf(doc *document, f *finding.Located) (edits []source.Edit, ok bool) {
	return f.Fix.In(doc.file, func(p source.Place) (*source.File, source.Span, bool) { return s.docs.engine.Locate(doc.analysis(), p) })
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
