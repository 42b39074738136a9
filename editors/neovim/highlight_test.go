package neovim

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"hemline/editors/editortest"
)

// The file is Vim's, and so is the script that asks for the groups; that both
// editors read it alike is what is tried here, on the text with every word.
func TestHighlightingInNeovim(t *testing.T) {
	nvim, plugin := editor(t)
	dir := t.TempDir()
	file, list, out := filepath.Join(dir, "sample.hem"), filepath.Join(dir, "places.json"), filepath.Join(dir, "out")
	text := editortest.EveryWord()
	words := editortest.Words(text)
	editortest.WritePlaces(t, list, words, func(c editortest.Columns) int { return c.Bytes })
	require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	scripts := filepath.Join(plugin, "..", "vim", "testdata")
	editortest.Run(t, 30*time.Second, []string{
		"HEMLINE_OUT=" + out, "HEMLINE_PLACES=" + list, "HEMLINE_STEPS=" + filepath.Join(scripts, "steps.vim"), "PATH=/nowhere",
		"XDG_STATE_HOME=" + dir, "XDG_CACHE_HOME=" + dir, "XDG_DATA_HOME=" + dir, "XDG_CONFIG_HOME=" + dir,
	}, nvim, "--headless", "-u", "NONE", "-i", "NONE", "-n", "--cmd", "set runtimepath^="+plugin, "--cmd", "filetype on",
		file, "-c", "source "+filepath.Join(scripts, "highlight.vim"))
	transcript, err := os.ReadFile(out)
	require.NoError(t, err)
	var groups []string
	require.NoError(t, json.Unmarshal([]byte(editortest.Steps(string(transcript))["groups"]), &groups))
	require.Len(t, groups, 2*len(words))
	classes := map[string]editortest.Class{
		"hemStatement": editortest.Statement, "hemClause": editortest.Clause, "hemWord": editortest.Constant, "hemFunction": editortest.Function,
		"hemName": editortest.Name, "hemNumber": editortest.Number, "hemUnit": editortest.Unit, "hemComment": editortest.Comment, "hemText": editortest.Text,
	}
	var shown [][2]editortest.Class
	for i := range words {
		shown = append(shown, [2]editortest.Class{classes[groups[2*i]], classes[groups[2*i+1]]})
	}
	editortest.Compare(t, "every word", words, shown)
}
