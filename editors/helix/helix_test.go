// Package helix holds the test of the settings for Helix that needs no editor.
package helix

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/editors/editortest"
)

func TestTheSettings(t *testing.T) {
	python := editortest.Tool(t, "python3")
	output := editortest.Run(t, 10*time.Second, nil, python, "-c",
		`import json, tomllib; print(json.dumps(tomllib.load(open("languages.toml", "rb"))))`)
	var settings struct {
		Servers map[string]struct {
			Command string
			Args    []string
		} `json:"language-server"`
		Languages []struct {
			Name      string
			FileTypes []string `json:"file-types"`
			Servers   []string `json:"language-servers"`
			Comment   string   `json:"comment-token"`
		} `json:"language"`
	}
	require.NoError(t, json.Unmarshal([]byte(output), &settings))
	assert.Equal(t, "hemline", settings.Servers["hemline"].Command)
	assert.Equal(t, []string{"lsp"}, settings.Servers["hemline"].Args)
	require.Len(t, settings.Languages, 1)
	language := settings.Languages[0]
	assert.Equal(t, []string{"hem"}, language.FileTypes)
	assert.Equal(t, []string{"hemline"}, language.Servers)
	assert.Equal(t, "//", language.Comment)
}
