package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/source"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"hemline": main})
}

// The program's tests are scripts of commands with the files they work on.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata",
		Setup: func(e *testscript.Env) error {
			root, err := filepath.Abs(filepath.Join("..", ".."))
			e.Setenv("ROOT", root)
			return err
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			// big FILE BYTES writes a long file of comments.
			"big": func(ts *testscript.TestScript, _ bool, args []string) {
				line := "// " + strings.Repeat("x", 60) + "\n"
				n := map[string]int{"50MB": 50 << 20, "8MB": 8 << 20}[args[1]]
				ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Repeat(line, n/len(line)+1)), 0o666))
			},
			// deep FILE COUNT writes that many opened parentheses.
			"deep": func(ts *testscript.TestScript, _ bool, args []string) {
				text := "let a = " + strings.Repeat("(", 10_000) + "1" + strings.Repeat(")", 10_000) + "\nlet b = a\n"
				ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o666))
			},
			// bytes FILE writes text that is not UTF-8.
			"bytes": func(ts *testscript.TestScript, _ bool, args []string) {
				ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte("// caf\xe9\nlet a = 1\n"), 0o666))
			},
		},
	})
}

var finds = regexp.MustCompile(`// finds ((?:[a-z_]+ ?)+)$`)

// Each example is clean with its fabricator; its broken sibling says itself,
// on each line, which rules find something there: ten in all.
func TestExamples(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.hem")
	require.NoError(t, err)
	require.Len(t, files, 7)
	for _, path := range files {
		r := checkFile(path, clock{}.today())
		require.NoError(t, r.err)
		for _, f := range r.Findings {
			assert.Fail(t, "an example is clean", "%s: %s: %s", path, f.Rule, f.Message)
		}
		broken := filepath.Join(filepath.Dir(path), "broken", filepath.Base(path))
		t.Run(filepath.Base(path), func(t *testing.T) { tenFindings(t, broken) })
	}
}

func tenFindings(t *testing.T, path string) {
	r := checkFile(path, clock{}.today())
	require.NoError(t, r.err)
	var got, want []string
	for _, f := range r.Findings {
		got = append(got, f.File.Slice(f.File.Line(f.File.Position(f.Span.Start, source.Bytes).Line))+" | "+f.Rule)
	}
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	for line := range strings.Lines(string(data)) {
		if m := finds.FindStringSubmatch(strings.TrimRight(line, "\n")); m != nil {
			for rule := range strings.FieldsSeq(m[1]) {
				want = append(want, strings.TrimRight(line, "\n")+" | "+rule)
			}
		}
	}
	slices.Sort(got)
	slices.Sort(want)
	assert.Equal(t, want, got)
	assert.GreaterOrEqual(t, len(got), 10, "ten mistakes; one may be found by two rules")
}

func TestShopsAndExamplesAreInCanonicalForm(t *testing.T) {
	for _, pattern := range []string{"../../examples/*.hem", "../../examples/*/*.hem", "starter.hem"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		require.NotEmpty(t, files)
		for _, f := range files {
			changed, err := (fmtCommand{Check: true}).file(&streams{out: &strings.Builder{}}, f)
			require.NoError(t, err)
			assert.False(t, changed, f)
		}
	}
}

// A package of the front end within half a second is what was asked for.
func BenchmarkPack(b *testing.B) {
	files, err := filepath.Glob("../../examples/*.hem")
	require.NoError(b, err)
	for _, path := range files {
		b.Run(strings.TrimSuffix(filepath.Base(path), ".hem"), func(b *testing.B) {
			out := filepath.Join(b.TempDir(), "x.zip")
			for b.Loop() {
				require.Equal(b, exitClean, run([]string{"pack", path, "-o", out}, &streams{out: &strings.Builder{}, err: &strings.Builder{}}))
			}
		})
	}
}
