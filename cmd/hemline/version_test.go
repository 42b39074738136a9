package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Only the linker makes a release; what it has not named says so.
func TestVersion(t *testing.T) {
	assert.Empty(t, version, "the source states none")
	built := func(settings ...debug.BuildSetting) *debug.BuildInfo { return &debug.BuildInfo{Settings: settings} }
	commit := debug.BuildSetting{Key: "vcs.revision", Value: "0123456789abcdef0123456789abcdef01234567"}
	for _, c := range []struct {
		linked string
		info   *debug.BuildInfo
		want   string
	}{
		{"", nil, "development"},
		{"", built(), "development"},
		{"", built(commit), "development-0123456789ab"},
		{"", built(commit, debug.BuildSetting{Key: "vcs.modified", Value: "false"}), "development-0123456789ab"},
		{"", built(commit, debug.BuildSetting{Key: "vcs.modified", Value: "true"}), "development-0123456789ab-modified"},
		{"", built(debug.BuildSetting{Key: "vcs.revision", Value: "17"}), "development-17"},
		{"1.2.3", built(commit, debug.BuildSetting{Key: "vcs.modified", Value: "true"}), "1.2.3"},
	} {
		assert.Equal(t, c.want, versionOf(c.linked, c.info))
	}
}

// What DEVELOPERS.md tells the linker is what the program then says. The flags
// are taken from there; -trimpath, which compiles everything anew, is left out.
func TestLinkerStatesTheVersion(t *testing.T) {
	guide, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	m := regexp.MustCompile(`CGO_ENABLED=0 go build -trimpath -ldflags="([^"]+)"`).FindStringSubmatch(string(guide))
	require.NotNil(t, m, "DEVELOPERS.md no longer says how a release is built")
	flags := os.Expand(m[1], func(name string) string { return map[string]string{"VERSION": "9.8.7"}[name] })
	program := filepath.Join(t.TempDir(), "hemline.exe")
	out, err := exec.Command("go", "build", "-ldflags="+flags, "-o", program, ".").CombinedOutput()
	require.NoError(t, err, string(out))
	out, err = exec.Command(program, "version").Output()
	require.NoError(t, err)
	assert.Regexp(t, `^hemline 9\.8\.7 \(language version 1, go`, string(out))
}
