// Package emacs holds the test that the major mode works in the editor itself,
// and with its two clients of language servers.
package emacs

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/editors/editortest"
)

// play runs a script in the editor and returns what it said.
func play(t *testing.T, emacs, file, script string, environment ...string) map[string]string {
	t.Helper()
	folder, err := filepath.Abs(".")
	require.NoError(t, err)
	environment = append(environment, "HEMLINE_FILE="+file, "HEMLINE_STEPS="+filepath.Join(folder, "testdata", "steps.el"),
		"HOME="+t.TempDir(), "LC_ALL=C.UTF-8")
	// -q, not -Q: the latter leaves out the folder of Debian's packages.
	output := editortest.Run(t, 40*time.Second, environment, emacs, "-q", "--batch", "-L", folder, "-l", filepath.Join(folder, "testdata", script))
	t.Logf("transcript:\n%.3000s", output)
	return editortest.Steps(output)
}

func TestASessionWithEglot(t *testing.T) {
	emacs := client(t, "eglot")
	steps := session(t, emacs, "eglot.el")
	assert.Equal(t, "true", steps["managed"])
	var found [][3]string
	require.NoError(t, json.Unmarshal([]byte(steps["narrowed"]), &found))
	require.Len(t, found, 1)
	assert.Equal(t, "wrap   top bottom 0.3 mm", found[0][0], "the text that is underlined")
	assert.Contains(t, steps["actions"], "widen the wrap")
	assert.Contains(t, steps["symbols"], `\"wall`)
}

func TestASessionWithLspMode(t *testing.T) {
	emacs := client(t, "lsp-mode")
	steps := session(t, emacs, "lsp-mode.el")
	assert.Contains(t, steps["narrowed"], `"wrap_land"`)
	assert.NotContains(t, []string{"", "0"}, steps["folds"])
}

// client is the path of the editor, where it has a package.
func client(t *testing.T, name string) string {
	t.Helper()
	emacs := editortest.Tool(t, "emacs")
	if exec.Command(emacs, "-q", "--batch", "--eval", "(progn (package-initialize) (require '"+name+"))").Run() != nil {
		editortest.Missing(t, name+" for Emacs")
	}
	return emacs
}

// session is what both clients must be able to do.
func session(t *testing.T, emacs, script string) map[string]string {
	t.Helper()
	program := editortest.Program(t)
	dir := filepath.Join(t.TempDir(), "with space")
	require.NoError(t, os.CopyFS(dir, os.DirFS("../../examples")))
	for name, text := range map[string]string{
		"used.hem": "hem 1\nlet wide = 60 mm\n",
		"uses.hem": "hem 1\nuse \"used.hem\"\nboard b {\n  thickness 1.6 mm\n}\noutline rectangle wide by 40 mm\n",
	} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	steps := play(t, emacs, filepath.Join(dir, "receiver.hem"), script,
		"PATH="+filepath.Dir(program)+string(os.PathListSeparator)+os.Getenv("PATH"))
	assert.Equal(t, `"hemline-mode"`, steps["mode"])
	assert.Contains(t, steps["narrowed"], "wrap on top and bottom is 0.30 mm; standard asks for at least 0.40 mm")
	assert.Equal(t, "[]", steps["mended"])
	assert.Contains(t, steps["hover"], "plating wall")
	assert.Contains(t, steps["hover"], "shielding bound of the wall")
	assert.Contains(t, steps["definition"], "typical scar tab width 3 mm")
	var words []string
	require.NoError(t, json.Unmarshal([]byte(steps["completion"]), &words))
	assert.Contains(t, words, "along")
	assert.Contains(t, words, "wrap")
	assert.Equal(t, "1", steps["shifted"])
	assert.Equal(t, "1", steps["formatted back"])
	assert.Contains(t, steps["fixed"], "wrap top bottom 0.4 mm")
	assert.Equal(t, "5", steps["references"], "the typical, and four tabs that are like it")
	assert.Contains(t, steps["signature"], "connector")
	assert.JSONEq(t, `["let breadth = 60 mm", "outline rectangle breadth by 40 mm"]`, steps["renamed"])
	assert.Contains(t, steps["refused"], "no name stands here", "the reason is shown")
	assert.Equal(t, "0", steps["code"], "the server ends well when it is told to")
	return steps
}

var faces = map[string]editortest.Class{
	"font-lock-keyword-face": editortest.Statement, "font-lock-type-face": editortest.Clause, "font-lock-builtin-face": editortest.Constant,
	"font-lock-function-name-face": editortest.Function, "font-lock-constant-face": editortest.Number,
	"font-lock-preprocessor-face": editortest.Unit, "font-lock-comment-face": editortest.Comment,
	"font-lock-comment-delimiter-face": editortest.Comment, "font-lock-string-face": editortest.Text,
}

func TestHighlighting(t *testing.T) {
	emacs := editortest.Tool(t, "emacs")
	for name, text := range editortest.Samples(t) {
		editortest.CompareAt(t, name, text, func(c editortest.Columns) int { return c.Runes }, faces, func(file, list string) string {
			return play(t, emacs, file, "highlight.el", "HEMLINE_PLACES="+list)["faces"]
		})
	}
}

// The editor indents as the formatter does.
func TestIndentingAndComments(t *testing.T) {
	emacs := editortest.Tool(t, "emacs")
	file := filepath.Join(t.TempDir(), "receiver.hem")
	text, err := os.ReadFile("../../examples/receiver.hem")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, text, 0o644))
	steps := play(t, emacs, file, "indent.el")
	assert.Equal(t, "1", steps["moved"])
	assert.Equal(t, "1", steps["back"])
	assert.Equal(t, `"// marking none"`, steps["commented"])
	assert.Equal(t, "1", steps["uncommented"])
}

func TestItCompilesWithoutWarnings(t *testing.T) {
	emacs := editortest.Tool(t, "emacs")
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS(".")))
	editortest.Run(t, 30*time.Second, []string{"HOME=" + dir}, emacs, "-Q", "--batch", "-L", dir, "--eval", "(setq byte-compile-error-on-warn t)",
		"-f", "batch-byte-compile", filepath.Join(dir, "hemline-words.el"), filepath.Join(dir, "hemline-mode.el"))
	assert.FileExists(t, filepath.Join(dir, "hemline-mode.elc"))
}
