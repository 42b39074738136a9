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

// wayOut is what is known of a finding's ways out.
type wayOut struct {
	list []ways.Way
	why  string // none is sure
}

// waysOut are the ways out of a finding, as quick fixes: those that bring nothing else, and
// the others. Where none is known, a client that can is told why.
func (s *server) waysOut(ctx context.Context, w *world, doc *document, text func() *ways.Text, f *finding.Located) (clean, costly []protocol.CodeAction) {
	if s.docs.engine.Ways == nil {
		return nil, nil
	}
	key := wayKey{f.Rule, f.Message, f.Span}
	kept, known := doc.ways.Load(key)
	if !known {
		list, why := text().Out(ctx, *f)
		if ctx.Err() != nil {
			return nil, nil
		}
		kept = wayOut{list, why}
		doc.ways.Store(key, kept)
	}
	out := kept.(wayOut)
	about := []protocol.Diagnostic{s.toProtocol(w, doc, f)}
	for _, way := range out.list {
		action := protocol.CodeAction{Title: way.Says(), Kind: protocol.QuickFix, Diagnostics: about, Edit: s.workspaceEdit(doc, way.Edits)}
		if len(way.Brings) == 0 {
			clean = append(clean, action)
		} else {
			costly = append(costly, action)
		}
	}
	if out.why != "" && s.client.disabled {
		costly = append(costly, protocol.CodeAction{
			Title: "mend " + f.Rule, Kind: protocol.QuickFix, Diagnostics: about, Disabled: &protocol.CodeActionDisable{Reason: out.why},
		})
	}
	return clean, costly
}

// tries is what changes of a document are held against, once it is asked for. It is the
// request's: a document that has been read holds on to no world.
func (s *server) tries(w *world, doc *document) func() *ways.Text {
	return sync.OnceValue(func() *ways.Text {
		a := doc.analysis()
		return s.docs.engine.Ways(a, ways.Options{Check: checks.Options{Today: w.today, Limits: w.limits(a), Modes: s.docs.modes}, Read: s.docs.reader(w), Near: source.Beside})
	})
}
