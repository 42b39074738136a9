// Package neovim holds the test that the plugin works in the editor itself.
package neovim

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/editors/editortest"
)

// The columns are bytes, as Neovim counts them: it has converted them from
// the UTF-16 of the protocol, so µ (2 bytes, 1 unit) and 🛠 (4 bytes, 2 units)
// before the name would show a wrong conversion.
const text = "hem 1\nnote \"µ🛠\"; outline rectangle wide by tall\nlet   wide=50 mm\n"

// editor is the path of Neovim and that of the plugin. Without the editor the
// test is skipped, unless HEMLINE_CI=1 asks for it.
func editor(t *testing.T) (nvim, plugin string) {
	t.Helper()
	nvim, err := exec.LookPath("nvim")
	if err != nil {
		if os.Getenv("HEMLINE_CI") == "1" {
			t.Fatal("nvim is not installed, and HEMLINE_CI=1 asks for it")
		}
		t.Skip("nvim is not installed")
	}
	plugin, err = filepath.Abs(".")
	require.NoError(t, err)
	return nvim, plugin
}

func TestASessionInNeovim(t *testing.T) {
	file := filepath.Join(t.TempDir(), "with space.hem")
	require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	checkTranscript(t, play(t, file, "session.lua"))
}

// The receiver of the examples, with the shop it uses beside it: clean when it
// is opened; a wrap made too narrow is found, and goes when it is mended.
func TestAnExampleInNeovim(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS("../../examples")))
	steps := play(t, filepath.Join(dir, "receiver.hem"), "example.lua")
	assert.Equal(t, "[]", steps["opened"])
	assert.Contains(t, steps["narrowed"], `"code":"wrap_land"`)
	assert.Contains(t, steps["narrowed"], "wrap on top and bottom is 0.30 mm; standard asks for at least 0.40 mm")
	assert.Equal(t, "[]", steps["mended"])
	assert.Contains(t, steps["hover"], "**plating wall**")
	assert.Contains(t, steps["hover"], "shielding bound of the wall")
	assert.Equal(t, "true", steps["formatted back"])
}

// The picture: the plugin opens its page, tells where the cursor stands, and
// goes where the page was clicked.
func TestThePictureInNeovim(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS("../../examples")))
	steps := play(t, filepath.Join(dir, "receiver.hem"), "picture.lua")
	assert.Regexp(t, `^"http:\\?/\\?/127\.0\.0\.1:\d+\\?/[\w-]{43}\\?/"$`, steps["address"])
	assert.Equal(t, "204", steps["clicked"])
	assert.Contains(t, steps["line"], "connector reference like launch")
	assert.Equal(t, "1", steps["column"])
	assert.Equal(t, "true", steps["marked"])
}

// What later versions of the protocol brought, as far as Neovim has it.
func TestTheRestOfTheProtocolInNeovim(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS("../../examples")))
	for name, text := range map[string]string{
		"used.hem": "hem 1\nlet wide = 60 mm\n",
		"uses.hem": "hem 1\nuse \"used.hem\"\nboard b {\n  thickness 1.6 mm\n}\noutline rectangle wide by 40 mm\n",
	} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	steps := play(t, filepath.Join(dir, "receiver.hem"), "protocol.lua")
	assert.Equal(t, "5", steps["references"], "the typical, and four tabs that are like it")
	assert.Equal(t, "5", steps["highlights"])
	assert.Contains(t, steps["signature"], "connector NAME")
	assert.Contains(t, steps["lenses"], "plated")
	assert.Contains(t, steps["lenses"], "standard: no findings")
	assert.Contains(t, steps["actions"], "widen the wrap")
	assert.Contains(t, steps["fixed"], "wrap top bottom 0.4 mm")
	assert.Equal(t, `"outline rectangle breadth by 40 mm"`, steps["renamed here"])
	assert.Equal(t, `"let breadth = 60 mm"`, steps["renamed there"])
	assert.Equal(t, "[]", steps["diagnostics"])
}

// play runs a script in the editor on a file, with our plugin and a server
// built for it, and returns what it said.
func play(t *testing.T, file, script string) map[string]string {
	t.Helper()
	nvim, plugin := editor(t)
	dir := t.TempDir()
	program := editortest.Program(t)
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, nvim, "--headless", "-u", "NONE", "-i", "NONE", "-n",
		"--cmd", "set runtimepath^="+plugin, "--cmd", "filetype plugin on",
		file, "-c", "luafile "+filepath.Join(plugin, "testdata", script))
	cmd.Env = append(os.Environ(),
		"PATH="+filepath.Dir(program)+string(os.PathListSeparator)+os.Getenv("PATH"),
		"HEMLINE_SESSION="+filepath.Join(plugin, "testdata", "steps.lua"),
		"XDG_STATE_HOME="+dir, "XDG_CACHE_HOME="+dir, "XDG_DATA_HOME="+dir, "XDG_CONFIG_HOME="+dir)
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	err := cmd.Run()
	t.Logf("transcript:\n%s%s", stdout.String(), stderr.String())
	require.NoError(t, err)
	return transcript(stdout.String())
}

// transcript is the JSON of each step by its name.
func transcript(output string) map[string]string {
	steps := map[string]string{}
	for line := range strings.Lines(output) {
		if name, value, ok := strings.Cut(strings.TrimSpace(line), "\t"); ok {
			steps[name] = value
		}
	}
	return steps
}

func checkTranscript(t *testing.T, steps map[string]string) {
	t.Helper()
	decode := func(step string, into any) {
		t.Helper()
		require.Contains(t, steps, step)
		require.NoError(t, json.Unmarshal([]byte(steps[step]), into), steps[step])
	}
	assert.Equal(t, `"hem"`, steps["filetype"])

	var found []struct {
		Line, From, To                  int
		Severity, Code, Source, Message string
	}
	decode("opened", &found)
	require.NotEmpty(t, found)
	at := strings.Index(text, "tall") - strings.Index(text, "note")
	var unknown int
	for _, d := range found {
		assert.Equal(t, "hemline", d.Source)
		if d.Code == "unknown_name" {
			unknown++
			assert.Equal(t, [3]int{1, at, at + len("tall")}, [3]int{d.Line, d.From, d.To})
			assert.Equal(t, "ERROR", d.Severity)
			assert.Contains(t, d.Message, "tall")
		}
	}
	assert.Equal(t, 1, unknown)
	assert.NotContains(t, steps["repaired"], "unknown_name")

	var hover struct {
		Contents struct{ Kind, Value string }
		Range    struct{ Start, End struct{ Line, Character int } }
	}
	decode("hover", &hover)
	assert.Equal(t, "markdown", hover.Contents.Kind)
	assert.Contains(t, hover.Contents.Value, "outline")
	assert.Equal(t, 1, hover.Range.Start.Line)
	assert.Equal(t, len(`note "uuu"; `), hover.Range.Start.Character, "in UTF-16")

	assert.Contains(t, steps["definition"], `with%20space.hem`)
	assert.Contains(t, steps["definition"], `"line":2`)
	assert.Contains(t, steps["symbols"], `"wide"`)

	var lines []string
	decode("formatted", &lines)
	assert.Contains(t, lines, "let wide = 50 mm")
	assert.Contains(t, steps["formatted"], "µ🛠", "what needed no change is unharmed")

	assert.Equal(t, "1", steps["clients"])
	assert.Equal(t, "true", steps["end"], "the server ends when it is told to")
}

// Without the program the plugin says so once, and editing goes on.
func TestAMissingProgramIsSaid(t *testing.T) {
	nvim, plugin := editor(t)
	dir := t.TempDir()
	cmd := exec.Command(nvim, "--headless", "-u", "NONE", "-i", "NONE", "-n",
		"--cmd", "set runtimepath^="+plugin, "--cmd", "filetype plugin on",
		"--cmd", `lua require('hemline').setup({ cmd = { 'no-such-hemline', 'lsp' } })`,
		filepath.Join(dir, "a.hem"), "-c", "edit "+filepath.Join(dir, "b.hem"), "-c", "qall!")
	output, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", output)
	assert.Equal(t, 1, strings.Count(string(output), `cannot find the program "no-such-hemline"`), "%s", output)
}

// What is left of a limit, lenses that lead to a finding and to what answers an open query,
// and what may stand right after a dot.
func TestWhereYouLookInNeovim(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS("../../examples")))
	steps := play(t, filepath.Join(dir, "receiver.hem"), "look.lua")
	assert.Contains(t, steps["hover"], "wrap on top and bottom is 0.80 mm; standard asks for at least 0.40 mm (limit wrap_land, ")
	assert.Contains(t, steps["hover"], "**0.40 mm to spare**; at worst, with")
	assert.Contains(t, steps["led to"], "wrap   top bottom 0.3 mm")
	assert.Equal(t, `"  revision \"\""`, steps["answered"])
	assert.Equal(t, "12", steps["column"], "between the quotes")
	assert.Equal(t, `["south.length for 11"]`, steps["after a dot"])
}
