// Package bundle holds files that go out together: what each is about, the
// manifest of their hashes, and all of them in one archive. It knows nothing of
// boards.
package bundle

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"
	"time"
)

// File is one file of a bundle.
type File struct {
	Name string // with slashes, from the bundle's root
	// About says in a sentence what the file holds.
	About string
	// Role says in a word or two what it is to a program; "" for what has none.
	Role string
	// Function is what its own .FileFunction says, "" where its format has none.
	Function string
	Data     []byte
}

// Hash is the file's SHA-256 in hexadecimal digits.
func (f File) Hash() string { return fmt.Sprintf("%x", sha256.Sum256(f.Data)) }

// ManifestName is the manifest's place: at the root of what it lists.
const ManifestName = "SHA256SUMS"

// Manifest lists files with their hashes, in the form that the common checking
// programs read: `sha256sum -c SHA256SUMS`.
func Manifest(files []File) File {
	var b bytes.Buffer
	for _, f := range files {
		fmt.Fprintf(&b, "%s  %s\n", f.Hash(), f.Name)
	}
	return File{Name: ManifestName, About: "the hashes of all other files", Data: b.Bytes()}
}

// Hashes reads a manifest: hashes by file name. ok is false where it is none.
func Hashes(manifest []byte) (list map[string]string, ok bool) {
	list = map[string]string{}
	for line := range strings.Lines(string(manifest)) {
		hash, name, found := strings.Cut(strings.TrimSuffix(line, "\n"), "  ")
		if !found || len(hash) != 2*sha256.Size {
			return nil, false
		}
		list[name] = hash
	}
	return list, len(list) > 0
}

// epoch is the earliest time that the archive's format holds.
var epoch = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

// Under puts files into a folder.
func Under(folder string, files []File) []File {
	list := make([]File, len(files))
	for i, f := range files {
		f.Name = path.Join(folder, f.Name)
		list[i] = f
	}
	return list
}

// sound refuses a name that would lie outside the bundle or be read as a folder
// by another system, and one that another file has, small letters or large.
func sound(files []File) error {
	seen := map[string]bool{}
	for _, f := range files {
		small := strings.ToLower(f.Name)
		switch {
		case !fs.ValidPath(f.Name) || f.Name == "." || strings.ContainsAny(f.Name, "\\:"):
			return fmt.Errorf("%q is no name for a file of an archive", f.Name)
		case seen[small]:
			return fmt.Errorf("two files of the archive would be %q", f.Name)
		}
		seen[small] = true
	}
	return nil
}

// Zip packs files, in their order, below one folder. The same files give the
// same bytes: each carries the date that is given, or the earliest there is.
// Nothing is written where a name is wrong, or two are one.
func Zip(w io.Writer, folder string, files []File, date time.Time) error {
	if err := sound(files); err != nil {
		return err
	}
	if date.Before(epoch) {
		date = epoch
	}
	z := zip.NewWriter(w)
	for _, f := range files {
		h := &zip.FileHeader{Name: path.Join(folder, f.Name), Method: zip.Deflate, Modified: date.UTC()}
		h.SetMode(0o644)
		part, err := z.CreateHeader(h)
		if err != nil {
			return err
		}
		if _, err := part.Write(f.Data); err != nil {
			return err
		}
	}
	return z.Close()
}
