package lsp

import (
	"context"
	"maps"
	"slices"
	"sync"

	"go.lsp.dev/protocol"

	"hemline/lang"
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
	folders []string             // cleaned paths
	files   []string             // of the last look at the folders; nil before and after a change
	kept    map[string]*document // by path: texts that are not open, as they were last read
}

// set replaces the folders.
func (w *workspace) set(folders []string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.folders, w.files, w.kept = folders, nil, nil
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
	w.files, w.kept = nil, nil
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
	w.files = slices.Sorted(maps.Keys(found))
	if w.files == nil {
		w.files = []string{}
	}
	return w.files, nil
}

// known is the text under a path as it was last read; nil for none.
func (w *workspace) known(path string) *document {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.kept[path]
}

func (w *workspace) keep(doc *document) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.kept == nil {
		w.kept = map[string]*document{}
	}
	w.kept[doc.path] = doc
}

// everything is every text of the workspace: the open ones as the editor has
// them, then those on disk in order of their paths. It reads what is not known
// and shows how far it is.
func (s *server) everything(ctx context.Context, w *world, token progressToken) ([]*document, error) {
	list := w.inOrder()
	paths, err := s.workspace.paths(ctx)
	if err != nil {
		return nil, err
	}
	open := map[string]bool{} // by their paths, and by what those lead to
	for path := range w.byPath {
		open[path], open[source.Real(path)] = true, true
	}
	show := s.progress(ctx, token, "Reading boards", len(paths))
	defer show.end()
	for i, path := range paths {
		if show.step(i); show.ctx.Err() != nil {
			return nil, protocol.ErrRequestCancelled
		}
		if open[path] {
			continue
		}
		if doc := s.closed(w, path); doc != nil {
			doc.analysis() // here, where it is shown and can be stopped: all who ask need it
			list = append(list, doc)
		}
	}
	return list, nil
}

// closed is a text that is not open, read from disk, or as it is known if
// nothing in it or in what it uses has changed; nil where it cannot be read.
func (s *server) closed(w *world, path string) *document {
	read := s.docs.reader(w)
	file, err := read(path)
	if err != nil {
		return nil
	}
	old := s.workspace.known(path)
	if old != nil && old.file == file && old.settings == w.settings && old.today == w.today && current(old, read) {
		return old
	}
	doc := &document{uri: uriOf(path), path: path, file: file, past: new(past), closed: true}
	if old != nil {
		doc.past = old.past
	}
	s.docs.complete(w, doc)
	s.workspace.keep(doc)
	return doc
}

// current tells whether every file that a text uses is still the one that was
// read.
func current(doc *document, read lang.Reader) bool {
	for _, d := range doc.analysis().Documents() {
		if f, err := read(d.File().Path()); err != nil || f != d.File() {
			return false
		}
	}
	return true
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
