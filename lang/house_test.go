package lang_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// floors lists hemline's packages from the ground up. A package imports those
// of lower floors alone. A pattern stands for folders that need not be there yet.
var floors = [][]string{
	{"lang/source", "lang/quantity", "lang/geom", "checks/physics", "lang/emit/bundle"},
	{"lang/finding", "lang/emit/wording", "checks/sheet"},
	{"lang/syntax"},
	{"lang/board", "lang/syntax/highlight", "checks/cavity"},
	{"lang", "lang/copper", "lang/rout"},
	{"lang/langtest", "checks/figures"},
	{"lang/emit/scene", "lang/emit/sheet", "lang/emit/layers", "lang/emit/build"},
	{"lang/emit/article"},
	{"lang/emit/drawing", "lang/emit/readback", "lang/emit/plot", "lang/emit/notes", "lang/emit/queries", "lang/emit/job", "lang/emit/coupon"},
	{"checks/asked"},
	{"checks"},
	{"checks/rules"},
	{"checks/report", "checks/ways"},
	{"checks/compare"},
	{"lsp/assist", "lsp/picture"},
	{"lsp"},
	{"cmd/hemline"},
	{"editors/editortest"},
}

// libraries names the packages that may import a library from outside; what
// knows a library's types is then one place.
var libraries = map[string][]string{
	"github.com/alecthomas/participle/v2": {"lang/syntax"},
	"go.lsp.dev":                          {"lsp"},
	"github.com/alecthomas/kong":          {"cmd/hemline"},
	"github.com/natefinch/atomic":         {"cmd/hemline", "lsp"},
	"golang.org/x/term":                   {"cmd/hemline"},
	"github.com/fsnotify/fsnotify":        {"cmd/hemline"},
	"github.com/aymanbagabas/go-udiff":    {"lsp/assist"},
	"codeberg.org/go-pdf/fpdf":            {"lang/emit/plot"},
	"github.com/golang/freetype":          {"lang/emit/plot"},
	"github.com/go-fonts/dejavu":          {"lang/emit/sheet"},
	"golang.org/x/image":                  {"lang/emit/sheet", "lang/emit/plot"},
	"github.com/stretchr/testify":         {"lang/langtest"},
	"gonum.org/v1/gonum":                  {"checks/sheet", "checks/cavity"},
}

// importsOf maps each package of the module to what its files, tests left out,
// import. Folders with nothing but tests are left out too.
func importsOf(t *testing.T) map[string][]string {
	t.Helper()
	packages := map[string][]string{}
	require.NoError(t, filepath.WalkDir("..", func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		switch {
		case d.IsDir() && (name == "testdata" || name == "node_modules" || strings.HasPrefix(name, ".") && name != ".."):
			return fs.SkipDir
		case d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go"):
			return nil
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		in := strings.TrimPrefix(filepath.ToSlash(filepath.Dir(file)), "../")
		packages[in] = append(packages[in], "")
		for _, i := range parsed.Imports {
			imported, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			packages[in] = append(packages[in], imported)
		}
		return nil
	}))
	return packages
}

// floorOf is the floor that a package stands on, -1 for one that is not listed.
func floorOf(pkg string) int {
	for i, floor := range floors {
		for _, pattern := range floor {
			if ok, _ := path.Match(pattern, pkg); ok {
				return i
			}
		}
	}
	return -1
}

func TestImportsRunDownwards(t *testing.T) {
	packages := importsOf(t)
	for pkg, imports := range packages {
		floor := floorOf(pkg)
		if !assert.GreaterOrEqual(t, floor, 0, "%s stands on no floor; add it to the list", pkg) {
			continue
		}
		for _, imported := range imports {
			if ours, ok := strings.CutPrefix(imported, "hemline/"); ok {
				assert.Less(t, floorOf(ours), floor, "%s imports %s, which does not stand below it", pkg, ours)
			} else if strings.Contains(strings.Split(imported, "/")[0], ".") {
				assert.Contains(t, usersOf(imported), pkg, "%s imports %s", pkg, imported)
			}
		}
	}
	for _, floor := range floors {
		for _, pattern := range floor {
			if !strings.Contains(pattern, "*") {
				assert.Contains(t, packages, pattern, "a package that is not there")
			}
		}
	}
}

// Imports stand in three groups, each sorted and parted from the next by a blank
// line: the standard library's, those from outside, and ours.
func TestImportsAreGrouped(t *testing.T) {
	groupOf := func(path string) int {
		switch {
		case path == "hemline" || strings.HasPrefix(path, "hemline/"):
			return 2
		case strings.Contains(strings.Split(path, "/")[0], "."):
			return 1
		}
		return 0
	}
	n := 0
	require.NoError(t, filepath.WalkDir("..", func(file string, d fs.DirEntry, err error) error {
		name := d.Name()
		switch {
		case err != nil:
			return err
		case d.IsDir() && (name == "node_modules" || strings.HasPrefix(name, ".") && name != ".."):
			return fs.SkipDir
		case d.IsDir() || !strings.HasSuffix(name, ".go"):
			return nil
		}
		set := token.NewFileSet()
		parsed, err := parser.ParseFile(set, file, nil, parser.ImportsOnly)
		require.NoError(t, err)
		n++
		for i := 1; i < len(parsed.Imports); i++ {
			before, now := parsed.Imports[i-1], parsed.Imports[i]
			a, b := groupOf(strings.Trim(before.Path.Value, `"`)), groupOf(strings.Trim(now.Path.Value, `"`))
			apart := set.Position(now.Pos()).Line - set.Position(before.End()).Line
			assert.True(t, a < b && apart == 2 || a == b && apart == 1 && before.Path.Value < now.Path.Value, "%s: %s after %s", file, now.Path.Value, before.Path.Value)
		}
		return nil
	}))
	assert.Greater(t, n, 300)
}

// usersOf lists the packages that may import a library.
func usersOf(imported string) []string {
	for library, users := range libraries {
		if imported == library || strings.HasPrefix(imported, library+"/") {
			return users
		}
	}
	return nil
}

// heavy are libraries that drawing a sheet does without: windows, typesetting,
// the shaping of scripts that the lettering has not, fonts beside the two.
var heavy = regexp.MustCompile(`(?i)xgb|x11|/tex\b|star-tex|knuth|harfbuzz|typesetting|textlayout|/canvas|/go-fonts/`)

// The program is handed on as one file: what it takes in is kept small.
func TestTheProgramTakesInNoHeavyLibrary(t *testing.T) {
	listed, err := exec.Command("go", "list", "-deps", "hemline/cmd/hemline").Output()
	require.NoError(t, err)
	var found []string
	for name := range strings.Lines(string(listed)) {
		if name = strings.TrimSpace(name); heavy.MatchString(name) {
			found = append(found, name)
		}
	}
	// The lettering is found, so the list is of what the program takes in.
	assert.Equal(t, []string{"github.com/go-fonts/dejavu/dejavusanscondensed", "github.com/go-fonts/dejavu/dejavusanscondensedbold"}, found)
}
