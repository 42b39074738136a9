package lsp

import (
	"os"
	"sync"
	"time"

	"hemline/lang/source"
)

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

// read returns the text under a path.
func (d *disk) read(path string) (*source.File, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	info, err := os.Stat(path)
	if err == nil {
		known, ok := d.files[path]
		if ok && known.size == info.Size() && known.modified.Equal(info.ModTime()) {
			return known.file, nil
		}
	}
	file, failed := source.Read(path)
	if failed != nil {
		return nil, failed
	}
	if err == nil {
		d.files[path] = diskFile{info.Size(), info.ModTime(), file}
	}
	return file, nil
}

// forget drops what is remembered of all files, for when a client says that
// some have changed: a file system's clock may be too coarse to show it.
func (d *disk) forget() {
	d.mu.Lock()
	defer d.mu.Unlock()
	clear(d.files)
}
