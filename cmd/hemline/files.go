package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/natefinch/atomic"

	"hemline/lang/emit/bundle"
	"hemline/lang/source"
)

// hemFiles turns what the user named into files: a folder stands for every
// .hem file below it, a pattern for what it matches. Each file comes once, in
// the order of the arguments; what cannot be had is in the error, all of it.
func hemFiles(args []string) ([]string, error) {
	var files []string
	var errs []error
	for _, arg := range args {
		found, err := expand(arg)
		if err != nil {
			errs = append(errs, err)
		}
		for _, f := range found {
			if f = filepath.Clean(f); !slices.Contains(files, f) {
				files = append(files, f)
			}
		}
	}
	return files, errors.Join(errs...)
}

// readAll reads standard input, up to the longest text that there may be.
func readAll(in io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(in, source.MaxBytes+1))
	if err == nil && len(data) > source.MaxBytes {
		err = fmt.Errorf("standard input is longer than %d bytes, the most that is read", source.MaxBytes)
	}
	return data, err
}

func expand(arg string) ([]string, error) {
	if arg == standardInput {
		return []string{arg}, nil
	}
	info, err := os.Stat(arg)
	if err != nil {
		if strings.ContainsAny(arg, "*?[") {
			found, err := filepath.Glob(arg)
			if err != nil || len(found) == 0 {
				return nil, fmt.Errorf("%s: no file matches", arg)
			}
			return found, nil
		}
		return nil, fmt.Errorf("%s: %w", arg, cause(err))
	}
	if !info.IsDir() {
		return []string{arg}, nil
	}
	var found []string
	err = filepath.WalkDir(arg, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return fmt.Errorf("%s: %w", path, cause(err))
		}
		if d.IsDir() && path != arg && strings.HasPrefix(d.Name(), ".") {
			return filepath.SkipDir
		}
		if !d.IsDir() && filepath.Ext(path) == ".hem" {
			found = append(found, path)
		}
		return nil
	})
	if err == nil && len(found) == 0 {
		err = fmt.Errorf("%s: the folder holds no .hem file", arg)
	}
	return found, err
}

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
		if err := writeOne(f.Name, f.Data); err != nil {
			for _, back := range slices.Backward(undo) {
				err = errors.Join(err, back())
			}
			return err
		}
		undo = append(undo, func() error {
			if there {
				return writeOne(f.Name, old)
			}
			return os.Remove(f.Name)
		})
	}
	return nil
}

// writeWhole writes a file whole or not at all.
func writeWhole(name string, data []byte) error {
	return whole(func() error { return writeOne(name, data) })
}

func writeOne(name string, data []byte) error {
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("%s is there and is no file", name)
	}
	if _, err := os.Stat(filepath.Dir(name)); err != nil {
		return fmt.Errorf("%s: %w", filepath.Dir(name), cause(err))
	}
	if err := atomic.WriteFile(name, bytes.NewReader(data)); err != nil {
		return fmt.Errorf("%s: %w", name, cause(err))
	}
	if err := os.Chmod(name, 0o644); err != nil { // it was made for its owner alone
		return fmt.Errorf("%s: %w", name, cause(err))
	}
	return nil
}

// cause drops the operation and path from a file error; messages name the path first.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}
