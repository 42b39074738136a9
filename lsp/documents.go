package lsp

import (
	"encoding/json"
	"maps"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lsp/assist"
)

// documents holds the state of the editor: an immutable world, replaced as a
// whole with every change. The read loop alone changes texts; everyone else
// takes the world that is current and keeps working on that.
type documents struct {
	engine Engine
	disk   *disk
	now    atomic.Pointer[world]
	mu     sync.Mutex    // held while the next world is made
	serial atomic.Uint64 // of the newest document value
	today  func() string // the day by the clock
	modes  *figures.Store
	// atOnce tells that modes are worked out before an answer: the client asks for findings, and
	// cannot be told to ask again.
	atOnce bool
}

// world is every open document at one moment.
type world struct {
	byURI  map[string]*document
	byPath map[string]*document // by cleaned path, of those that have one
	doors  int                  // how often a document was opened or closed: while it is the same, so are all URIs

	settings *settings
	today    string // the day on which acceptances are to hold
	// shop is the fabricator of the settings; nil where the settings name none.
	shop *shop
}

// shop is a fabricator that stands in no board's text, read once, by whoever
// asks first.
type shop struct {
	limits func() *checks.Limits
	reads  []reading                     // of the disk; whole once known is there
	known  atomic.Pointer[lang.Analysis] // once it has been read
}

// reading is a file as an analysis has found it on disk, or not found it.
type reading struct {
	path string
	sum  sum
}

// document is one version of one open document, together with the files that
// it uses as they were then: when a used file changes, it is replaced by
// another value with the same text.
type document struct {
	uri      string // the client's own
	path     string // cleaned; "" where the URI names no file
	version  *int32 // nil where the client gave none
	file     *source.File
	settings *settings
	today    string
	serial   uint64 // rises with every value made; never reused
	closed   bool   // the text is the disk's, not the editor's
	past     *past
	reads    []reading // of the disk, by the analysis; whole once known is there

	// Both are computed once, by whoever asks first.
	analysis func() *lang.Analysis
	check    checking
	known    atomic.Pointer[lang.Analysis] // the analysis, once there is one
	answers  sync.Map                      // encoded, by method: what is asked again while nothing changes
	ways     sync.Map                      // out of its findings, by wayKey: as far as somebody has asked
	shown    assist.Shown
}

// answer is the encoded answer to a method that depends on the document alone.
func (doc *document) answer(method string, make func() any) (json.RawMessage, error) {
	if known, ok := doc.answers.Load(method); ok {
		return known.(json.RawMessage), nil
	}
	result := make()
	encoded, ok := result.(json.RawMessage)
	if !ok {
		var err error
		if encoded, err = json.Marshal(result); err != nil {
			return nil, err
		}
	}
	doc.answers.Store(method, encoded)
	return encoded, nil
}

// sum stands for the text.
func (doc *document) sum() sum {
	known, ok := doc.answers.Load(sumOfText)
	if !ok {
		known = sumOf(doc.file.Text())
		doc.answers.Store(sumOfText, known)
	}
	return known.(sum)
}

// Keys of what a document keeps besides answers, which go by their methods.
const (
	sumOfText   = "sum"
	reportOfAll = "report"
)

// past is what the versions of one document hand on to each other.
type past struct {
	mu       sync.Mutex
	serial   uint64
	analysis *lang.Analysis

	session checks.Session
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
	d := &documents{engine: engine, disk: newDisk(), today: today, modes: figures.NewStore(engine.Modes)}
	d.now.Store(&world{byURI: map[string]*document{}, byPath: map[string]*document{}, settings: defaultSettings(), today: today()})
	return d
}

// current is the world as it is now.
func (d *documents) current() *world { return d.now.Load() }

// open puts a document into the world, or replaces the one under its URI.
func (d *documents) open(uri string, version *int32, text string) (others bool) {
	path, ok := pathOf(uri)
	name := filepath.ToSlash(path) // the language knows slashes alone
	if !ok {
		name = uri
	}
	return d.step(func(w *world) *document {
		w.doors++
		return d.put(w, &document{uri: uri, path: path, version: version, file: source.New(name, text), past: new(past)})
	}, nil)
}

// change replaces the text of an open document; those that use it follow.
func (d *documents) change(doc *document, version *int32, file *source.File) (others bool) {
	return d.step(func(w *world) *document {
		return d.put(w, &document{uri: doc.uri, path: doc.path, version: version, file: file, past: doc.past})
	}, func(other *lang.Analysis) bool { return doc.path != "" && d.uses(other, doc.path) })
}

// configure puts other settings in force.
func (d *documents) configure(set *settings) {
	d.step(func(w *world) *document {
		w.settings = set
		return nil
	}, nil)
}

// close takes a document out of the world.
func (d *documents) close(uri string) (others bool) {
	return d.step(func(w *world) *document {
		w.doors++
		doc := w.byURI[uri]
		delete(w.byURI, uri)
		if doc != nil && w.byPath[doc.path] == doc {
			delete(w.byPath, doc.path)
		}
		return nil
	}, nil)
}

// reread lets every document look at the disk again.
func (d *documents) reread() (others bool) {
	d.disk.forget()
	return d.step(func(*world) *document { return nil }, nil)
}

// renew lets a document be checked again, as it then is: what its check did without
// is known now.
func (d *documents) renew(uri string) {
	d.step(func(w *world) *document {
		doc := w.byURI[uri]
		if doc == nil {
			return nil
		}
		return d.put(w, &document{uri: doc.uri, path: doc.path, version: doc.version, file: doc.file, past: doc.past})
	}, func(*lang.Analysis) bool { return false })
}

// step makes the next world: edit changes a copy of the present one and
// returns the document it has put there, if any. Then every other document
// whose analysis affected holds for, or whose analysis is not there yet to be
// asked, is renewed; all of them where affected is nil. A document is thus
// either unread and bound to the newest world, or read and bound to none. The
// result tells whether there were others to renew.
func (d *documents) step(edit func(*world) *document, affected func(*lang.Analysis) bool) (others bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	old := d.current()
	next := &world{byURI: maps.Clone(old.byURI), byPath: maps.Clone(old.byPath), doors: old.doors, settings: old.settings, today: old.today, shop: old.shop}
	edited := edit(next)
	switch known := next.shop.read(); {
	case affected == nil || known != nil && affected(known):
		affected, next.shop = nil, d.shopOf(next)
	case next.shop != nil && known == nil:
		// Nobody has read it yet, and whether it is affected is not worked out
		// here: it is bound to the newest world, and so is whoever may ask for it.
		rest := affected
		affected = func(a *lang.Analysis) bool { return rest(a) || a.Board().Fabricator() == nil }
		next.shop = d.shopOf(next)
	}
	for _, doc := range next.inOrder() {
		if doc == edited {
			continue
		}
		if known := doc.known.Load(); known == nil || affected == nil || affected(known) {
			d.put(next, &document{uri: doc.uri, path: doc.path, version: doc.version, file: doc.file, past: doc.past})
			others = true
		}
	}
	d.now.Store(next)
	return others
}

// checking is a document's check, by whoever asks first.
type checking struct {
	mu  sync.Mutex
	run func(stale func() bool) checks.Outcome // nil once it is known what comes of it
	out checks.Outcome
}

// outcome is what comes of the check; ok is false where it was ended early, since
// nobody wanted it any more. A nil stale always wants it.
func (c *checking) outcome(stale func() bool) (out checks.Outcome, ok bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.run != nil {
		out := c.run(stale)
		if out.Stopped {
			return out, false
		}
		c.out, c.run = out, nil
	}
	return c.out, true
}

// outcome is what comes of checking the document.
func (d *document) outcome() checks.Outcome {
	out, _ := d.check.outcome(nil)
	return out
}

// findings are what checking the document has found.
func (d *document) findings() []finding.Located { return d.outcome().Findings }

// put completes a document and sets it into a world that nobody else sees yet.
func (d *documents) put(w *world, doc *document) *document {
	d.complete(w, doc, d.noting(w, &doc.reads))
	w.byURI[doc.uri] = doc
	if doc.path != "" {
		w.byPath[doc.path] = doc
	}
	return doc
}

// complete lets a document find its meaning in a world, of which it reads files.
func (d *documents) complete(w *world, doc *document, read lang.Reader) {
	doc.serial = d.serial.Add(1)
	doc.analysis = sync.OnceValue(func() *lang.Analysis {
		a := d.engine.Analyze(doc.file, read, doc.past.latest())
		doc.past.keep(doc.serial, a)
		doc.known.Store(a)
		return a
	})
	doc.settings, doc.today = w.settings, w.today
	doc.shown.Outcome = func() checks.Outcome { return doc.outcome() }
	doc.check.run = func(stale func() bool) checks.Outcome {
		a := doc.analysis()
		if stale != nil && stale() {
			return checks.Outcome{Stopped: true}
		}
		// What is typed in does not wait for modes; see resonator.
		return d.engine.Check(a, checks.Options{Today: w.today, Limits: w.limits(a), Session: &doc.past.session, Modes: d.modes, Later: !doc.closed && !d.atOnce, Stale: stale})
	}
}

// shopOf reads the fabricator that the settings of a world name.
func (d *documents) shopOf(w *world) *shop {
	path := w.settings.Fabricator
	if path == "" {
		return nil
	}
	s := new(shop)
	s.limits = sync.OnceValue(func() *checks.Limits {
		read := d.noting(w, &s.reads)
		file, err := read(path)
		if err != nil {
			file = source.New(path, "")
		}
		a := d.engine.Analyze(file, read, nil)
		s.known.Store(a)
		return checks.LimitsFor(a)
	})
	return s
}

// read is the shop's analysis, nil where there is none yet.
func (s *shop) read() *lang.Analysis {
	if s == nil {
		return nil
	}
	return s.known.Load()
}

// limits are those of the settings' fabricator for a board that states none of
// its own; nil for those of its text.
func (w *world) limits(a *lang.Analysis) *checks.Limits {
	if w.shop == nil || a.Board().Fabricator() != nil {
		return nil
	}
	return w.shop.limits()
}

// bytes is the length of all open texts.
func (w *world) bytes() (n int) {
	for _, doc := range w.byURI {
		n += doc.file.Len()
	}
	return n
}

// reader hands out the unsaved text of a world before what is on disk.
func (d *documents) reader(w *world) lang.Reader { return d.noting(w, new([]reading)) }

// noting is a reader that notes what it has read of the disk.
func (d *documents) noting(w *world, into *[]reading) lang.Reader {
	return func(path string) (*source.File, error) {
		if doc, ok := w.byPath[absolute(path)]; ok {
			return doc.file, nil
		}
		file, is, err := d.disk.read(path)
		*into = append(*into, reading{path, is})
		return file, err
	}
}

// lookAgain looks at the files that open texts, and the settings, use on the disk, but
// for those of which told holds. Every text is renewed that has read one otherwise than
// it is now. The result tells whether there are such.
func (d *documents) lookAgain(told func(path string) bool) (others bool) {
	now, other := map[string]sum{}, map[*lang.Analysis]bool{}
	look := func(a *lang.Analysis, reads func() []reading) {
		if a == nil {
			return // it has yet to read
		}
		for _, r := range reads() {
			if told(absolute(r.path)) {
				continue
			}
			is, known := now[r.path]
			if !known {
				is = d.disk.sum(r.path)
				now[r.path] = is
			}
			if is != r.sum {
				other[a] = true
				return
			}
		}
	}
	w := d.current()
	for _, doc := range w.byURI {
		look(doc.known.Load(), func() []reading { return doc.reads })
	}
	if w.shop != nil {
		look(w.shop.read(), func() []reading { return w.shop.reads })
	}
	if len(other) == 0 {
		return false
	}
	return d.step(func(*world) *document { return nil }, func(a *lang.Analysis) bool { return other[a] })
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
