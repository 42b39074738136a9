// Package picture serves the live picture of a board: one page on loopback
// that draws a scene, is redrawn as the text changes, and says when an item
// was clicked. It knows nothing of editors or of the protocol.
//
// Only who has the address sees anything: it holds a random token of 256 bits.
// The names under which the page is asked for, and the page that asks, are
// checked, so that no other site in the same browser can reach it.
package picture

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strings"
	"sync"
	"time"

	"hemline/lang/source"
)

const (
	// maxBody bounds what a page may send, bytes: an item's id and a number.
	maxBody = 4 << 10
	// maxStreams bounds how many pages are kept up to date at once.
	maxStreams = 32
	// writeTime is how long a page may take to take one message. One that is
	// slower is cut off; it comes back by itself and gets the newest.
	writeTime = 20 * time.Second
	// readTime is how long a request may take to come in.
	readTime = 30 * time.Second
	// closeTime is how long pages are given to be told of the end.
	closeTime = 500 * time.Millisecond
)

// Options say what happens when the page is used. Both functions may be called
// from several goroutines at once and must return soon.
type Options struct {
	// Go moves the editor's cursor to a place of the text. Nil for an editor
	// that cannot be moved; the page then offers no such thing.
	Go func(source.Place)
	// Watched is called when a page begins to look and none did before.
	Watched func()
}

// Server is an open picture.
type Server struct {
	options Options
	token   string
	host    string // as the page's address has it
	state   state
	http    *http.Server
	served  chan struct{} // closed when nothing is accepted any more
	once    sync.Once
}

// New opens a picture on a free port of the loopback interface, with nothing
// to show yet. Its error is that of the system, which gave no port.
func New(o Options) (*Server, error) { return open(o, readTime) }

func open(o Options, readTime time.Duration) (*Server, error) {
	var random [32]byte
	if _, err := rand.Read(random[:]); err != nil {
		return nil, fmt.Errorf("no random numbers: %w", err)
	}
	listener, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		return nil, fmt.Errorf("no port on loopback: %w", err)
	}
	s := &Server{
		options: o,
		token:   base64.RawURLEncoding.EncodeToString(random[:]),
		host:    listener.Addr().String(),
		served:  make(chan struct{}),
	}
	s.state.init()
	s.http = &http.Server{
		Handler:           s,
		ReadHeaderTimeout: readTime,
		ReadTimeout:       readTime,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          quiet,
	}
	go func() {
		defer close(s.served)
		_ = s.http.Serve(listener) // ends with Close
	}()
	return s, nil
}

// URL is the page's address. Whoever has it sees the board.
func (s *Server) URL() string { return "http://" + s.host + "/" + s.token + "/" }

// Show replaces what the pages show. It keeps the frame, which must not be
// changed afterwards.
func (s *Server) Show(f Frame) { s.state.show(f) }

// Highlight marks an item as the one at the editor's cursor; "" marks none.
func (s *Server) Highlight(id string) { s.state.highlight(id) }

// Watched tells whether any page is looking.
func (s *Server) Watched() bool { return s.state.streams() > 0 }

// Close tells the pages that the picture ends, ends their streams and frees
// the port. It returns when that is done.
func (s *Server) Close() {
	s.once.Do(func() {
		s.state.end()
		ctx, cancel := context.WithTimeout(context.Background(), closeTime)
		defer cancel()
		if s.http.Shutdown(ctx) != nil {
			_ = s.http.Close() // of pages that do not take the message
		}
		<-s.served
		s.state.wait()
	})
}

// ServeHTTP answers the page's requests. What is refused is told nothing.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	s.headers(w.Header())
	if !s.ours(r.Host) {
		http.Error(w, "this picture is not served under that name", http.StatusForbidden)
		return
	}
	token, rest, _ := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
	if subtle.ConstantTimeCompare([]byte(token), []byte(s.token)) != 1 {
		http.Error(w, "not found", http.StatusNotFound)
		return
	}
	if origin := r.Header.Get("Origin"); origin != "" && !s.ourOrigin(origin) || len(r.Header.Values("Origin")) > 1 {
		http.Error(w, "another page may not use this picture", http.StatusForbidden)
		return
	}
	switch rest {
	case "":
		s.only(w, r, http.MethodGet, s.page)
	case "events":
		s.only(w, r, http.MethodGet, s.events)
	case "go":
		s.only(w, r, http.MethodPost, s.clicked)
	default:
		http.Error(w, "not found", http.StatusNotFound)
	}
}

// ours tells whether a Host header names this server. A name that another
// site lets point at this machine does not.
func (s *Server) ours(host string) bool {
	_, port, _ := net.SplitHostPort(s.host)
	return host == s.host || host == "localhost:"+port
}

func (s *Server) ourOrigin(origin string) bool {
	host, ok := strings.CutPrefix(origin, "http://")
	return ok && s.ours(host)
}

func (s *Server) only(w http.ResponseWriter, r *http.Request, method string, do http.HandlerFunc) {
	if r.Method == method || method == http.MethodGet && r.Method == http.MethodHead {
		do(w, r)
		return
	}
	w.Header().Set("Allow", method)
	http.Error(w, "the method is "+method, http.StatusMethodNotAllowed)
}

// headers are those of every answer, also of a refusal.
func (s *Server) headers(h http.Header) {
	h.Set("Content-Security-Policy", policy)
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("X-Frame-Options", "DENY")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
}

func (s *Server) page(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	if r.Method == http.MethodGet {
		_, _ = w.Write(document) // a page that went away needs no answer
	}
}

// click is what the page sends: an item's id, or a finding's number together
// with the serial of the frame that it counts in.
type click struct {
	Item    string `json:"item"`
	Finding *int   `json:"finding"`
	Serial  uint64 `json:"serial"`
}

func (s *Server) clicked(w http.ResponseWriter, r *http.Request) {
	if r.Header.Get("Origin") == "" { // every browser sends one with a POST
		http.Error(w, "the page that asks is not named", http.StatusForbidden)
		return
	}
	if r.Header.Get("Content-Type") != "application/json" { // a form of another site cannot say so
		http.Error(w, "expected application/json", http.StatusUnsupportedMediaType)
		return
	}
	var c click
	decoder := json.NewDecoder(http.MaxBytesReader(w, r.Body, maxBody))
	if err := decoder.Decode(&c); err != nil {
		status := http.StatusBadRequest
		if tooLarge := (*http.MaxBytesError)(nil); errors.As(err, &tooLarge) {
			status = http.StatusRequestEntityTooLarge
		}
		http.Error(w, "the message cannot be read", status)
		return
	}
	place, ok := s.state.placeOf(c)
	switch {
	case s.options.Go == nil:
		http.Error(w, "the editor cannot be moved", http.StatusNotImplemented)
	case !ok:
		http.Error(w, "the text has changed meanwhile", http.StatusConflict)
	default:
		s.options.Go(place)
		w.WriteHeader(http.StatusNoContent)
	}
}
