package source

import (
	"errors"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
	"strings"
)

// Suffix ends the names of the files that are found below a folder.
const Suffix = ".hem"

var errNowhere = errors.New("it is a link that leads nowhere")

// Below goes through the .hem files below folders, each under the first name
// that it is found by: what lies in the folders themselves in the order of its
// names, then what links lead to. A link to a file counts as that file, a link
// to a folder as that folder; none is gone through twice, so that links in a
// loop end. What is hidden, its name beginning with a dot, and folders of
// installed packages are passed over.
//
// A link that leads nowhere and a folder that cannot be read come with an
// error, without the path. more is asked before each entry; false ends the
// walk. nil stands for no bound.
func Below(more func() bool, folders ...string) iter.Seq2[string, error] {
	if more == nil {
		more = func() bool { return true }
	}
	return func(yield func(string, error) bool) {
		w := walk{more: more, yield: yield, folders: map[string]bool{}, files: map[string]bool{}}
		for _, folder := range folders {
			if !w.folder(folder, Real(folder)) {
				return
			}
		}
		for len(w.links) > 0 {
			link := w.links[0]
			w.links = w.links[1:]
			if !w.follow(link) {
				return
			}
		}
	}
}

// Real is the path of what a path leads to, without links; the absolute path
// where it leads nowhere.
func Real(path string) string {
	abs, err := filepath.Abs(path)
	if err != nil {
		abs = filepath.Clean(path)
	}
	if real, err := filepath.EvalSymlinks(abs); err == nil {
		return real
	}
	return abs
}

type walk struct {
	more    func() bool
	yield   func(string, error) bool
	folders map[string]bool // by their real paths: gone through
	files   map[string]bool // by their real paths: found by a link
	links   []string        // to be followed
}

// folder goes through what lies in a folder, which is shown by one path and is
// really at another. It tells whether to go on.
func (w *walk) folder(shown, real string) bool {
	if w.folders[real] {
		return true
	}
	w.folders[real] = true
	entries, err := os.ReadDir(shown)
	if err != nil && !w.yield(shown, plain(err)) {
		return false
	}
	for _, e := range entries {
		if !w.more() {
			return false
		}
		name, on := e.Name(), true
		switch path := filepath.Join(shown, name); {
		case passed(name):
		case e.IsDir():
			on = w.folder(path, filepath.Join(real, name))
		case e.Type()&fs.ModeSymlink != 0:
			w.links = append(w.links, path)
		case filepath.Ext(name) == Suffix:
			on = w.yield(path, nil)
		}
		if !on {
			return false
		}
	}
	return true
}

// passed tells whether a file or folder is passed over.
func passed(name string) bool { return strings.HasPrefix(name, ".") || name == "node_modules" }

func (w *walk) follow(link string) bool {
	info, err := os.Stat(link)
	ours := filepath.Ext(link) == Suffix
	switch {
	case err != nil && ours:
		return w.yield(link, errNowhere)
	case err != nil:
		return true
	}
	real := Real(link)
	switch {
	case info.IsDir():
		return w.folder(link, real)
	case !ours || w.files[real] || w.found(real):
		return true
	}
	w.files[real] = true
	return w.yield(link, nil)
}

// found tells whether a file was found in its own folder.
func (w *walk) found(real string) bool {
	name := filepath.Base(real)
	return w.folders[filepath.Dir(real)] && filepath.Ext(name) == Suffix && !passed(name)
}
