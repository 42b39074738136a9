package lsp

import (
	"context"
	"sync"

	"go.lsp.dev/protocol"

	"hemline/checks"
	"hemline/checks/ways"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// wayKey is a finding of one version of a document.
type wayKey struct {
	rule, message string
	span          source.Span
}

// automatic is the kind of trigger of a client that asks by itself, at every place that the
// cursor comes to; it is not told of ways, which take their time.
const automatic = 2

// mostLooked is for how many findings of one request ways are looked for: a menu of more helps nobody.
const mostLooked = 8

// waysOut are the ways out of a finding that are known after a look: ok is false where none was
// taken.
func (s *server) waysOut(ctx context.Context, doc *document, text func() *ways.Text, f *finding.Located) (out ways.Answer, ok bool) {
	if s.docs.engine.Ways == nil {
		return out, false
	}
	key := wayKey{f.Rule, f.Message, f.Span}
	kept, known := doc.ways.Load(key)
	if !known {
		kept = text().Out(ctx, *f)
		if ctx.Err() != nil {
			return out, false
		}
		doc.ways.Store(key, kept)
	}
	return kept.(ways.Answer), true
}

// ways are quick fixes of what was found by a look: the finding's own fix as it was tried, the
// ways that bring nothing else, and the others. Where there is none, a client that can show it is told why.
func (s *server) ways(doc *document, f *finding.Located, about []protocol.Diagnostic, out ways.Answer) (own, clean, costly []protocol.CodeAction) {
	action := func(w ways.Way) protocol.CodeAction {
		return protocol.CodeAction{Title: source.Visible(w.Says()), Kind: protocol.QuickFix, Diagnostics: about, Edit: s.workspaceEdit(doc, w.Edits)}
	}
	if out.Fix != nil {
		own = append(own, action(*out.Fix))
		own[0].IsPreferred = sure(f) && (len(out.Fix.Brings) == 0 || out.Fix.Shows)
	}
	for _, way := range out.Ways {
		if len(way.Brings) == 0 {
			clean = append(clean, action(way))
		} else {
			costly = append(costly, action(way))
		}
	}
	if out.Why != "" && s.client.disabled {
		costly = append(costly, protocol.CodeAction{
			Title: "no sure fix of " + f.Rule, Kind: protocol.QuickFix, Diagnostics: about, Disabled: &protocol.CodeActionDisable{Reason: out.Why},
		})
	}
	return own, clean, costly
}

// tries is what changes of a document are held against, once it is asked for. It is the
// request's: a document that has been read holds on to no world.
func (s *server) tries(w *world, doc *document) func() *ways.Text {
	return sync.OnceValue(func() *ways.Text {
		a := doc.analysis()
		return s.docs.engine.Ways(a, ways.Options{Check: checks.Options{Today: w.today, Limits: w.limits(a), Modes: s.docs.modes}, Read: s.docs.reader(w), Near: source.Beside})
	})
}
