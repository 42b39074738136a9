package lsp

import (
	"errors"
	"strings"
	"sync"
	"sync/atomic"

	"go.lsp.dev/protocol"

	"hemline/checks"
	"hemline/lang/source"
	"hemline/lsp/picture"
)

// pictures keeps the live picture up to date: one page for the session, which
// shows the board last asked for or last edited. It is drawn by a goroutine of
// its own from what the publisher has checked anyway, always from the newest.
// Until a picture is asked for, it costs one load of a pointer.
type pictures struct {
	server *server
	page   atomic.Pointer[picture.Server] // nil until the first is asked for
	waking chan struct{}                  // holds one
	ending chan struct{}
	done   chan struct{} // closed when the goroutine is no more

	mu     sync.Mutex
	closed bool
	uri    string // of the document to be shown
	edited string // of the document edited last
	newest checked
	at     cursor

	// Only the goroutine's own.
	shown checked
	frame picture.Frame
}

// checked is a document and what came of checking it.
type checked struct {
	doc *document
	out checks.Outcome
}

// cursor is where the editor's cursor stands; doc is nil once it has been shown.
type cursor struct {
	doc    *document
	offset int
}

func newPictures(s *server) *pictures {
	return &pictures{server: s, waking: make(chan struct{}, 1), ending: make(chan struct{}), done: make(chan struct{})}
}

// open gives the address of the picture, which from now on shows a document.
func (p *pictures) open(doc *document) (string, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	page := p.page.Load()
	if page == nil {
		if p.closed {
			return "", errShutDown
		}
		options := picture.Options{Watched: p.wake}
		if p.server.client.showsDocuments {
			options.Go = p.goTo
		}
		var err error
		if page, err = picture.New(options); err != nil {
			return "", err
		}
		p.page.Store(page)
		go p.run()
	}
	p.uri = doc.uri
	return page.URL(), nil
}

// offer brings a document that has been checked. It is shown if it is the one
// to be shown, or the one edited last and a board.
func (p *pictures) offer(doc *document, out checks.Outcome) {
	if p.page.Load() == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if doc.uri != p.uri && (doc.uri != p.edited || !isBoard(doc)) {
		return
	}
	if p.newest.doc != nil && p.newest.doc.uri == doc.uri && p.newest.doc.serial > doc.serial {
		return
	}
	p.uri, p.newest = doc.uri, checked{doc, out}
	p.wake()
}

// isBoard tells a board from a file that only others use.
func isBoard(doc *document) bool {
	a := doc.known.Load()
	if a == nil || a.Board() == nil {
		return false
	}
	b := a.Board()
	return b.Info() != nil || b.OutlineItem() != nil || b.Outline() != nil || len(b.Open()) > 0
}

// edit notes which document was edited last.
func (p *pictures) edit(uri string) {
	if p.page.Load() == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.edited = uri
}

func (p *pictures) cursor(doc *document, offset int) {
	if p.page.Load() == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.at = cursor{doc, offset}
	p.wake()
}

func (p *pictures) wake() {
	select {
	case p.waking <- struct{}{}:
	default: // it will come for the newest anyway
	}
}

// close ends the picture for good.
func (p *pictures) close() {
	p.mu.Lock()
	p.closed = true
	p.mu.Unlock()
	if page := p.page.Load(); page != nil {
		close(p.ending)
		<-p.done
		page.Close()
	}
}

func (p *pictures) run() {
	defer close(p.done)
	for {
		select {
		case <-p.ending:
			return
		case <-p.waking:
			p.draw()
		}
	}
}

// draw shows the newest, unless nobody looks: a page that is opened later wakes it.
func (p *pictures) draw() {
	defer p.server.rescue("drawing the picture", nil)
	page := p.page.Load()
	if !page.Watched() {
		return
	}
	p.mu.Lock()
	newest, at := p.newest, p.at
	p.mu.Unlock()
	if newest.doc == nil {
		return
	}
	if newest.doc != p.shown.doc {
		a := newest.doc.analysis()
		out := newest.out
		out.Findings = p.server.docs.current().settings.shown(out.Findings)
		frame := picture.Of(a, out, nameOf(newest.doc), p.server.client.showsDocuments)
		p.shown, p.frame = newest, frame
		page.Show(frame)
	}
	p.follow(page, at)
}

// follow marks the statement at the cursor, and nothing while the cursor is in
// another text. One in a version that is not drawn yet waits for it.
func (p *pictures) follow(page *picture.Server, at cursor) {
	if at.doc == nil {
		return
	}
	id := ""
	if at.doc.uri == p.shown.doc.uri {
		a := at.doc.known.Load()
		if a == nil || at.doc.serial > p.shown.doc.serial {
			return
		}
		id = picture.At(a, p.frame.Scene, at.offset)
	}
	page.Highlight(id)
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.at == at {
		p.at = cursor{}
	}
}

// goTo moves the editor's cursor to a place that was clicked.
func (p *pictures) goTo(place source.Place) {
	go func() {
		defer p.server.rescue("a click on the picture", nil)
		params, ok := p.target(place)
		if !ok {
			return // the statement is gone, and soon its item
		}
		if err := p.server.showDocument(params); err != nil {
			p.server.log.Printf("the client does not show %s: %v", params.URI, err)
		}
	}()
}

// target is where a place of the picture stands in the text as it is now.
func (p *pictures) target(place source.Place) (showDocumentParams, bool) {
	p.mu.Lock()
	doc := p.newest.doc
	p.mu.Unlock()
	if doc == nil {
		return showDocumentParams{}, false
	}
	world := p.server.docs.current()
	if now := world.byURI[doc.uri]; now != nil {
		doc = now
	}
	file, span, ok := p.server.docs.engine.Locate(doc.analysis(), place)
	if !ok {
		return showDocumentParams{}, false
	}
	selection := p.server.client.textRange(file, span)
	return showDocumentParams{URI: world.uriOf(doc, file), TakeFocus: true, Selection: &selection}, true
}

// nameOf is a document's name for people.
func nameOf(doc *document) string {
	path := doc.file.Path()
	return path[strings.LastIndexByte(path, '/')+1:]
}

// methodShowDocument is missing from the protocol library's server side.
const methodShowDocument = "window/showDocument"

// showDocumentParams leaves out what is not given: the library's own would
// send a selection with every page.
type showDocumentParams struct {
	URI       string          `json:"uri"`
	External  bool            `json:"external,omitempty"`
	TakeFocus bool            `json:"takeFocus,omitempty"`
	Selection *protocol.Range `json:"selection,omitempty"`
}

var (
	errShowsNothing = errors.New("it opens nothing for a server")
	errNotShown     = errors.New("it says that it has not")
)

// showDocument lets the client open a text or a page; the error says why it does not. It
// waits for the client: never on the read loop.
func (s *server) showDocument(params showDocumentParams) error {
	if !s.client.showsDocuments {
		return errShowsNothing
	}
	var result struct {
		Success bool `json:"success"`
	}
	err := s.ask(methodShowDocument, params, &result)
	if err == nil && !result.Success {
		err = errNotShown
	}
	return err
}
