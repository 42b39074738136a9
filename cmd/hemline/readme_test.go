package main

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/source"
)

//go:generate go test . -run TestReadme -update

var update = flag.Bool("update", false, "write what the README's tour shows anew")

var fence = regexp.MustCompile("(?ms)^```(\\w+)\n(.*?)^```$")

// The README's tour is run, and what it shows must be what comes out; a line
// "…" stands for the rest of a command's output.
func TestReadme(t *testing.T) {
	data, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	root, err := filepath.Abs("../..")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, os.Symlink(filepath.Join(root, "examples"), "examples"))
	require.NoError(t, os.WriteFile("first.hem", []byte(tourBoard(t, string(data))), 0o644))
	var tour string
	for _, m := range fence.FindAllStringSubmatch(string(data), -1) {
		switch m[1] {
		case "hem":
			readable(t, m[2])
		case "console":
			tour = m[2]
		}
	}
	require.NotEmpty(t, tour)
	commands := strings.Split("\n"+tour, "\n$ hemline ")[1:]
	require.NotEmpty(t, commands)
	fresh := ""
	for _, c := range commands {
		line, want, _ := strings.Cut(c, "\n")
		var out strings.Builder
		run(strings.Fields(line), &streams{in: strings.NewReader(""), out: &out, err: &out})
		got := strings.TrimRight(out.String(), "\n")
		want = strings.TrimRight(want, "\n")
		fresh += "$ hemline " + line + "\n"
		if short, cut := strings.CutSuffix(want, "\n…"); cut {
			assert.True(t, strings.HasPrefix(got, short), "hemline %s:\n%s", line, got)
			fresh += want + "\n"
			continue
		}
		if !*update {
			assert.Equal(t, want, got, "hemline %s", line)
		}
		fresh += got + "\n"
	}
	if *update {
		text := strings.Replace(string(data), tour, fresh, 1)
		require.NoError(t, os.WriteFile(filepath.Join(root, "README.md"), []byte(text), 0o644))
	}
}

// tourBoard is the board of the README's tour, first.hem.
func tourBoard(t *testing.T, readme string) string {
	t.Helper()
	for _, m := range fence.FindAllStringSubmatch(readme, -1) {
		if m[1] == "hem" && strings.Contains(m[2], "board first") {
			return m[2]
		}
	}
	require.Fail(t, "the README has no first.hem")
	return ""
}

// readable requires that a text of the README has no syntax or meaning findings.
func readable(t *testing.T, text string) {
	a := lang.Analyze(source.New("readme.hem", text), source.Read, nil)
	for _, f := range a.Findings() {
		if f.Rule != lang.RuleUse {
			assert.NotEqual(t, finding.Language, f.Category, f.Message)
		}
	}
}
