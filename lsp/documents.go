package lsp

import (
	"maps"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"

	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// documents holds the state of the editor: an immutable world, replaced as a
// whole with every change. The read loop alone writes; everyone else takes
// the world that is current and keeps working on that.
type documents struct {
	engine Engine
	disk   *disk
	now    atomic.Pointer[world]
	serial uint64 // of the newest document value; the read loop's own
}

// world is every open document at one moment.
type world struct {
	byURI  map[string]*document
	byPath map[string]*document // by cleaned path, of those that have one
}

// document is one version of one open document, together with the files that
// it uses as they were then: when a used file changes, it is replaced by
// another value with the same text.
type document struct {
	uri     string // the client's own
	path    string // cleaned; "" where the URI names no file
	version *int32 // nil where the client gave none
	file    *source.File
	serial  uint64 // rises with every value made; never reused
	past    *past

	// Both are computed once, by whoever asks first.
	analysis func() *lang.Analysis
	findings func() []finding.Located
	known    atomic.Pointer[lang.Analysis] // the analysis, once there is one
}

// past is what the versions of one document hand on to each other.
type past struct {
	mu       sync.Mutex
	serial   uint64
	analysis *lang.Analysis
}

func (p *past) latest() *lang.Analysis {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.analysis
}

func (p *past) keep(serial uint64, a *lang.Analysis) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if serial > p.serial {
		p.serial, p.analysis = serial, a
	}
}

func newDocuments(engine Engine) *documents {
	d := &documents{engine: engine, disk: newDisk()}
	d.now.Store(&world{byURI: map[string]*document{}, byPath: map[string]*document{}})
	return d
}

// current is the world as it is now.
func (d *documents) current() *world { return d.now.Load() }

// open puts a document into the world, or replaces the one under its URI.
func (d *documents) open(uri string, version *int32, text string) {
	path, ok := pathOf(uri)
	name := filepath.ToSlash(path) // the language knows slashes alone
	if !ok {
		name = uri
	}
	d.step(func(w *world) *document {
		return d.put(w, &document{uri: uri, path: path, version: version, file: source.New(name, text), past: new(past)})
	}, nil)
}

// change replaces the text of an open document; those that use it follow.
func (d *documents) change(doc *document, version *int32, file *source.File) {
	d.step(func(w *world) *document {
		return d.put(w, &document{uri: doc.uri, path: doc.path, version: version, file: file, past: doc.past})
	}, func(other *lang.Analysis) bool { return doc.path != "" && d.uses(other, doc.path) })
}

// close takes a document out of the world.
func (d *documents) close(uri string) {
	d.step(func(w *world) *document {
		doc := w.byURI[uri]
		delete(w.byURI, uri)
		if doc != nil && w.byPath[doc.path] == doc {
			delete(w.byPath, doc.path)
		}
		return nil
	}, nil)
}

// reread lets every document look at the disk again.
func (d *documents) reread() {
	d.disk.forget()
	d.step(func(*world) *document { return nil }, nil)
}

// step makes the next world: edit changes a copy of the present one and
// returns the document it has put there, if any. Then every other document
// whose analysis affected holds for, or whose analysis is not there yet to be
// asked, is renewed; all of them where affected is nil. A document is thus
// either unread and bound to the newest world, or read and bound to none.
func (d *documents) step(edit func(*world) *document, affected func(*lang.Analysis) bool) {
	old := d.current()
	next := &world{byURI: maps.Clone(old.byURI), byPath: maps.Clone(old.byPath)}
	edited := edit(next)
	for _, doc := range next.inOrder() {
		if doc == edited {
			continue
		}
		if known := doc.known.Load(); known == nil || affected == nil || affected(known) {
			d.put(next, &document{uri: doc.uri, path: doc.path, version: doc.version, file: doc.file, past: doc.past})
		}
	}
	d.now.Store(next)
}

// put completes a document and sets it into a world that nobody else sees yet.
func (d *documents) put(w *world, doc *document) *document {
	d.serial++
	doc.serial = d.serial
	doc.analysis = sync.OnceValue(func() *lang.Analysis {
		a := d.engine.Analyze(doc.file, d.reader(w), doc.past.latest())
		doc.past.keep(doc.serial, a)
		doc.known.Store(a)
		return a
	})
	doc.findings = sync.OnceValue(func() []finding.Located { return d.engine.Check(doc.analysis()) })
	w.byURI[doc.uri] = doc
	if doc.path != "" {
		w.byPath[doc.path] = doc
	}
	return doc
}

// reader hands out the unsaved text of a world before what is on disk.
func (d *documents) reader(w *world) lang.Reader {
	return func(path string) (*source.File, error) {
		if doc, ok := w.byPath[absolute(path)]; ok {
			return doc.file, nil
		}
		return d.disk.read(path)
	}
}

func (d *documents) uses(a *lang.Analysis, path string) bool {
	return slices.ContainsFunc(d.engine.Files(a), func(file string) bool { return file == path || absolute(file) == path })
}

// inOrder lists the documents, the one that changed longest ago first.
func (w *world) inOrder() []*document {
	return slices.SortedFunc(maps.Values(w.byURI), func(a, b *document) int {
		if a.serial < b.serial {
			return -1
		}
		return 1
	})
}

// absolute is the cleaned form of a path under which open documents are found.
func absolute(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		return abs
	}
	return filepath.Clean(path)
}
