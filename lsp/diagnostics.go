package lsp

import (
	"cmp"
	"context"
	"maps"
	"reflect"
	"slices"
	"sync/atomic"

	"go.lsp.dev/protocol"

	"hemline/checks"
	"hemline/lang/finding"
)

// publisher checks open documents and publishes what is found. It is one
// goroutine without any timer: it takes the newest state, and by the time it
// comes back for more, whatever was typed meanwhile is one state again. Since
// nobody else publishes, nothing older ever follows something newer.
type publisher struct {
	server   *server
	waking   chan struct{} // holds one
	stopping atomic.Bool
	done     chan struct{}

	// Only the goroutine's own.
	reports map[string]*report       // by the URI of the document checked
	aside   map[string]bool          // URIs whose lists wait to be shown
	shown   map[string]publishParams // by URI, what the client has last been told, or would have been
	sends   bool                     // whether it is told
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
		aside:   map[string]bool{},
		shown:   map[string]publishParams{},
	}
}

// wake says that there is a new state.
func (p *publisher) wake() {
	select {
	case p.waking <- struct{}{}:
	default: // it will come for the newest anyway
	}
}

// stop lets the publisher end once it has caught up.
func (p *publisher) stop() {
	p.stopping.Store(true)
	p.wake()
}

func (p *publisher) run() {
	defer close(p.done)
	for range p.waking {
		last := p.stopping.Load() // before the work: what was typed after it wakes once more
		p.catchUp()
		if last {
			return
		}
	}
}

// catchUp checks whatever has changed since it was last checked, what changed
// longest ago first, each at its newest. Lists of texts in which the check of
// another text has found something wait for the end, when all checks are of
// the same state; else they would come and go.
func (p *publisher) catchUp() {
	docs := p.server.docs
	for {
		world := docs.current()
		p.turn()
		p.dropClosed(world)
		doc := p.stalest(world)
		if doc == nil {
			p.showAside(world)
			return
		}
		p.check(doc)
	}
}

// turn begins to tell the client, or ends it, where that is to be otherwise than
// it was. A client that pulls after all is left nothing of what it was sent.
func (p *publisher) turn() {
	sends := p.server.sends()
	if sends == p.sends {
		return
	}
	p.sends = true
	for _, uri := range slices.Sorted(maps.Keys(p.shown)) {
		told := p.shown[uri]
		if !sends {
			told.Diagnostics = []protocol.Diagnostic{}
		}
		p.send(uri, told.Version, told.Diagnostics)
	}
	p.sends = sends
}

// dropClosed clears what was shown of texts that are no longer open.
func (p *publisher) dropClosed(world *world) {
	for uri, r := range p.reports {
		if world.byURI[uri] == nil {
			delete(p.reports, uri)
			delete(p.shown, uri)
			p.send(uri, nil, []protocol.Diagnostic{})
			p.server.modes.want(uri, nil)
			p.note(r)
		}
	}
}

// stalest is the document whose last report is not of its present state and
// that changed longest ago; nil where there is none.
func (p *publisher) stalest(world *world) (stalest *document) {
	for uri, doc := range world.byURI {
		if r := p.reports[uri]; (r == nil || r.doc != doc) && (stalest == nil || doc.serial < stalest.serial) {
			stalest = doc
		}
	}
	return stalest
}

// check publishes what is found in a document, unless it has been replaced in
// the meantime.
func (p *publisher) check(doc *document) {
	p.server.findings(doc)
	world := p.server.docs.current()
	if world.byURI[doc.uri] != doc {
		return
	}
	old, next := p.reports[doc.uri], p.server.reportOf(world, doc)
	p.reports[doc.uri] = next // from here on the document counts as checked, whatever happens
	defer p.server.rescue("publishing "+doc.uri, nil)
	p.show(doc.uri, doc.version, p.server.listOf(world, p.reports, doc.uri))
	out := p.server.outcome(doc)
	p.server.pictures.offer(doc, out)
	p.server.modes.want(doc.uri, out.Waits)
	p.note(old)
	p.note(next)
}

// reportOf checks a document, or takes what its check has found.
func (s *server) reportOf(w *world, doc *document) *report {
	r := &report{doc: doc, found: map[string][]finding.Located{}}
	floor := w.settings.floor()
	for _, f := range s.findings(doc) {
		if f.Category >= floor {
			uri := w.uriOf(doc, f.File)
			r.found[uri] = append(r.found[uri], f)
		}
	}
	return r
}

// note keeps in mind the texts besides its own that a report speaks of.
func (p *publisher) note(r *report) {
	if r == nil {
		return
	}
	for uri := range r.found {
		if uri != r.doc.uri {
			p.aside[uri] = true
		}
	}
}

// showAside publishes the lists that waited. Every report is of this world.
func (p *publisher) showAside(world *world) {
	uris := slices.Sorted(maps.Keys(p.aside))
	clear(p.aside)
	defer p.server.rescue("publishing what is found in used files", nil)
	for _, uri := range uris {
		var version *int32
		if open := world.byURI[uri]; open != nil {
			version = open.version
		}
		p.show(uri, version, p.server.listOf(world, p.reports, uri))
	}
}

// findings are what checking a document has found.
func (s *server) findings(doc *document) []finding.Located { return s.outcome(doc).Findings }

// outcome checks a document. A defect in a rule costs this document's
// findings and is shown in their place.
func (s *server) outcome(doc *document) (out checks.Outcome) {
	failed := true
	defer func() {
		if failed {
			out = checks.Outcome{Findings: []finding.Located{{Finding: finding.Finding{
				Rule:     "internal_defect",
				Category: finding.Language,
				Message:  "hemline has a defect and cannot check this text; its log says where",
			}, File: doc.file}}}
		}
	}()
	defer s.rescue("diagnostics of "+doc.uri, nil)
	out = doc.outcome()
	failed = false
	return out
}

// listOf is everything found in one text: by its own check first, then by those
// of the texts that use it, each thing once. Reports on a state that is no
// more do not count.
func (s *server) listOf(world *world, reports map[string]*report, uri string) []protocol.Diagnostic {
	list := []protocol.Diagnostic{}
	add := func(r *report) {
		for i := range r.found[uri] {
			list = append(list, s.toProtocol(world, r.doc, &r.found[uri][i]))
		}
	}
	current := func(r *report) bool { return r.doc.closed || world.byURI[r.doc.uri] == r.doc }
	if own := reports[uri]; own != nil && current(own) {
		add(own)
	}
	before := len(list)
	for _, root := range slices.Sorted(maps.Keys(reports)) {
		if r := reports[root]; root != uri && current(r) {
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

// show tells the client what it does not know yet: each new version of an
// open text, and a list that is another.
func (p *publisher) show(uri string, version *int32, list []protocol.Diagnostic) {
	told, ok := p.shown[uri]
	switch {
	case !ok && version == nil && len(list) == 0:
		return // a text that is not open and was never wrong
	case ok && reflect.DeepEqual(told.Version, version) && reflect.DeepEqual(told.Diagnostics, list):
		return
	}
	p.shown[uri] = p.send(uri, version, list)
	if version == nil && len(list) == 0 {
		delete(p.shown, uri)
	}
}

func (p *publisher) send(uri string, version *int32, list []protocol.Diagnostic) publishParams {
	params := publishParams{URI: uri, Version: version, Diagnostics: list}
	if !p.sends {
		return params // never both to one client
	}
	// A client that takes nothing more is noticed by the stream.
	_ = p.server.conn.Notify(context.Background(), protocol.MethodTextDocumentPublishDiagnostics, params)
	return params
}
