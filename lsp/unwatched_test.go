package lsp

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// unwatched is a session over a folder whose client pulls findings and watches no files.
func unwatched(t *testing.T, folder string) *session {
	t.Helper()
	c := start(t, DefaultEngine())
	c.folder = uriOf(folder)
	c.initialize(`{"textDocument":{"diagnostic":{}}}`)
	return c
}

// pulledRules are the rules of what is found in one text.
func pulledRules(t *testing.T, c *session, path string) string {
	t.Helper()
	var report struct{ Items []struct{ Code string } }
	require.NoError(t, json.Unmarshal([]byte(c.call(methodDiagnostic, map[string]any{"textDocument": map[string]any{"uri": uriOf(path)}})), &report))
	var rules []string
	for _, d := range report.Items {
		rules = append(rules, d.Code)
	}
	return strings.Join(rules, " ")
}

// folderFindings are the rules found in each text of the workspace, by its file's name;
// ids are by URI what the client has, and are kept up.
func folderFindings(t *testing.T, c *session, ids map[string]string) map[string]string {
	t.Helper()
	previous := []any{}
	for uri, id := range ids {
		previous = append(previous, map[string]any{"uri": uri, "value": id})
	}
	var answer struct {
		Items []struct {
			URI, Kind, ResultID string
			Items               *[]struct{ Code string }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(c.call(methodWorkspaceDiagnostic, map[string]any{"previousResultIds": previous})), &answer))
	found := map[string]string{}
	for _, r := range answer.Items {
		if ids[r.URI] = r.ResultID; r.Kind == reportUnchanged {
			found[filepath.Base(r.URI)] = asBefore
			continue
		}
		require.NotNil(t, r.Items, r.URI)
		var rules []string
		for _, d := range *r.Items {
			rules = append(rules, d.Code)
		}
		found[filepath.Base(r.URI)] = strings.Join(rules, " ")
	}
	return found
}

const (
	asBefore = "as before"
	wrongLet = "hem 1\nlet a = nothing\n"
)

// A client that watches no files is answered from the folder as it is at each request.
func TestFilesThatNobodyWatchesComeAndGo(t *testing.T) {
	folder := t.TempDir()
	write(t, folder, "a.hem", "let a = 1\n")
	shop := write(t, folder, "shop.hem", "let s = 1\n")
	c := unwatched(t, folder)
	ids := map[string]string{}
	assert.Equal(t, "a s", symbols(t, c))
	assert.Len(t, folderFindings(t, c, ids), 2)
	write(t, folder, "new/b.hem", "use \"../shop.hem\"\nlet b = s\n")
	assert.Equal(t, "a b s", symbols(t, c))
	assert.Contains(t, folderFindings(t, c, ids), "b.hem")
	renamed := c.call("workspace/willRenameFiles", map[string]any{"files": []any{map[string]any{"oldUri": uriOf(shop), "newUri": uriOf(filepath.Join(folder, "mill.hem"))}}})
	assert.Contains(t, renamed, `\"../mill.hem\"`)
	require.NoError(t, os.Remove(filepath.Join(folder, "a.hem")))
	assert.Equal(t, "b s", symbols(t, c))
}

// What an open text uses is looked at again whenever findings are asked for.
func TestUsedFilesThatNobodyWatches(t *testing.T) {
	folder, away := t.TempDir(), t.TempDir()
	board := "use \"shop.hem\"\nuse \"" + filepath.ToSlash(away) + "/far.hem\"\nlet b = s + far\n"
	open := write(t, folder, "open.hem", board)
	write(t, folder, "closed.hem", board)
	shop := write(t, folder, "shop.hem", "let s = 1 mm\n")
	c := unwatched(t, folder)
	c.open(uriOf(open), board)
	both := func() string {
		t.Helper()
		one := pulledRules(t, c, open)
		found := folderFindings(t, c, map[string]string{})
		assert.Equal(t, one, found["open.hem"], "asked for alone and with the folder")
		assert.Equal(t, one, found["closed.hem"], "open and not open")
		return one
	}
	assert.NotEmpty(t, both(), "far.hem is not there")
	far := write(t, away, "far.hem", "let far = 1 mm\n")
	assert.Empty(t, both())
	write(t, folder, "shop.hem", "let other = 1 mm\n")
	assert.Contains(t, both(), "unknown_name")
	write(t, folder, "shop.hem", "let s = 1 mm\n")
	assert.Empty(t, both())
	require.NoError(t, os.Remove(shop))
	assert.NotEmpty(t, both())
	write(t, folder, "shop.hem", "let s = 1 mm\n")
	require.NoError(t, os.Remove(far))
	assert.NotEmpty(t, both())
}

// Of what lies outside its folders a client that watches tells nothing.
func TestUsedFilesOutsideTheWatchedFolders(t *testing.T) {
	folder, away := t.TempDir(), t.TempDir()
	board := "use \"" + filepath.ToSlash(away) + "/far.hem\"\nuse \"near.hem\"\nlet b = far + near\n"
	open := write(t, folder, "open.hem", board)
	write(t, folder, "near.hem", "let near = 1 mm\n")
	write(t, away, "far.hem", "let far = 1 mm\n")
	c := start(t, DefaultEngine())
	c.folder = uriOf(folder)
	c.initialize(`{"workspace":{"didChangeWatchedFiles":{"dynamicRegistration":true}},"textDocument":{"diagnostic":{}}}`)
	require.Eventually(t, c.server.workspace.watched.Load, patience, time.Millisecond)
	c.open(uriOf(open), board)
	assert.Empty(t, pulledRules(t, c, open))
	write(t, folder, "near.hem", "let other = 1 mm\n")
	assert.Empty(t, pulledRules(t, c, open), "the client will say so")
	write(t, away, "far.hem", "let other = 1 mm\n")
	assert.NotEmpty(t, pulledRules(t, c, open))
}

// The fabricator of the settings is a used file too.
func TestASettingsShopThatNobodyWatches(t *testing.T) {
	folder := t.TempDir()
	board := "hem 1\nboard b { thickness 1.6 mm }\noutline rectangle 20 mm by 20 mm\nplating wall { along south; net GND; copper 25 um; wrap top bottom 0.6 mm; extend 0.1 mm }\n"
	open := write(t, folder, "open.hem", board)
	shop := write(t, folder, "shop.hem", "fabricator easy { limit wrap_land minimum 0.2 mm }\n")
	c := start(t, DefaultEngine())
	c.folder = uriOf(folder)
	c.initialize(`{"textDocument":{"diagnostic":{}}}`)
	c.notify("workspace/didChangeConfiguration", map[string]any{"settings": map[string]any{"fabricator": "shop.hem"}})
	c.open(uriOf(open), board)
	assert.NotContains(t, pulledRules(t, c, open), "wrap_land")
	require.NoError(t, os.WriteFile(shop, []byte("fabricator strict { limit wrap_land minimum 4 mm }\n"), 0o644))
	assert.Contains(t, pulledRules(t, c, open), "wrap_land")
}

// Findings of a text that is no more are taken back, once.
func TestFindingsOfTextsThatAreGone(t *testing.T) {
	folder := t.TempDir()
	write(t, folder, "a.hem", wrongLet)
	gone := write(t, folder, "gone.hem", wrongLet)
	c := unwatched(t, folder)
	const never = "untitled:never.hem"
	c.open(never, wrongLet)
	ids := map[string]string{}
	assert.Equal(t, map[string]string{"a.hem": "unknown_name", "gone.hem": "unknown_name", never: "unknown_name"}, folderFindings(t, c, ids))
	require.NoError(t, os.Remove(gone))
	c.notify("textDocument/didClose", map[string]any{"textDocument": map[string]any{"uri": never}})
	assert.Equal(t, map[string]string{"a.hem": asBefore, "gone.hem": "", never: ""}, folderFindings(t, c, ids))
	assert.Equal(t, map[string]string{"a.hem": asBefore}, folderFindings(t, c, ids), "they are told once")
}

// A text is not gone since the client spells its path otherwise.
func TestATextSpelledOtherwiseIsNotTakenBack(t *testing.T) {
	folder := t.TempDir()
	path := write(t, folder, "a.hem", wrongLet)
	c := unwatched(t, folder)
	theirs := strings.Replace(uriOf(path), "a.hem", "%61.hem", 1)
	assert.Equal(t, map[string]string{"a.hem": "unknown_name"}, folderFindings(t, c, map[string]string{theirs: "theirs"}))
}
