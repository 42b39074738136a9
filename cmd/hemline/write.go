package main

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"

	"github.com/natefinch/atomic"

	"hemline/lang/emit/bundle"
)

// writeAll writes files, all or none: where one cannot be written, those before
// it are as they were.
func writeAll(files []bundle.File) error {
	return whole(func() error { return writeEach(files) })
}

func writeEach(files []bundle.File) error {
	var undo []func() error
	for _, f := range files {
		old, err := os.ReadFile(f.Name)
		there := err == nil
		if err := put(f.Name, f.Data); err != nil {
			for _, back := range slices.Backward(undo) {
				err = errors.Join(err, back())
			}
			return err
		}
		undo = append(undo, func() error {
			if there {
				return put(f.Name, old)
			}
			return os.Remove(f.Name)
		})
	}
	return nil
}

// writeWhole writes a file whole or not at all.
func writeWhole(name string, data []byte) error {
	return writeAll([]bundle.File{{Name: name, Data: data}})
}

// replace puts a new text in the place of a file's.
func replace(name, text string) error {
	return whole(func() error { return put(name, []byte(text)) })
}

// put writes a file, whoever reads it seeing the old one or the new one, whole.
// A link goes on pointing at its file, which is written; a file that is there
// keeps its mode, its owner and its group. Where that cannot be so, the file
// being known by further names or its owner's alone to give away, or its folder
// taking no new file, it is written where it is. The error names it.
func put(name string, data []byte) error {
	path, old, err := target(name)
	if err != nil {
		return err
	}
	if err := putAt(path, old, data); err != nil {
		return fmt.Errorf("%s: %w", name, cause(err))
	}
	return nil
}

func putAt(path string, old fs.FileInfo, data []byte) error {
	if old != nil && namesOf(old) > 1 {
		return inPlace(path, data)
	}
	fresh, err := temporary(path, data)
	if err == nil && old != nil {
		err = likeness(fresh, old)
	}
	if err == nil {
		err = atomic.ReplaceFile(fresh, path)
	}
	if err == nil {
		return nil
	}
	if fresh != "" {
		os.Remove(fresh)
	}
	if old != nil && errors.Is(err, fs.ErrPermission) {
		return inPlace(path, data)
	}
	return err
}

// target is where what the user names is written: what a link leads to. What is
// no file, or may not be written, is refused; old is what is there, nil for
// nothing.
func target(name string) (path string, old fs.FileInfo, err error) {
	wrong := func(at string, err error) (string, fs.FileInfo, error) {
		return "", nil, fmt.Errorf("%s: %w", at, cause(err))
	}
	if _, err = os.Lstat(name); errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Stat(filepath.Dir(name)); err != nil {
			return wrong(filepath.Dir(name), err)
		}
		return name, nil, nil
	}
	if err != nil {
		return wrong(name, err)
	}
	if path, err = leadsTo(name); err != nil {
		return "", nil, err
	}
	if old, err = os.Stat(path); err != nil {
		return wrong(name, err)
	}
	if !old.Mode().IsRegular() {
		return "", nil, fmt.Errorf("%s is there and is no file", name)
	}
	// Its folder alone would let a file be replaced that nobody may write to.
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return wrong(name, err)
	}
	return path, old, f.Close()
}

// leadsTo is what is written where the user names a file or folder: itself,
// there or not, or what it leads to as a link. A link that leads nowhere is
// refused.
func leadsTo(name string) (string, error) {
	info, err := os.Lstat(name)
	if err != nil || info.Mode()&fs.ModeSymlink == 0 {
		return name, nil
	}
	path, err := filepath.EvalSymlinks(name)
	if err != nil {
		return "", fmt.Errorf("%s is a link that leads nowhere; nothing was written", name)
	}
	return path, nil
}

// temporary writes a new file in the folder of another, of a name that scans pass
// over, and returns its path; also with an error, where it must be removed.
func temporary(path string, data []byte) (fresh string, err error) {
	folder, name := filepath.Split(path)
	fresh = filepath.Join(folder, fmt.Sprintf(".%s.%x", name, rand.Uint64()))
	f, err := os.OpenFile(fresh, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return "", err
	}
	_, err = f.Write(data)
	// A name may reach the disk before what it names does.
	return fresh, errors.Join(err, f.Sync(), f.Close())
}

// inPlace writes over a file's bytes; where that fails they are put back.
func inPlace(path string, data []byte) error {
	old, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	if err = over(f, data); err != nil {
		err = errors.Join(err, over(f, old))
	}
	return errors.Join(err, f.Close())
}

// over writes a file's bytes, the length last: until then all room that it had is
// its own.
func over(f *os.File, data []byte) error {
	if _, err := f.WriteAt(data, 0); err != nil {
		return err
	}
	return errors.Join(f.Truncate(int64(len(data))), f.Sync())
}
