package lang

import (
	"cmp"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// mostUp is how many folders up a file is named from the root text's own;
// farther up, the whole path says more.
const mostUp = 2

// NameOf is a file's path as a `use` statement of the root text would name it,
// with slashes: from the root's folder on, at most two folders up, else whole.
func (a *Analysis) NameOf(file string) string {
	from := filepath.Dir(a.Root().Path())
	name, err := filepath.Rel(from, file)
	if err != nil { // one of the two is absolute alone
		return filepath.ToSlash(file)
	}
	name = filepath.ToSlash(name)
	if strings.HasPrefix(name, strings.Repeat("../", mostUp+1)) {
		return filepath.ToSlash(file)
	}
	return name
}

// Named names files in a message as the root text would name them, wherever the
// message has their paths: see NamedFrom. Of a root without a whole path these are the files
// that took part.
func (a *Analysis) Named(message string) string {
	message = NamedFrom(a.Root().Path(), message)
	for _, f := range slices.SortedFunc(slices.Values(a.Files()), func(x, y string) int { return cmp.Compare(len(y), len(x)) }) {
		if name := a.NameOf(f); name != path.Clean(f) {
			message = replaceWhole(message, f, name)
		}
	}
	return message
}

// NamedFrom names files in a message as a text would name them that has a whole path itself,
// whether they took part in it or not: so is the fabricator of an editor's settings.
func NamedFrom(root, message string) string {
	folder := filepath.Dir(root)
	for up := 0; up <= mostUp && filepath.IsAbs(root); up++ {
		parent := filepath.Dir(folder)
		if parent == folder {
			break // the root is in every path
		}
		message = replaceWhole(message, filepath.ToSlash(folder)+"/", strings.Repeat("../", up))
		folder = parent
	}
	return message
}

// replaceWhole replaces a path where it is not the end of a longer one.
func replaceWhole(text, old, by string) string {
	var b strings.Builder
	for {
		i := strings.Index(text, old)
		if i < 0 {
			b.WriteString(text)
			return b.String()
		}
		before, _ := utf8.DecodeLastRuneInString(text[:i])
		b.WriteString(text[:i])
		if i > 0 && (strings.ContainsRune("/\\._-", before) || unicode.IsLetter(before) || unicode.IsDigit(before)) {
			b.WriteString(old)
		} else {
			b.WriteString(by)
		}
		text = text[i+len(old):]
	}
}
