package picture

import (
	"encoding/json"
	"io"
	"log"
	"net/http"
	"sync"
	"time"

	"hemline/lang/source"
)

// quiet swallows what the HTTP server says of broken connections: the log is
// the editor's, and a browser that closes a tab is no event.
var quiet = log.New(io.Discard, "", 0)

// beat is how often a stream with nothing to say says so, which finds pages
// that went away without a word.
const beat = 15 * time.Second

// state is what the pages are to show. It holds the newest alone: a page that
// is slow finds, when it comes back, what is current then.
type state struct {
	mu      sync.Mutex
	frame   Frame
	serial  uint64 // of the frame; 0 before the first
	encoded []byte // the frame as JSON; nil until somebody needs it
	at      string // the item at the cursor
	moves   uint64 // rises with every other item at the cursor
	ended   bool
	open    int           // streams
	news    chan struct{} // closed, and replaced, with every change
	running sync.WaitGroup
}

func (s *state) init() { s.news = make(chan struct{}) }

// tell wakes every stream. Under the lock.
func (s *state) tell() {
	close(s.news)
	s.news = make(chan struct{})
}

func (s *state) show(f Frame) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.serial++
	s.frame, s.encoded = f, nil
	s.tell()
}

func (s *state) highlight(id string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.at == id {
		return
	}
	s.at = id
	s.moves++
	s.tell()
}

func (s *state) end() {
	s.mu.Lock()
	defer s.mu.Unlock()
	if !s.ended {
		s.ended = true
		s.tell()
	}
}

// wait returns when the last stream has ended.
func (s *state) wait() { s.running.Wait() }

func (s *state) streams() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.open
}

// enter counts a stream in; ok is false where there are too many, or the end has come.
func (s *state) enter() (first, ok bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.ended || s.open >= maxStreams {
		return false, false
	}
	s.open++
	s.running.Add(1)
	return s.open == 1, true
}

func (s *state) leave() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.open--
	s.running.Done()
}

// placeOf finds what a click means in the frame that is shown.
func (s *state) placeOf(c click) (source.Place, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	var p source.Place
	switch {
	case c.Finding != nil:
		if c.Serial != s.serial || *c.Finding < 0 || *c.Finding >= len(s.frame.Findings) {
			return p, false
		}
		p = s.frame.Findings[*c.Finding].Place
	case s.frame.Scene != nil:
		for i := range s.frame.Scene.Items {
			if s.frame.Scene.Items[i].ID == c.Item {
				p = s.frame.Scene.Items[i].Place
			}
		}
	}
	return p, p.Anchor != nil
}

// told is what a page has been told so far.
type told struct{ serial, moves uint64 }

// next is what a page has not been told yet, as events; nothing where it knows
// all. more is closed when there is something new.
func (s *state) next(known *told) (events []byte, more <-chan struct{}, ended bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if known.serial != s.serial {
		if s.encoded == nil {
			s.encoded = encode(s.frame, s.serial)
		}
		events = event(events, "frame", s.encoded)
		known.serial = s.serial
	}
	if known.moves != s.moves {
		id, _ := json.Marshal(s.at) // as in the frame: a text can always be written
		events = event(events, "cursor", id)
		known.moves = s.moves
	}
	if s.ended {
		events = event(events, "end", []byte("true"))
	}
	return events, s.news, s.ended
}

// event appends one server-sent event. JSON has no line ends of its own.
func event(to []byte, name string, data []byte) []byte {
	to = append(to, "event: "...)
	to = append(to, name...)
	to = append(to, "\ndata: "...)
	to = append(to, data...)
	return append(to, "\n\n"...)
}

// events is the stream that keeps one page up to date until it or the picture ends.
func (s *Server) events(w http.ResponseWriter, r *http.Request) {
	first, ok := s.state.enter()
	if !ok {
		http.Error(w, "too many pages are open", http.StatusServiceUnavailable)
		return
	}
	defer s.state.leave()
	if first && s.options.Watched != nil {
		s.options.Watched()
	}
	w.Header().Set("Content-Type", "text/event-stream")
	control := http.NewResponseController(w)
	send := func(data []byte) bool {
		if control.SetWriteDeadline(time.Now().Add(writeTime)) != nil {
			return false
		}
		if _, err := w.Write(data); err != nil {
			return false
		}
		return control.Flush() == nil
	}
	if r.Method == http.MethodHead || !send([]byte("retry: 1000\n\n")) {
		return
	}
	timer := time.NewTicker(beat)
	defer timer.Stop()
	known := told{}
	for {
		data, more, ended := s.state.next(&known)
		if len(data) > 0 && !send(data) || ended {
			return
		}
		select {
		case <-more:
		case <-r.Context().Done():
			return
		case <-timer.C:
			if !send([]byte(": here\n\n")) {
				return
			}
		}
	}
}
