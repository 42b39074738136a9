package lsp

// clerk writes what the read loop has to say. A client that does not read lets
// every write wait; the read loop must not, since the next message may be the
// one that cancels what fills the pipe.
type clerk struct {
	letters chan func()
	done    chan struct{}
}

// maxLetters bounds what waits to be written; a client that sends so much that
// is refused, and reads nothing of it, is not read any further.
const maxLetters = 1000

func newClerk() *clerk {
	c := &clerk{letters: make(chan func(), maxLetters), done: make(chan struct{})}
	go func() {
		defer close(c.done)
		for write := range c.letters {
			write()
		}
	}()
	return c
}

// post hands over something to write. What is posted is written in that order.
// Only the read loop may call it.
func (c *clerk) post(write func()) { c.letters <- write }

// stop ends the clerk once everything is written; post must not follow.
func (c *clerk) stop() { close(c.letters) }
