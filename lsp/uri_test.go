package lsp

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// The Windows, UNC and escaping rows follow RFC 8089 (file URIs, its appendix
// D and E for drives and UNC) and RFC 3986; the spellings are those that
// editors write.
func TestURIToPath(t *testing.T) {
	for _, row := range []struct {
		uri     string
		windows bool
		path    string // "" where the URI names no file
	}{
		{"file:///home/a/b.hem", false, "/home/a/b.hem"},
		{"file:/home/a/b.hem", false, "/home/a/b.hem"},
		{"FILE:///home/a/b.hem", false, "/home/a/b.hem"},
		{"file://localhost/home/a/b.hem", false, "/home/a/b.hem"},
		{"file:///with%20space/b.hem", false, "/with space/b.hem"},
		{"file:///with space/b.hem", false, "/with space/b.hem"},
		{"file:///100%25/b.hem", false, "/100%/b.hem"},
		{"file:///100%/b.hem", false, "/100%/b.hem"},
		{"file:///100%2/b.hem", false, "/100%2/b.hem"},
		{"file:///%c3%a9%F0%9F%9B%A0.hem", false, "/é🛠.hem"},
		{"file:///é🛠.hem", false, "/é🛠.hem"},
		{"file:///a.hem#L3", false, "/a.hem"},
		{"file:///a%23b%3Fc.hem", false, "/a#b?c.hem"},
		{"file:///$HOME/a.hem", false, "/$HOME/a.hem"},
		{"file:///c%3A/a.hem", false, "/c:/a.hem"},
		{"file://host/share/a.hem", false, ""},

		{"file:///c%3A/Users/a.hem", true, `C:\Users\a.hem`},
		{"file:///C:/Users/a.hem", true, `C:\Users\a.hem`},
		{"file:///c:/Users/a.hem", true, `C:\Users\a.hem`},
		{"file://host/share/a%20b.hem", true, `\\host\share\a b.hem`},
		{"file://localhost/c:/a.hem", true, `C:\a.hem`},

		{"untitled:Untitled-1", false, ""},
		{"git:/home/a.hem?ref", false, ""},
		{"https://example.invalid/a.hem", false, ""},
		{"file://host", false, ""},
		{"file:", false, ""},
		{"a.hem", false, ""},
		{"", false, ""},
		{"%", true, ""},
	} {
		path, ok := uriToPath(row.uri, row.windows)
		assert.Equal(t, row.path, path, row.uri)
		assert.Equal(t, row.path != "", ok, row.uri)
	}
}

func TestPathToURI(t *testing.T) {
	for _, row := range []struct {
		path    string
		windows bool
		uri     string
	}{
		{"/home/a/b.hem", false, "file:///home/a/b.hem"},
		{"/with space/100%/a#b?c.hem", false, "file:///with%20space/100%25/a%23b%3Fc.hem"},
		{"/é🛠.hem", false, "file:///%C3%A9%F0%9F%9B%A0.hem"},
		{`/back\slash`, false, "file:///back%5Cslash"},
		{`c:\Users\a b.hem`, true, "file:///C:/Users/a%20b.hem"},
		{`\\host\share\a.hem`, true, "file://host/share/a.hem"},
	} {
		assert.Equal(t, row.uri, pathToURI(row.path, row.windows))
	}
}

func TestEveryPathComesBackFromItsURI(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		path := "/" + rapid.String().Draw(t, "path")
		back, ok := uriToPath(pathToURI(path, false), false)
		assert.True(t, ok)
		assert.Equal(t, path, back)
	})
}
