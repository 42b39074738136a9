package lsp

import (
	"cmp"
	"context"
	"maps"
	"reflect"
	"slices"
	"sync"
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
	hand    *hand                    // checks; nil before the first check and after one was left
	left    *hand                    // is still at a check that nobody wants any more; nil for none
	shown   map[string]publishParams // by URI, what the client has last been told, or would have been
	sends   bool                     // whether it is told
}

// report is what checking one version of a document has found, by the text in
// which it lies. Those of the document's own text are under its own URI.
type report struct {
	uri   string
	doc   *document // nil for a text that is not open
	found map[string][]protocol.Diagnostic
	list  func() (pulledList, error) // of its own text, where no other text's check has found anything in that
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
	defer func() {
		if p.hand != nil {
			close(p.hand.tasks)
		}
	}()
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
	if !p.checked(doc) {
		return
	}
	world := p.server.docs.current()
	if world.byURI[doc.uri] != doc {
		return
	}
	old, next := p.reports[doc.uri], p.server.reportOf(world, doc)
	p.reports[doc.uri] = next // from here on the document counts as checked, whatever happens
	defer p.server.rescue("publishing "+doc.uri, nil)
	p.show(doc.uri, doc.version, listOf(doc.uri, next, aside(world, p.reports, doc.uri)))
	out := p.server.outcome(doc)
	p.server.pictures.offer(doc, out)
	p.server.modes.want(doc.uri, out.Waits)
	p.note(old)
	p.note(next)
}

// checked checks a document, a long one on another goroutine: as soon as there is a newer version,
// the check is left to itself, and false returned. It ends where it next asks whether
// it is wanted. One such may be under way beside the next check; a second waits for it.
func (p *publisher) checked(doc *document) bool {
	stale := func() bool { return p.server.docs.current().byURI[doc.uri] != doc }
	if doc.file.Lines() <= p.server.docs.engine.Soon {
		p.server.outcomeUnless(doc, stale)
		return true
	}
	if p.hand == nil {
		p.hand = p.newHand()
	}
	p.hand.tasks <- task{doc, stale}
	for woken := false; ; {
		var left chan struct{}
		if p.left != nil {
			left = p.left.done
		}
		select {
		case <-p.hand.done:
			if woken {
				p.wake()
			}
			return true
		case <-left:
			p.left = nil
		case <-p.waking:
			woken = true
		}
		if woken && p.left == nil && stale() {
			close(p.hand.tasks)
			p.left, p.hand = p.hand, nil
			p.wake()
			return false
		}
	}
}

// hand is a goroutine that checks documents for the publisher.
type hand struct {
	tasks chan task
	done  chan struct{} // holds one
}

type task struct {
	doc   *document
	stale func() bool
}

func (p *publisher) newHand() *hand {
	h := &hand{make(chan task), make(chan struct{}, 1)}
	go func() {
		for t := range h.tasks {
			p.server.outcomeUnless(t.doc, t.stale)
			h.done <- struct{}{}
		}
	}()
	return h
}

// reportOf checks an open document, or takes what its check has found.
func (s *server) reportOf(w *world, doc *document) *report {
	if known, ok := doc.answers.Load(reportOfAll); ok {
		return known.(*report)
	}
	r := s.makeReport(w, doc)
	r.doc = doc
	doc.answers.Store(reportOfAll, r)
	return r
}

// makeReport checks a document of a world, or takes what its check has found.
func (s *server) makeReport(w *world, doc *document) *report {
	r := &report{uri: doc.uri, found: map[string][]protocol.Diagnostic{}}
	floor := w.settings.floor()
	found := s.findings(doc)
	for i := range found {
		if f := &found[i]; f.Category >= floor {
			uri := w.uriOf(doc, f.File)
			r.found[uri] = append(r.found[uri], s.toProtocol(w, doc, f))
		}
	}
	r.list = sync.OnceValues(func() (pulledList, error) { return encodeList(listOf(r.uri, r, nil)) })
	return r
}

// note keeps in mind the texts besides its own that a report speaks of.
func (p *publisher) note(r *report) {
	if r == nil {
		return
	}
	for uri := range r.found {
		if uri != r.uri {
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
		own := p.reports[uri]
		if own != nil && !own.current(world) {
			own = nil
		}
		p.show(uri, version, listOf(uri, own, aside(world, p.reports, uri)))
	}
}

// findings are what checking a document has found.
func (s *server) findings(doc *document) []finding.Located { return s.outcome(doc).Findings }

// outcome checks a document. A defect in a rule costs this document's
// findings and is shown in their place.
func (s *server) outcome(doc *document) checks.Outcome { return s.outcomeUnless(doc, nil) }

// outcomeUnless is outcome, or nothing where the check was ended since it is stale.
func (s *server) outcomeUnless(doc *document, stale func() bool) (out checks.Outcome) {
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
	out, _ = doc.check.outcome(stale)
	failed = false
	return out
}

// current tells whether a report is of a world. One of a text that is not open is
// made for a request, in its world.
func (r *report) current(w *world) bool { return r.doc == nil || w.byURI[r.uri] == r.doc }

// aside are the reports on other texts, in the order of their URIs, that speak of
// the text under a URI. Reports on a state that is no more do not count.
func aside(w *world, reports map[string]*report, uri string) (list []*report) {
	for root, r := range reports {
		if root != uri && len(r.found[uri]) > 0 && r.current(w) {
			list = append(list, r)
		}
	}
	slices.SortFunc(list, func(a, b *report) int { return cmp.Compare(a.uri, b.uri) })
	return list
}

// listOf is everything found in the text under a URI, of which own is the report, nil
// where there is none: by its own check first, then by those of the texts that use it,
// each thing once. The list may be a report's; it must not be changed.
func listOf(uri string, own *report, others []*report) []protocol.Diagnostic {
	list := []protocol.Diagnostic{}
	if own != nil && own.found[uri] != nil {
		list = own.found[uri]
	}
	if len(others) == 0 {
		return list
	}
	list = slices.Clone(list)
	for _, r := range others {
		list = append(list, r.found[uri]...)
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
