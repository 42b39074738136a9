package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"hemline/lang/source"
)

// hemFiles turns what the user named into files: a folder stands for every
// .hem file below it, as source.Below has them, a pattern for what it matches.
// Each file comes once, under the first name that it has in the order of the
// arguments; what cannot be had is in the error, all of it.
func hemFiles(args []string) ([]string, error) {
	var files []string
	var errs []error
	seen := map[string]bool{}
	for _, arg := range args {
		found, err := expand(arg)
		if err != nil {
			errs = append(errs, err)
		}
		for _, f := range found {
			key := f
			if f != standardInput {
				f = filepath.Clean(f)
				key = source.Real(f)
			}
			if !seen[key] {
				seen[key] = true
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
	var faults []error
	for path, err := range source.Below(nil, arg) {
		if err != nil {
			faults = append(faults, fmt.Errorf("%s: %w", path, err))
			continue
		}
		found = append(found, path)
	}
	if len(faults) == 0 && len(found) == 0 {
		faults = append(faults, fmt.Errorf("%s: the folder holds no .hem file", arg))
	}
	return found, errors.Join(faults...)
}

// cause drops the operation and path from a file error; messages name the path first.
func cause(err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		return p.Err
	case errors.As(err, &l):
		return l.Err
	}
	return err
}
