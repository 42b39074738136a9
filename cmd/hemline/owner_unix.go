//go:build unix

package main

import (
	"io/fs"
	"os"
	"syscall"
)

// namesOf is by how many names a file is known.
func namesOf(info fs.FileInfo) int {
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return int(s.Nlink)
	}
	return 1
}

// likeness gives a file the mode, the owner and the group of another.
func likeness(path string, of fs.FileInfo) error {
	made, err := os.Lstat(path)
	if err != nil {
		return err
	}
	is, ok1 := made.Sys().(*syscall.Stat_t)
	want, ok2 := of.Sys().(*syscall.Stat_t)
	if ok1 && ok2 && (is.Uid != want.Uid || is.Gid != want.Gid) {
		if err := os.Chown(path, int(want.Uid), int(want.Gid)); err != nil {
			return err
		}
	}
	return os.Chmod(path, of.Mode()) // after the owner, who may clear bits of it
}
