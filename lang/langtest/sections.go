package langtest

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/source"
)

// RootPath is the path of a section's own text.
const RootPath = "a.hem"

const (
	sectionMark = "// ==== "
	fileMark    = "// ---- "
)

// Section is a text of a test, with the files that it may use. A file of the
// tests holds many, each headed by a line
//
//	// ==== what this section shows
//
// A line `// ---- PATH` begins another file that the section's text may use.
type Section struct {
	File, Title string
	Texts       map[string]string // by path; the text itself is at RootPath
}

// Sections reads every section of the files that a pattern matches.
func Sections(t testing.TB, pattern string) []Section {
	t.Helper()
	var list []Section
	for _, file := range matches(t, pattern) {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		path := ""
		for line := range strings.Lines(string(data)) {
			if title, ok := strings.CutPrefix(line, sectionMark); ok {
				path = RootPath
				list = append(list, Section{filepath.Base(file), strings.TrimSpace(title), map[string]string{}})
			} else if other, ok := strings.CutPrefix(line, fileMark); ok {
				path = strings.TrimSpace(other)
			}
			require.NotEmpty(t, path, "%s starts with a section", file)
			list[len(list)-1].Texts[path] += line
		}
	}
	return list
}

func matches(t testing.TB, pattern string) []string {
	t.Helper()
	files, err := filepath.Glob(pattern)
	require.NoError(t, err)
	require.NotEmpty(t, files, pattern)
	return files
}

// Examples are the example boards below the repository's folder, each with the
// shops that they may use.
func Examples(t testing.TB, root string) []Section {
	t.Helper()
	folder := root + "/examples/"
	read := func(pattern string) map[string]string {
		texts := map[string]string{}
		for _, file := range matches(t, folder+pattern) {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			texts[strings.TrimPrefix(filepath.ToSlash(file), folder)] = string(data)
		}
		return texts
	}
	used := read("shops/*.hem")
	maps.Copy(used, read("parts/*.hem"))
	var list []Section
	for _, pattern := range []string{"*.hem", "broken/*.hem"} {
		for name, text := range read(pattern) {
			texts := map[string]string{RootPath: strings.NewReplacer("../shops", "shops", "../parts", "parts").Replace(text)}
			maps.Copy(texts, used)
			list = append(list, Section{"examples", name, texts})
		}
	}
	slices.SortFunc(list, func(a, b Section) int { return strings.Compare(a.Title, b.Title) })
	return list
}

// Name says which section it is.
func (s Section) Name() string { return s.File + "/" + s.Title }

// Text is the section's own text.
func (s Section) Text() string { return s.Texts[RootPath] }

// Reader reads the section's other files.
func (s Section) Reader() lang.Reader {
	return func(path string) (*source.File, error) {
		text, ok := s.Texts[path]
		if !ok {
			return nil, os.ErrNotExist
		}
		return source.New(path, text), nil
	}
}

// Analyze analyses the section's text.
func (s Section) Analyze() *lang.Analysis {
	return lang.Analyze(source.New(RootPath, s.Text()), s.Reader(), nil)
}

// Each makes another section of what becomes of each of its files.
func (s Section) Each(change func(path, text string) string) Section {
	other := Section{s.File, s.Title, map[string]string{}}
	for path, text := range s.Texts {
		other.Texts[path] = change(path, text)
	}
	return other
}
