package lsp

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"

	"hemline/lang/source"
)

// maxFile is the largest file that is read for a `use` statement, in bytes.
const maxFile = 16 << 20

// disk reads the files that are not open in the editor. A file that has not
// changed is handed out as the same value again, so that an analysis can tell
// by identity that there is nothing new in it.
type disk struct {
	mu    sync.Mutex
	files map[string]diskFile
}

type diskFile struct {
	size     int64
	modified time.Time
	file     *source.File
}

func newDisk() *disk { return &disk{files: map[string]diskFile{}} }

// read returns the text under a cleaned path. Only regular files are read: a
// text may name a device or a pipe, which would never end.
func (d *disk) read(path string) (*source.File, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no regular file", path)
	}
	if info.Size() > maxFile {
		return nil, fmt.Errorf("%s has %d bytes; at most %d are read", path, info.Size(), maxFile)
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if known, ok := d.files[path]; ok && known.size == info.Size() && known.modified.Equal(info.ModTime()) {
		return known.file, nil
	}
	text, err := readAtMost(path, maxFile)
	if err != nil {
		return nil, err
	}
	file := source.New(path, string(text))
	d.files[path] = diskFile{info.Size(), info.ModTime(), file}
	return file, nil
}

// forget drops what is remembered of all files, for when a client says that
// some have changed: a file system's clock may be too coarse to show it.
func (d *disk) forget() {
	d.mu.Lock()
	defer d.mu.Unlock()
	clear(d.files)
}

// readAtMost reads a file that may grow while it is read.
func readAtMost(path string, limit int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err == nil && int64(len(text)) > limit {
		err = fmt.Errorf("%s has more than %d bytes", path, limit)
	}
	return text, err
}
