package lsp

import (
	"path/filepath"
	"runtime"
	"strings"
)

// A document is known by the URI that its client wrote, and is answered under
// those very bytes: two spellings of one URI differ between editors, and the
// editor compares them as text. What is here only leads from a URI to the
// file it names and back, for the files that `use` statements name.

const onWindows = runtime.GOOS == "windows"

// pathOf is the cleaned path of the file that a URI names; ok is false for
// one that names none, such as an editor's unsaved "untitled:" buffer.
func pathOf(uri string) (path string, ok bool) {
	path, ok = uriToPath(uri, onWindows)
	if !ok {
		return "", false
	}
	return filepath.Clean(path), true
}

// uriOf is the URI of a file.
func uriOf(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	return pathToURI(path, onWindows)
}

// uriToPath is the path that a file URI names on one kind of system. Any
// authority but localhost is another host: that makes a UNC path on Windows,
// and names no file elsewhere.
func uriToPath(uri string, windows bool) (path string, ok bool) {
	scheme, rest, found := strings.Cut(uri, ":")
	if !found || !strings.EqualFold(scheme, "file") {
		return "", false
	}
	if end := strings.IndexAny(rest, "?#"); end >= 0 {
		rest = rest[:end]
	}
	host := ""
	if after, ok := strings.CutPrefix(rest, "//"); ok {
		slash := strings.IndexByte(after, '/')
		if slash < 0 {
			return "", false
		}
		host, rest = unescape(after[:slash]), after[slash:]
	}
	path = unescape(rest)
	switch {
	case path == "":
		return "", false
	case host != "" && !strings.EqualFold(host, "localhost"):
		if !windows {
			return "", false
		}
		path = "//" + host + path
	case windows && len(path) >= 3 && path[0] == '/' && isLetter(path[1]) && path[2] == ':':
		path = strings.ToUpper(path[1:2]) + path[2:]
	}
	if windows {
		path = strings.ReplaceAll(path, "/", `\`)
	}
	return path, true
}

// pathToURI is the file URI of an absolute path of one kind of system.
func pathToURI(path string, windows bool) string {
	if windows {
		path = strings.ReplaceAll(path, `\`, "/")
		switch {
		case len(path) >= 2 && isLetter(path[0]) && path[1] == ':':
			return "file:///" + strings.ToUpper(path[:1]) + ":" + escape(path[2:])
		case strings.HasPrefix(path, "//"):
			return "file:" + escape(path)
		}
	}
	return "file://" + escape(path)
}

// escape writes every byte outside RFC 3986's unreserved ones and the slash
// as %XX, which every client reads back the same way.
func escape(path string) string {
	const hex = "0123456789ABCDEF"
	var b strings.Builder
	for i := range len(path) {
		switch c := path[i]; {
		case isLetter(c), c >= '0' && c <= '9', strings.IndexByte("-._~/", c) >= 0:
			b.WriteByte(c)
		default:
			b.WriteByte('%')
			b.WriteByte(hex[c>>4])
			b.WriteByte(hex[c&15])
		}
	}
	return b.String()
}

// unescape reads %XX; a % that starts no such group stands for itself, as
// some clients leave it.
func unescape(text string) string {
	if strings.IndexByte(text, '%') < 0 {
		return text
	}
	var b strings.Builder
	for i := 0; i < len(text); i++ {
		if text[i] == '%' && i+2 < len(text) {
			high, ok1 := hexDigit(text[i+1])
			low, ok2 := hexDigit(text[i+2])
			if ok1 && ok2 {
				b.WriteByte(high<<4 | low)
				i += 2
				continue
			}
		}
		b.WriteByte(text[i])
	}
	return b.String()
}

func hexDigit(c byte) (byte, bool) {
	switch {
	case c >= '0' && c <= '9':
		return c - '0', true
	case c|0x20 >= 'a' && c|0x20 <= 'f':
		return c | 0x20 - 'a' + 10, true
	}
	return 0, false
}

func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }
