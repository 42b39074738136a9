// Package kate holds the test of the syntax definition, by the program of the
// library that Kate highlights with.
package kate

import (
	"encoding/json"
	"encoding/xml"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/editors/editortest"
)

var styles = map[string]editortest.Class{
	"Comment": editortest.Comment, "Text": editortest.Text, "Escape": editortest.Text, "Number": editortest.Number, "Unit": editortest.Unit,
	"Statement": editortest.Statement, "Clause": editortest.Clause, "Constant": editortest.Constant, "Function": editortest.Function,
	"Name": editortest.Name,
}

// A theme that gives each style a colour of its own tells in HTML which style
// a character has.
func theme(t *testing.T) (text []byte, byColour map[string]editortest.Class) {
	t.Helper()
	byColour = map[string]editortest.Class{}
	custom := map[string]any{}
	for name, class := range styles {
		colour := fmt.Sprintf("#0000%02x", len(custom)+1)
		custom[name] = map[string]any{"text-color": colour}
		byColour[colour] = class
	}
	text, err := json.Marshal(map[string]any{
		"metadata":      map[string]any{"name": "classes", "revision": 1},
		"editor-colors": map[string]any{}, "text-styles": map[string]any{}, "custom-styles": map[string]any{"hem": custom},
	})
	require.NoError(t, err)
	return text, byColour
}

func TestHighlighting(t *testing.T) {
	highlighter := editortest.Tool(t, "kate-syntax-highlighter")
	data := t.TempDir()
	definition, err := os.ReadFile("hem.xml")
	require.NoError(t, err)
	text, byColour := theme(t)
	for name, content := range map[string][]byte{"syntax/hem.xml": definition, "themes/classes.theme": text} {
		file := filepath.Join(data, "org.kde.syntax-highlighting", filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, content, 0o644))
	}
	for name, text := range editortest.Samples(t) {
		file := filepath.Join(data, "sample.hem")
		require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
		// No -s: the ending of the file's name tells the language.
		page := editortest.Run(t, 20*time.Second, []string{"XDG_DATA_HOME=" + data, "QT_QPA_PLATFORM=offscreen"},
			highlighter, "-t", "classes", "-f", "html", file)
		lines := colours(t, page)
		words := editortest.Words(text)
		shown := make([][2]editortest.Class, len(words))
		for i, w := range words {
			shown[i] = [2]editortest.Class{byColour[lines[w.Line][w.Runes]], byColour[lines[w.Line][w.Last.Runes]]}
		}
		editortest.Compare(t, name, words, shown)
	}
}

// colours reads the page: the colour of each character of each line.
func colours(t *testing.T, page string) (lines [][]string) {
	t.Helper()
	_, page, ok := strings.Cut(page, "<pre>\n")
	require.True(t, ok, "no text in the page")
	page, _, _ = strings.Cut(page, "</pre>")
	for line := range strings.SplitSeq(page, "\n") {
		var row []string
		colour := ""
		for line != "" {
			if strings.HasPrefix(line, "<") {
				tag, rest, _ := strings.Cut(line, ">")
				colour, line = "", rest
				if _, style, ok := strings.Cut(tag, "color:"); ok {
					colour = style[:len("#000000")]
				}
				continue
			}
			end := strings.IndexByte(line, '<')
			if end < 0 {
				end = len(line)
			}
			for range html.UnescapeString(line[:end]) {
				row = append(row, colour)
			}
			line = line[end:]
		}
		lines = append(lines, row)
	}
	return lines
}

// What the client of Kate's LSP plug-in is told.
func TestTheSettings(t *testing.T) {
	text, err := os.ReadFile("settings.json")
	require.NoError(t, err)
	var settings struct {
		Servers map[string]struct {
			Command               []string
			HighlightingModeRegex string
		}
	}
	require.NoError(t, json.Unmarshal(text, &settings))
	assert.Equal(t, []string{"hemline", "lsp"}, settings.Servers["hem"].Command)
	var language struct {
		Name       string `xml:"name,attr"`
		Extensions string `xml:"extensions,attr"`
	}
	definition, err := os.ReadFile("hem.xml")
	require.NoError(t, err)
	require.NoError(t, xml.Unmarshal(definition, &language))
	assert.Equal(t, "^"+language.Name+"$", settings.Servers["hem"].HighlightingModeRegex)
	assert.Equal(t, "*.hem", language.Extensions)
}
