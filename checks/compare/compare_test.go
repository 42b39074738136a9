package compare_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks/compare"
	"hemline/lang"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

var update = flag.Bool("update", false, "write what is said anew")

const today = "2027-01-15"

func side(name, text string, read lang.Reader) compare.Side {
	return compare.Side{Name: name, Analysis: lang.Analyze(source.New(name, text), read, nil), Today: today}
}

// Each archive holds a board as it was and as it is, and what is said of the two; with
// -update that is written as it is, to be read.
func TestWhatIsSaid(t *testing.T) {
	paths, err := filepath.Glob("testdata/*.txtar")
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			a, err := txtar.ParseFile(path)
			require.NoError(t, err)
			files := map[string]string{}
			for _, f := range a.Files {
				files[f.Name] = string(f.Data)
			}
			read := func(name string) (*source.File, error) { return source.New(name, files[name]), nil }
			var said strings.Builder
			require.NoError(t, compare.Of(side("old.hem", files["old.hem"], read), side("new.hem", files["new.hem"], read)).Text(&said))
			if *update {
				for i := range a.Files {
					if a.Files[i].Name == "said" {
						a.Files[i].Data = []byte(said.String())
					}
				}
				require.NoError(t, os.WriteFile(path, txtar.Format(a), 0o644))
				return
			}
			assert.Equal(t, files["said"], said.String())
		})
	}
}

// Every example is the same board as itself: in canonical form, with its lengths in other units,
// with lines between its statements.
func TestTheSameBoardWrittenOtherwise(t *testing.T) {
	for _, s := range langtest.Examples(t, "../..") {
		text := s.Texts[langtest.RootPath]
		was := compare.Side{Name: "a", Analysis: s.Analyze(), Today: today}
		for _, other := range []string{
			text,
			strings.ReplaceAll(text, "\n", "\n\n"),
			strings.ReplaceAll(text, "35 um", "0.035 mm"),
			"// another first line\n" + text,
		} {
			is := compare.Side{Name: "b", Analysis: lang.Analyze(source.New(langtest.RootPath, other), s.Reader(), nil), Today: today}
			c := compare.Of(was, is)
			c.NotesNew, c.NotesGone = nil, nil // a note may say a length in its author's unit
			if !assert.True(t, c.Same(), s.Title) {
				var said strings.Builder
				require.NoError(t, c.Text(&said))
				t.Log(said.String())
			}
		}
	}
}

// The examples with a statement for each gap, tab and connector come to the same files: nothing
// but names differs, and which statement opens a gap.
func TestFlatTextsAreTheirExamples(t *testing.T) {
	flat, err := filepath.Glob("../rules/testdata/flat/*.hem")
	require.NoError(t, err)
	compared := 0
	for _, s := range langtest.Examples(t, "../..") {
		for _, path := range flat {
			if filepath.Base(path) != s.Title || s.Title == "beacon_module.hem" { // whose relief is three there
				continue
			}
			compared++
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			c := compare.Of(compare.Side{Name: "a", Analysis: s.Analyze(), Today: today},
				compare.Side{Name: "b", Analysis: lang.Analyze(source.New(langtest.RootPath, string(text)), s.Reader(), nil), Today: today})
			for _, x := range c.Changes {
				assert.Equal(t, compare.Renamed, x.What, "%s: %s %s", s.Title, x.Kind, x.Name)
				assert.Empty(t, x.Details, "%s: %s %s", s.Title, x.Kind, x.Name)
			}
			assert.Empty(t, c.Figures, s.Title)
			assert.Empty(t, c.FindingsNew, s.Title)
			assert.Empty(t, c.FindingsGone, s.Title)
			assert.Empty(t, c.NotesNew, s.Title)
		}
	}
	assert.Equal(t, 3, compared)
}

// What one comparison calls new the other way round is gone, and nothing else differs.
func TestTheOtherWayRound(t *testing.T) {
	for _, s := range langtest.Examples(t, "../..") {
		name, broken := strings.CutPrefix(s.Title, "broken/")
		if !broken {
			continue
		}
		for _, whole := range langtest.Examples(t, "../..") {
			if whole.Title != name {
				continue
			}
			a := compare.Side{Name: "a", Analysis: whole.Analyze(), Today: today}
			b := compare.Side{Name: "b", Analysis: s.Analyze(), Today: today}
			there, back := compare.Of(a, b), compare.Of(b, a)
			assert.False(t, there.Same(), name)
			assert.Equal(t, there.FindingsNew, back.FindingsGone, name)
			assert.Equal(t, there.FindingsKept, back.FindingsKept, name)
			assert.ElementsMatch(t, there.NotesNew, back.NotesGone, name)
			assert.Len(t, back.FindingsChanged, len(there.FindingsChanged), name)
		}
	}
}
