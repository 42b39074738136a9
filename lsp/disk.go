package lsp

import (
	"crypto/sha256"
	"os"
	"sync"
	"time"

	"hemline/lang/source"
)

// sum stands for a text; the zero sum for one that cannot be read.
type sum [16]byte

func sumOf(text string) sum {
	whole := sha256.Sum256([]byte(text))
	return sum(whole[:16])
}

// disk reads the files that are not open in the editor. A file that has not
// changed is handed out as the same value again, so that an analysis can tell
// by identity that there is nothing new in it.
type disk struct {
	mu    sync.Mutex
	files map[string]diskFile
	held  int // bytes of the texts that are kept
}

// diskFile is what is known of a file. Its text is kept where open texts use it.
type diskFile struct {
	size     int64
	modified time.Time
	doubt    bool // it may have changed without its time showing it
	sum      sum
	file     *source.File // nil where the text is not kept
}

// maxHeld bounds the texts that are kept, in bytes. With more, all but the one
// read last are read again when they are asked for.
const maxHeld = 16 << 20

func newDisk() *disk { return &disk{files: map[string]diskFile{}} }

// read returns the text under a path, and keeps it; with an error the zero sum.
func (d *disk) read(path string) (*source.File, sum, error) { return d.look(path, true, true) }

// pass returns the text under a path without keeping it.
func (d *disk) pass(path string) (*source.File, sum, error) { return d.look(path, true, false) }

// sum tells whether a file is still the same, as a rule without reading it.
func (d *disk) sum(path string) sum {
	_, sum, _ := d.look(path, false, false)
	return sum
}

// told is what is known of a file, for where the client tells of files that change; ok is
// false where nothing is, or it has told that some have.
func (d *disk) told(path string) (is sum, ok bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	known, ok := d.files[path]
	return known.sum, ok && !known.doubt
}

func (d *disk) look(path string, text, keep bool) (*source.File, sum, error) {
	info, err := os.Stat(path)
	d.mu.Lock()
	known, ok := d.files[path]
	d.mu.Unlock()
	same := err == nil && ok && !known.doubt && known.size == info.Size() && known.modified.Equal(info.ModTime())
	if same && (known.file != nil || !text) {
		return known.file, known.sum, nil
	}
	file, failed := source.Read(path)
	if failed != nil {
		return nil, sum{}, failed
	}
	is := sumOf(file.Text())
	if err != nil {
		return file, is, nil
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if now, ok := d.files[path]; ok && now.file != nil {
		if now.sum == is {
			file = now.file // it only seemed to have changed, or somebody else has read it meanwhile
		}
		keep = true
		d.held -= now.file.Len()
	}
	next := diskFile{size: info.Size(), modified: info.ModTime(), sum: is}
	if keep {
		if d.held+file.Len() > maxHeld {
			d.drop()
		}
		next.file = file
		d.held += file.Len()
	}
	d.files[path] = next
	return file, is, nil
}

// drop lets go of every text.
func (d *disk) drop() {
	for path, known := range d.files {
		known.file = nil
		d.files[path] = known
	}
	d.held = 0
}

// forget trusts nothing that is remembered, for when a client says that some
// files have changed: a file system's clock may be too coarse to show it.
func (d *disk) forget() {
	d.mu.Lock()
	defer d.mu.Unlock()
	for path, known := range d.files {
		known.doubt = true
		d.files[path] = known
	}
}
