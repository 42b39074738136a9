package kate

import (
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

// The editor itself, on a screen that nobody sees, with the files of this
// folder where a user puts them. What it and the server say to each other is
// all that is looked at: Kate has no script that could be asked more.
func TestTheEditorStartsTheServer(t *testing.T) {
	kate, xvfb := editortest.Tool(t, "kate"), editortest.Tool(t, "Xvfb")
	program := editortest.Program(t)
	home, bin := t.TempDir(), t.TempDir()
	sent, received := filepath.Join(home, "sent"), filepath.Join(home, "received")
	wrapper := filepath.Join(bin, "hemline")
	script := "#!/bin/sh\ntee '" + sent + "' | '" + program + "' \"$@\" | tee '" + received + "'\n"
	require.NoError(t, os.WriteFile(wrapper, []byte(script), 0o755))
	require.NoError(t, os.CopyFS(filepath.Join(home, "boards"), os.DirFS("../../examples")))
	install(t, "hem.xml", filepath.Join(home, ".local/share/org.kde.syntax-highlighting/syntax/hem.xml"))
	install(t, "settings.json", filepath.Join(home, ".config/kate/lspclient/settings.json"))
	// What a user says to the question whether the server may be started.
	allowed := "[lspclient]\nAllowedServerCommandLines=hemline lsp," + wrapper + " lsp\n\n[Kate Plugins]\nlspclientplugin=true\n"
	require.NoError(t, os.WriteFile(filepath.Join(home, ".config/katerc"), []byte(allowed), 0o644))

	display := start(t, exec.Command(xvfb, "-displayfd", "1", "-screen", "0", "1280x800x24", "-nolisten", "tcp"))
	editor := exec.Command(kate, "-n", "-b", filepath.Join(home, "boards", "broken", "receiver.hem"))
	editor.Env = append(os.Environ(), "DISPLAY=:"+display, "HOME="+home, "XDG_CONFIG_HOME="+filepath.Join(home, ".config"),
		"XDG_DATA_HOME="+filepath.Join(home, ".local/share"), "XDG_CACHE_HOME="+filepath.Join(home, ".cache"), "XDG_RUNTIME_DIR="+home,
		"QT_QPA_PLATFORM=xcb", "PATH="+bin+":"+os.Getenv("PATH"))
	start(t, editor)

	has := func(file, words string) func() bool {
		return func() bool {
			text, err := os.ReadFile(file)
			return err == nil && strings.Contains(string(text), words)
		}
	}
	require.Eventually(t, has(sent, `"textDocument/didOpen"`), 40*time.Second, 50*time.Millisecond, "the editor opens no text at the server")
	require.Eventually(t, has(received, `"wrap_land"`), 20*time.Second, 50*time.Millisecond, "nothing is found")
	assert.True(t, has(sent, `"languageId":"hem"`)() || has(sent, `"languageId": "hem"`)(), "the text is known as hem")
}

func install(t *testing.T, from, to string) {
	t.Helper()
	text, err := os.ReadFile(from)
	require.NoError(t, err)
	require.NoError(t, os.MkdirAll(filepath.Dir(to), 0o755))
	require.NoError(t, os.WriteFile(to, text, 0o644))
}

// start runs a program until the test ends. Where its output is free, its
// first line is returned.
func start(t *testing.T, cmd *exec.Cmd) (line string) {
	t.Helper()
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	output, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() {
		_ = syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) // it may be gone
		_ = cmd.Wait()                                      // it was killed
	})
	if filepath.Base(cmd.Path) != "Xvfb" {
		return ""
	}
	buffer := make([]byte, 16)
	n, err := output.Read(buffer)
	require.NoError(t, err)
	return strings.TrimSpace(string(buffer[:n]))
}
