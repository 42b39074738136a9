// Package vscode holds the tests of the extension that need no editor.
package vscode

import (
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/finding"
)

func readJSON(t *testing.T, name string, into any) string {
	t.Helper()
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, into), name)
	return string(text)
}

// Whoever installs the packages uses the registry of their own settings.
func TestTheLockNamesNoRegistry(t *testing.T) {
	type lock struct {
		Packages map[string]struct{ Version, Resolved, Integrity string }
	}
	for _, file := range []string{"package-lock.json", "../protocol/package-lock.json", "../../lsp/testdata/schema/package-lock.json"} {
		var l lock
		readJSON(t, file, &l)
		require.Greater(t, len(l.Packages), 3)
		for name, p := range l.Packages {
			assert.Empty(t, p.Resolved, name)
			if name != "" {
				assert.True(t, strings.HasPrefix(p.Integrity, "sha512-"), "%s has no checksum", name)
			}
		}
	}
	var own lock
	readJSON(t, "package-lock.json", &own)
	assert.Equal(t, "9.0.1", own.Packages["node_modules/vscode-languageclient"].Version)
}

func TestWhatThePackageNamesIsThere(t *testing.T) {
	var manifest struct {
		License     string
		Contributes struct {
			Languages []struct {
				ID, Configuration string
				Extensions        []string
			}
			Grammars []struct{ Language, ScopeName, Path string }
		}
	}
	readJSON(t, "package.json", &manifest)
	assert.Equal(t, "Apache-2.0", manifest.License)
	assert.FileExists(t, "../../LICENSE", "the package takes it along")
	require.Len(t, manifest.Contributes.Languages, 1)
	language := manifest.Contributes.Languages[0]
	assert.Equal(t, []string{".hem"}, language.Extensions)
	assert.FileExists(t, language.Configuration)
	require.Len(t, manifest.Contributes.Grammars, 1)
	grammar := manifest.Contributes.Grammars[0]
	assert.Equal(t, language.ID, grammar.Language)
	var scopes struct{ ScopeName string }
	readJSON(t, grammar.Path, &scopes)
	assert.Equal(t, grammar.ScopeName, scopes.ScopeName)
}

// A choice that the editor offers is one that the server knows.
func TestTheChoicesOfTheSettings(t *testing.T) {
	var manifest struct {
		Contributes struct {
			Configuration struct {
				Properties map[string]struct {
					Enum    []string
					Default any
				}
			}
		}
	}
	readJSON(t, "package.json", &manifest)
	properties := manifest.Contributes.Configuration.Properties
	assert.ElementsMatch(t, finding.Categories(), properties["hemline.severityFloor"].Enum)
	for name, p := range properties {
		if len(p.Enum) > 0 {
			assert.Contains(t, p.Enum, p.Default, name)
		}
	}
}

// The comment mark of the editor is the language's.
func TestTheLanguageConfiguration(t *testing.T) {
	var configuration struct {
		Comments struct{ LineComment string }
	}
	readJSON(t, "language-configuration.json", &configuration)
	assert.Equal(t, "//", configuration.Comments.LineComment)
}

func TestTheScripts(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("HEMLINE_CI") == "1" {
			t.Fatal("node is not installed, and HEMLINE_CI=1 asks for it")
		}
		t.Skip("node is not installed")
	}
	output, err := exec.Command(node, "--test", "test/").CombinedOutput()
	require.NoError(t, err, "%s", output)
	assert.Contains(t, string(output), "# fail 0")
}
