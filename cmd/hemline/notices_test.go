package main

import (
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/go/packages"
)

//go:generate go test . -run ^TestNotices$ -update

// systems are those that a release is built for. What is linked differs
// between them; the notices hold for all.
var systems = []string{"linux/amd64", "linux/arm64", "darwin/amd64", "darwin/arm64", "windows/amd64", "windows/arm64"}

// linked is a module of which a part is linked into the program.
type linked struct {
	name    string   // path and version
	folder  string   // its root
	folders []string // those of its packages that are linked
	fonts   []string // files of type that they embed
}

// TestNotices holds the notices that the program shows to the licences of
// what is linked into it now.
func TestNotices(t *testing.T) {
	text, err := noticesOf(append([]linked{standardLibrary(t), pageLibraries}, linkedModules(t)...))
	require.NoError(t, err)
	if *update {
		require.NoError(t, os.WriteFile("NOTICES", []byte(text), 0o644))
		return
	}
	if notices != text { // the difference may be a megabyte long
		assert.Equal(t, sections(text), sections(notices), "stale: go generate ./cmd/hemline")
		assert.Fail(t, "a licence's text is stale: go generate ./cmd/hemline")
	}
	for _, part := range []string{"The Go Authors", "Fonts are (c) Bitstream", "DejaVuSansCondensed.ttf", "Gregg Tavares", "Mapbox"} {
		assert.Contains(t, notices, part)
	}
}

// pageLibraries are the works in the script that the live picture's page takes from npm.
var pageLibraries = linked{name: "twgl.js and earcut, in the page of the live picture", folder: "../../lsp/picture/page/lib"}

// sections are the headings of notices.
func sections(text string) []string { return regexp.MustCompile(`(?m)^== .*$`).FindAllString(text, -1) }

// linkedModules are the modules that any system's program is linked from, by
// name, hemline itself left out.
func linkedModules(t *testing.T) []linked {
	t.Helper()
	modules := map[string]*linked{}
	for _, system := range systems {
		goos, goarch, _ := strings.Cut(system, "/")
		loaded, err := packages.Load(&packages.Config{
			Mode: packages.NeedName | packages.NeedFiles | packages.NeedEmbedFiles | packages.NeedImports | packages.NeedDeps | packages.NeedModule,
			Env:  append(os.Environ(), "CGO_ENABLED=0", "GOOS="+goos, "GOARCH="+goarch),
		}, ".")
		require.NoError(t, err)
		packages.Visit(loaded, nil, func(p *packages.Package) {
			require.Empty(t, p.Errors, p.PkgPath)
			m := p.Module
			if m == nil || m.Main { // the standard library's, or our own
				return
			}
			if m.Replace != nil {
				m = m.Replace
			}
			name := strings.TrimSpace(m.Path + " " + m.Version)
			if modules[name] == nil {
				modules[name] = &linked{name: name, folder: m.Dir}
			}
			x := modules[name]
			x.folders = append(x.folders, p.Dir)
			for _, f := range p.EmbedFiles {
				if slices.Contains([]string{".ttf", ".otf", ".pfb", ".pk"}, filepath.Ext(f)) {
					x.fonts = append(x.fonts, filepath.Base(f))
				}
			}
		})
	}
	require.NotEmpty(t, modules)
	var list []linked
	for _, m := range modules {
		list = append(list, *m)
	}
	slices.SortFunc(list, func(a, b linked) int { return strings.Compare(a.name, b.name) })
	return list
}

// standardLibrary is Go itself, from where it is installed.
func standardLibrary(t *testing.T) linked {
	t.Helper()
	root, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	return linked{name: "Go, its standard library and runtime", folder: strings.TrimSpace(string(root))}
}

// noticesOf writes the licences of modules. One without a licence is an error:
// nobody may hand it on.
func noticesOf(modules []linked) (string, error) {
	var w strings.Builder
	w.WriteString("hemline is built of its own text and of the works below, each under its own\nlicence, which follows its name.\n")
	var bare []string
	for _, m := range modules {
		files, err := m.licences()
		if err != nil {
			return "", err
		}
		if !slices.ContainsFunc(files, licenceOfAll.MatchString) {
			bare = append(bare, m.name)
		}
		fmt.Fprintf(&w, "\n%s\n== %s\n", strings.Repeat("=", 78), m.name)
		if len(m.fonts) > 0 {
			slices.Sort(m.fonts)
			fmt.Fprintf(&w, "\nFonts: %s\n", strings.Join(slices.Compact(m.fonts), ", "))
		}
		for _, f := range files {
			data, err := os.ReadFile(filepath.Join(m.folder, filepath.FromSlash(f)))
			if err != nil {
				return "", err
			}
			fmt.Fprintf(&w, "\n-- %s\n\n%s\n", f, plain(data))
		}
	}
	if len(bare) > 0 {
		return "", fmt.Errorf("no licence file in %s: what has no licence cannot be handed on; use another library", strings.Join(bare, ", "))
	}
	return w.String(), nil
}

// plain is a licence's text as UTF-8 with plain ends of lines; old texts are in
// ISO/IEC 8859-1, whose bytes are the first code points.
func plain(data []byte) string {
	text := string(data)
	if !utf8.ValidString(text) {
		runes := make([]rune, len(data))
		for i, b := range data {
			runes[i] = rune(b)
		}
		text = string(runes)
	}
	return strings.TrimSpace(strings.ReplaceAll(text, "\r\n", "\n"))
}

// A file that holds a licence or what must go with one has one of these words
// in its name, and is no program. A licence in a module's root is that of all of it.
var (
	licenceName  = regexp.MustCompile(`(?i)licen[cs]e|copying|copyright|notice|patents`)
	licenceOfAll = regexp.MustCompile(`(?i)^[^/]*(licen[cs]e|copying)[^/]*$`)
	licenceKind  = []string{"", ".txt", ".md"}
)

// licences are the licence files in a module's root, in the folders of its
// linked packages and those above, and below each a folder "licenses"; by
// name, as seen from the root.
func (m linked) licences() (files []string, err error) {
	folders := []string{m.folder}
	for _, f := range m.folders {
		for ; len(f) > len(m.folder); f = filepath.Dir(f) {
			folders = append(folders, f)
		}
	}
	slices.Sort(folders)
	for _, folder := range slices.Compact(folders) {
		entries, err := os.ReadDir(folder)
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			path := filepath.Join(folder, e.Name())
			switch {
			case !licenceName.MatchString(e.Name()):
			case e.IsDir():
				err = filepath.WalkDir(path, func(path string, d fs.DirEntry, err error) error {
					if err == nil && slices.Contains(licenceKind, filepath.Ext(path)) && !d.IsDir() {
						files = append(files, path)
					}
					return err
				})
				if err != nil {
					return nil, err
				}
			case slices.Contains(licenceKind, filepath.Ext(path)):
				files = append(files, path)
			}
		}
	}
	for i, f := range files {
		if f, err = filepath.Rel(m.folder, f); err != nil {
			return nil, err
		}
		files[i] = filepath.ToSlash(f)
	}
	slices.Sort(files)
	return slices.Compact(files), nil
}

// A module's licences are all found, with its linked packages' own; one that
// has none is named.
func TestNoticesOfModules(t *testing.T) {
	root := t.TempDir()
	for name, text := range map[string]string{
		"a/LICENSE": "terms of a\r\n", "a/license.go": "package a", "a/licenses/second.txt": "other terms of a",
		"a/in/type/COPYING": "terms of a's type", "a/out/LICENSE": "terms of what is not linked", "a/README.md": "no terms",
		"b/b.go": "package b", "b/in/LICENSE": "terms of a part of b", "b/PATENTS": "no terms of all of b", "c/COPYING.md": "\xa9 terms of c",
	} {
		path := filepath.Join(root, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	in := func(parts ...string) string { return filepath.Join(append([]string{root}, parts...)...) }
	a := linked{name: "example/a v1.0.0", folder: in("a"), folders: []string{in("a"), in("a", "in", "type")}, fonts: []string{"z.ttf", "y.otf", "z.ttf"}}
	b := linked{name: "example/b v2.0.0", folder: in("b"), folders: []string{in("b", "in")}}
	c := linked{name: "example/c v3.0.0", folder: in("c"), folders: []string{in("c")}}
	rule := strings.Repeat("=", 78)
	text, err := noticesOf([]linked{a, c})
	require.NoError(t, err)
	assert.Equal(t, `hemline is built of its own text and of the works below, each under its own
licence, which follows its name.

`+rule+`
== example/a v1.0.0

Fonts: y.otf, z.ttf

-- LICENSE

terms of a

-- in/type/COPYING

terms of a's type

-- licenses/second.txt

other terms of a

`+rule+`
== example/c v3.0.0

-- COPYING.md

© terms of c
`, text)
	_, err = noticesOf([]linked{a, b, c})
	assert.EqualError(t, err, "no licence file in example/b v2.0.0: what has no licence cannot be handed on; use another library")
}
