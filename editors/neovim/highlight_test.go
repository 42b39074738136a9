package neovim

import (
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
	scripts := filepath.Join(plugin, "..", "vim", "testdata")
	bytes := func(c editortest.Columns) int { return c.Bytes }
	editortest.CompareAt(t, "every word", editortest.EveryWord(), bytes, editortest.VimGroups, func(file, list string) string {
		dir := t.TempDir()
		out := filepath.Join(dir, "out")
		editortest.Run(t, 30*time.Second, []string{
			"HEMLINE_OUT=" + out, "HEMLINE_PLACES=" + list, "HEMLINE_STEPS=" + filepath.Join(scripts, "steps.vim"), "PATH=/nowhere",
			"XDG_STATE_HOME=" + dir, "XDG_CACHE_HOME=" + dir, "XDG_DATA_HOME=" + dir, "XDG_CONFIG_HOME=" + dir,
		}, nvim, "--headless", "-u", "NONE", "-i", "NONE", "-n", "--cmd", "set runtimepath^="+plugin, "--cmd", "filetype on",
			file, "-c", "source "+filepath.Join(scripts, "highlight.vim"))
		transcript, err := os.ReadFile(out)
		require.NoError(t, err)
		return editortest.Steps(string(transcript))["groups"]
	})
}
