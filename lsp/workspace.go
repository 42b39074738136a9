package lsp

import (
	"context"
	"fmt"
	"maps"
	"os"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"go.lsp.dev/protocol"

	"hemline/lang/source"
)

// Bounds on a workspace. A folder that holds more is most likely a whole disk.
const (
	maxWorkspaceFiles   = 10_000
	maxWorkspaceEntries = 200_000
)

// workspace knows the texts in the client's folders that are not open.
type workspace struct {
	mu      sync.Mutex
	folders []string          // cleaned paths
	files   []string          // of the last look at the folders; nil before and after a change, and where the client tells of none
	kept    map[string]*facts // by path: of texts that are not open, as they were last read
	bytes   int               // about so many, of kept

	watched atomic.Bool // the client tells of files in the folders that change
}

// holds tells whether a path is in one of the folders.
func (w *workspace) holds(path string) bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	return slices.ContainsFunc(w.folders, func(folder string) bool {
		return strings.HasPrefix(path, folder) && len(path) > len(folder) && os.IsPathSeparator(path[len(folder)])
	})
}

// set replaces the folders.
func (w *workspace) set(folders []string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.folders, w.files, w.kept, w.bytes = folders, nil, nil, 0
}

// change adds folders and takes others away.
func (w *workspace) change(add, remove []string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	left := slices.DeleteFunc(slices.Clone(w.folders), func(f string) bool { return slices.Contains(remove, f) })
	for _, f := range add {
		if !slices.Contains(left, f) {
			left = append(left, f)
		}
	}
	w.folders, w.files = left, nil
}

// forget lets the next question look at the folders again.
func (w *workspace) forget() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.files = nil // what is kept is held against the files whenever it is asked for
}

// paths lists the .hem files in the folders, in order, as source.Below has them.
func (w *workspace) paths(ctx context.Context) ([]string, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.files != nil {
		return w.files, nil
	}
	found, seen := map[string]bool{}, 0
	more := func() bool {
		seen++
		return ctx.Err() == nil && seen <= maxWorkspaceEntries && len(found) < maxWorkspaceFiles
	}
	for path, err := range source.Below(more, w.folders...) {
		if err == nil { // what cannot be read hides itself alone
			found[path] = true
		}
	}
	if ctx.Err() != nil {
		return nil, protocol.ErrRequestCancelled
	}
	files := slices.Sorted(maps.Keys(found))
	if files == nil {
		files = []string{}
	}
	if w.watched.Load() {
		w.files = files // until the client says that some have come or gone
	}
	return files, nil
}

// tells tells whether the client says so when the file under a path changes.
func (w *workspace) tells(path string) bool { return w.watched.Load() && w.holds(path) }

// looked is the world as it is now, for a request on more than one text: with the files
// that open texts use as they are on the disk. A client that watches them says when they
// have changed; for others they are looked at here.
func (s *server) looked() *world {
	if s.docs.lookAgain(s.workspace.tells) {
		s.stepped(true)
	}
	return s.docs.current()
}

// known is what is remembered of the text under a path; nil for nothing.
func (w *workspace) known(path string) *facts {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.kept[path]
}

// keep remembers facts, or that there are more of them, and tells how many bytes
// everything that is remembered takes.
func (w *workspace) keep(f *facts) (bytes int) {
	w.mu.Lock()
	defer w.mu.Unlock()
	old := w.kept[f.path]
	if w.kept == nil || old == nil && len(w.kept) >= 2*maxWorkspaceFiles {
		w.kept, w.bytes = map[string]*facts{}, 0
	}
	if old != nil {
		w.bytes -= old.weight
	}
	f.weight = f.weigh()
	w.bytes += f.weight
	w.kept[f.path] = f
	return w.bytes
}

// keep remembers facts, and counts them.
func (s *server) keep(f *facts) { s.memory.kept(s.workspace.keep(f)) }

// everyText asks something of every text of the workspace, of several at a time: of
// the open ones as the editor has them, then of those on disk in order of their
// paths. It reads what is not known and shows how far it is.
func everyText[T any](ctx context.Context, s *server, w *world, token progressToken, open func(*document) T, closed func(*closedText) T) ([]T, error) {
	paths, err := s.workspace.paths(ctx)
	if err != nil {
		return nil, err
	}
	var list []T
	for _, doc := range w.inOrder() {
		list = append(list, open(doc))
	}
	opened := map[string]bool{} // by their paths, and by what those lead to
	for path := range w.byPath {
		opened[path], opened[source.Real(path)] = true, true
	}
	done := s.memory.busy()
	defer done()
	show := s.progress(ctx, token, "Reading boards", len(paths))
	defer show.end()
	of, known := make([]T, len(paths)), make([]bool, len(paths))
	survey, work := s.survey(w), crew{}
	var next, behind atomic.Int64
	for range min(runtime.GOMAXPROCS(0), len(paths)) {
		work.do(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(paths) || work.failed() {
					return
				}
				if show.step(int(behind.Load())); show.ctx.Err() != nil {
					return
				}
				if !opened[paths[i]] {
					if text := survey.closed(paths[i]); text != nil {
						of[i], known[i] = closed(text), true
					}
				}
				behind.Add(1)
				runtime.Gosched() // what is typed comes first
			}
		})
	}
	work.wait()
	if show.ctx.Err() != nil {
		return nil, protocol.ErrRequestCancelled
	}
	for i := range of {
		if known[i] {
			list = append(list, of[i])
		}
	}
	return list, nil
}

// crew is goroutines of which a panic is that of whoever waits for them.
type crew struct {
	work  sync.WaitGroup
	panic atomic.Pointer[any]
}

func (c *crew) do(work func()) {
	c.work.Go(func() {
		defer func() {
			if failure := recover(); failure != nil {
				failure = fmt.Sprintf("%v\n%s", failure, debug.Stack())
				c.panic.CompareAndSwap(nil, &failure)
			}
		}()
		work()
	})
}

func (c *crew) failed() bool { return c.panic.Load() != nil }

func (c *crew) wait() {
	c.work.Wait()
	if failure := c.panic.Load(); failure != nil {
		panic(*failure)
	}
}

// first is the folder that relative paths in settings count from; "" for none.
func (w *workspace) first() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	if len(w.folders) == 0 {
		return ""
	}
	return w.folders[0]
}
