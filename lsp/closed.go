package lsp

import (
	"strings"
	"sync"
	"sync/atomic"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"hemline/lang"
	"hemline/lang/source"
)

// facts are what is remembered of a text that is not open: what requests on the
// whole workspace ask of it. The text itself and its analysis are not kept; the
// latter takes a hundred times as much.
type facts struct {
	path    string
	sum     sum
	reads   map[string]sum // of the files that it uses, those too that could not be read
	files   []string       // that took part
	symbols []protocol.SymbolInformation
	checked atomic.Pointer[closedReport] // nil before anybody has asked
	weight  int                          // as it was last counted
}

// weigh says about how many bytes the facts take.
func (f *facts) weigh() int {
	n := 1000 + 200*(len(f.reads)+len(f.symbols))
	if known := f.checked.Load(); known != nil {
		for _, list := range known.found {
			n += 1000 * len(list)
		}
	}
	return n
}

// closedReport is what the check of a text that is not open has found, and what
// that depends on besides the texts.
type closedReport struct {
	*report
	settings *settings
	today    string
	shop     *shop
	spelled  map[string]string // by path: the URIs of the files that it speaks of
	doors    atomic.Int64      // of the world in which these were last looked up
}

func (r *closedReport) holds(w *world) bool {
	if r.settings != w.settings || r.today != w.today || r.shop != w.shop {
		return false
	}
	if r.doors.Load() == int64(w.doors) {
		return true
	}
	for path, as := range r.spelled {
		if w.uriOfPath(path) != as {
			return false
		}
	}
	r.doors.Store(int64(w.doors))
	return true
}

// survey is one request's look at the files in a world: each is looked at once.
type survey struct {
	server *server
	world  *world
	mu     sync.Mutex
	sums   map[string]sum
}

func (s *server) survey(w *world) *survey {
	return &survey{server: s, world: w, sums: map[string]sum{}}
}

// sum is that of the text under a path, unsaved before what is on disk.
func (l *survey) sum(path string) sum {
	l.mu.Lock()
	known, ok := l.sums[path]
	l.mu.Unlock()
	if ok {
		return known
	}
	if doc := l.world.byPath[absolute(path)]; doc != nil {
		known = doc.sum()
	} else {
		known = l.server.docs.disk.sum(path)
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.sums[path] = known
	return known
}

// recording is a reader that notes what it was asked for.
func (l *survey) recording(into map[string]sum) lang.Reader {
	read := l.server.docs.reader(l.world)
	return func(path string) (*source.File, error) {
		file, err := read(path)
		if into[path] = (sum{}); err == nil {
			into[path] = sumOf(file.Text())
		}
		return file, err
	}
}

// closedText is a text that is not open, as one request sees it. The document is
// made when it is asked for, and gone with the request.
type closedText struct {
	*facts
	survey *survey
	made   *document
}

// closed is the text under a path: what is known of it, if it and all that it uses are
// as they were, or what is found out now; nil where it cannot be read.
func (l *survey) closed(path string) *closedText {
	is, ok := sum{}, false
	if l.server.workspace.tells(path) {
		is, ok = l.server.docs.disk.told(path)
	}
	if !ok {
		is = l.sum(path)
	}
	if is == (sum{}) {
		return nil
	}
	if known := l.server.workspace.known(path); known != nil && known.sum == is && l.current(known) {
		return &closedText{facts: known, survey: l}
	}
	file, is, err := l.server.docs.disk.pass(path)
	if err != nil {
		return nil
	}
	f := &facts{path: path, sum: is, reads: map[string]sum{}}
	doc := l.newClosed(file, path, l.recording(f.reads))
	a := doc.analysis()
	f.files = l.server.docs.engine.Files(a)
	f.symbols = l.server.symbolsOf(doc)
	for i := range f.symbols {
		f.symbols[i].Name = strings.Clone(f.symbols[i].Name) // which is a piece of the text
	}
	l.server.keep(f)
	return &closedText{f, l, doc}
}

// newClosed makes a document of a text that is not open.
func (l *survey) newClosed(file *source.File, path string, read lang.Reader) *document {
	doc := &document{uri: uriOf(path), path: path, file: file, past: new(past), closed: true}
	l.server.docs.complete(l.world, doc, read)
	return doc
}

// current tells whether every file that a text uses is as it was, and none can be
// read that could not.
func (l *survey) current(f *facts) bool {
	for path, was := range f.reads {
		if l.sum(path) != was {
			return false
		}
	}
	return true
}

// readsAny tells whether the text uses a file of which something holds, there or not.
func (f *facts) readsAny(is func(path string) bool) bool {
	for path := range f.reads {
		if is(path) {
			return true
		}
	}
	return false
}

// document is the text with its analysis; nil where it can no longer be read.
func (t *closedText) document() *document {
	if t.made == nil {
		file, _, err := t.survey.server.docs.disk.pass(t.path)
		if err != nil {
			return nil
		}
		t.made = t.survey.newClosed(file, t.path, t.survey.server.docs.reader(t.survey.world))
	}
	return t.made
}

// report is what the check of the text finds, or has found.
func (t *closedText) report() *report {
	if known := t.checked.Load(); known != nil && known.holds(t.survey.world) {
		return known.report
	}
	w, doc := t.survey.world, t.document()
	if doc == nil {
		return &report{uri: uriOf(t.path)}
	}
	r := &closedReport{report: t.survey.server.makeReport(w, doc), settings: w.settings, today: w.today, shop: w.shop, spelled: map[string]string{}}
	for _, path := range t.files {
		if path != t.path {
			r.spelled[path] = w.uriOfPath(path)
		}
	}
	r.doors.Store(int64(w.doors))
	t.checked.Store(r)
	t.survey.server.keep(t.facts)
	return r.report
}

// symbolsOf lists the named statements of a text as the workspace's symbols.
func (s *server) symbolsOf(doc *document) []protocol.SymbolInformation {
	var list []protocol.SymbolInformation
	for _, symbol := range s.docs.engine.Symbols(doc.analysis()) {
		if symbol.Named {
			list = append(list, protocol.SymbolInformation{
				Name:          symbolName(symbol),
				Kind:          symbolKinds[symbol.Symbol],
				Location:      protocol.Location{URI: uri.URI(doc.uri), Range: s.client.textRange(doc.file, symbol.NameSpan)},
				ContainerName: symbol.Kind,
			})
		}
	}
	return list
}
