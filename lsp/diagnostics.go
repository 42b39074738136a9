package lsp

import (
	"cmp"
	"context"
	"maps"
	"reflect"
	"slices"

	"go.lsp.dev/protocol"

	"hemline/lang/finding"
)

// publisher checks open documents and publishes what is found. It is one
// goroutine without any timer: it takes the newest state, and by the time it
// comes back for more, whatever was typed meanwhile is one state again. Since
// nobody else publishes, nothing older ever follows something newer.
type publisher struct {
	server *server
	waking chan struct{} // holds one
	done   chan struct{}

	// Only the goroutine's own.
	reports map[string]*report               // by the URI of the document checked
	shown   map[string][]protocol.Diagnostic // by URI, what the client has last been told
}

// report is what checking one version of a document has found, by the text in
// which it lies. Those of the document's own text are under its own URI.
type report struct {
	doc   *document
	found map[string][]finding.Located
}

func newPublisher(s *server) *publisher {
	return &publisher{
		server:  s,
		waking:  make(chan struct{}, 1),
		done:    make(chan struct{}),
		reports: map[string]*report{},
		shown:   map[string][]protocol.Diagnostic{},
	}
}

// wake says that there is a new state. Only the read loop may call it.
func (p *publisher) wake() {
	select {
	case p.waking <- struct{}{}:
	default: // it will come for the newest anyway
	}
}

// stop lets the publisher end once it has caught up; wake must not follow.
func (p *publisher) stop() { close(p.waking) }

func (p *publisher) run() {
	defer close(p.done)
	for range p.waking {
		for p.catchUp() {
		}
	}
}

// catchUp goes once through the documents that have changed since they were
// last checked, and tells whether there were any. It takes each at its newest,
// in the order in which they changed, so that none has to wait for ever.
func (p *publisher) catchUp() (busy bool) {
	docs := p.server.docs
	for uri, old := range p.reports {
		if world := docs.current(); world.byURI[uri] == nil {
			delete(p.reports, uri)
			p.send(uri, nil, nil)
			p.refresh(world, old)
		}
	}
	for _, listed := range docs.current().inOrder() {
		doc := docs.current().byURI[listed.uri]
		if doc == nil || p.reports[doc.uri] != nil && p.reports[doc.uri].doc == doc {
			continue
		}
		busy = true
		p.check(doc)
	}
	return busy
}

// check publishes what is found in a document, unless it has been replaced in
// the meantime.
func (p *publisher) check(doc *document) {
	found := p.findings(doc)
	world := p.server.docs.current()
	if world.byURI[doc.uri] != doc {
		return
	}
	old, next := p.reports[doc.uri], &report{doc: doc, found: map[string][]finding.Located{}}
	p.reports[doc.uri] = next // from here on the document counts as checked, whatever happens
	defer p.server.rescue("publishing "+doc.uri, nil)
	for _, f := range found {
		uri := world.uriOf(doc, f.File)
		next.found[uri] = append(next.found[uri], f)
	}
	p.send(doc.uri, doc.version, p.list(world, doc.uri))
	p.refresh(world, old, next)
}

// findings checks a document. A defect in a rule costs this document's
// findings and is shown in their place.
func (p *publisher) findings(doc *document) (found []finding.Located) {
	failed := true
	defer func() {
		if failed {
			found = []finding.Located{{Finding: finding.Finding{
				Rule:     "internal_defect",
				Category: finding.Language,
				Message:  "hemline has a defect and cannot check this text; its log says where",
			}, File: doc.file}}
		}
	}()
	defer p.server.rescue("diagnostics of "+doc.uri, nil)
	found = doc.findings()
	failed = false
	return found
}

// refresh publishes the texts besides the documents' own in which reports
// have found something, where that has changed.
func (p *publisher) refresh(world *world, reports ...*report) {
	for _, r := range reports {
		if r == nil {
			continue
		}
		for _, uri := range slices.Sorted(maps.Keys(r.found)) {
			if uri == r.doc.uri {
				continue
			}
			var version *int32
			if open := world.byURI[uri]; open != nil {
				if own := p.reports[uri]; own == nil || own.doc != open {
					continue // it is going to be checked itself
				}
				version = open.version
			}
			if list := p.list(world, uri); !reflect.DeepEqual(list, p.shown[uri]) {
				p.send(uri, version, list)
			}
		}
	}
}

// list is everything found in one text: by its own check first, then by those
// of the texts that use it, each thing once. Reports on a state that is no
// more do not count.
func (p *publisher) list(world *world, uri string) []protocol.Diagnostic {
	var list []protocol.Diagnostic
	add := func(r *report) {
		for i := range r.found[uri] {
			list = append(list, p.server.diagnostic(world, r.doc, &r.found[uri][i]))
		}
	}
	if own := p.reports[uri]; own != nil && world.byURI[uri] == own.doc {
		add(own)
	}
	before := len(list)
	for _, root := range slices.Sorted(maps.Keys(p.reports)) {
		if r := p.reports[root]; root != uri && world.byURI[root] == r.doc {
			add(r)
		}
	}
	if len(list) == before {
		return list
	}
	slices.SortStableFunc(list, func(a, b protocol.Diagnostic) int {
		return cmp.Or(
			comparePositions(a.Range.Start, b.Range.Start),
			comparePositions(a.Range.End, b.Range.End),
			cmp.Compare(a.Code.(string), b.Code.(string)),
			cmp.Compare(a.Message, b.Message),
		)
	})
	return slices.CompactFunc(list, func(a, b protocol.Diagnostic) bool {
		return a.Range == b.Range && a.Code == b.Code && a.Message == b.Message
	})
}

func comparePositions(a, b protocol.Position) int {
	return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Character, b.Character))
}

func (p *publisher) send(uri string, version *int32, list []protocol.Diagnostic) {
	if len(list) == 0 {
		delete(p.shown, uri)
		list = []protocol.Diagnostic{}
	} else {
		p.shown[uri] = list
	}
	params := publishParams{URI: uri, Version: version, Diagnostics: list}
	// A client that takes nothing more is noticed by the stream.
	_ = p.server.conn.Notify(context.Background(), protocol.MethodTextDocumentPublishDiagnostics, params)
}
