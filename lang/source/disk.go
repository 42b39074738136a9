package source

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// MaxBytes is the longest text that is read: 8 MB, some 200,000 statements.
const MaxBytes = 8 << 20

// Read reads a file from disk under the path it is to be shown by. It refuses
// what is no regular file (a folder, a pipe, a device, which may never end)
// and what is longer than MaxBytes, without reading more of it than that.
func Read(path string) (*File, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, plain(err)
	}
	switch {
	case info.IsDir():
		return nil, fmt.Errorf("it is a folder; expected a file")
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("it is a device, a pipe or a socket; expected a file")
	case info.Size() > MaxBytes:
		return nil, tooLong(info.Size())
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, plain(err)
	}
	defer f.Close()
	// The file may grow while it is read.
	data, err := io.ReadAll(io.LimitReader(f, MaxBytes+1))
	if err != nil {
		return nil, plain(err)
	}
	if len(data) > MaxBytes {
		return nil, tooLong(int64(len(data)))
	}
	return New(path, string(data)), nil
}

func tooLong(size int64) error {
	return fmt.Errorf("it is %d bytes long; at most %d are read", size, MaxBytes)
}

// plain drops the path and the operation, which the caller's message names.
func plain(err error) error {
	if p, ok := err.(*os.PathError); ok {
		return p.Err
	}
	return err
}

// maxNear is how many files beside one are listed.
const maxNear = 200

// Beside lists the .hem files in the folder of one, in those beside it and below it, one
// level far: by their paths from its folder, with slashes. Only names are read.
func Beside(path string) (list []string) {
	home := filepath.Dir(path)
	within := func(folder string) []os.DirEntry {
		entries, err := os.ReadDir(filepath.Join(home, folder))
		if err != nil {
			return nil
		}
		for _, e := range entries {
			if filepath.Ext(e.Name()) == ".hem" && !e.IsDir() && len(list) < maxNear && (folder != "" || e.Name() != filepath.Base(path)) {
				list = append(list, filepath.ToSlash(filepath.Join(folder, e.Name())))
			}
		}
		return entries
	}
	for _, up := range []string{"", ".."} {
		for _, e := range within(up) {
			if e.IsDir() && e.Name()[0] != '.' && len(list) < maxNear {
				within(filepath.Join(up, e.Name()))
			}
		}
	}
	return list
}
