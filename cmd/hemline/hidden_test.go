package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/source"
)

// hiding is a board of which every name and text holds what nobody sees.
var hiding = strings.NewReplacer("~", "\u202E", "^", "\u200B", "%", "\x1b").Replace(`use "shop%^.hem" // a shop~
board "ra~dar" { title "Ra^dar%[31m~"; revision "1~"; frequency 10 GHz; class 3; thickness 1.6 mm }
outline rectangle 62 mm by 38 mm corner 1.5 mm
plating "wa~ll" { along south east west; net "G^ND"; wrap top bottom 0.8 mm; copper 25 um; extend 0.05 mm }
gap "g~" of "wa~ll" on south at 20 mm width 4 mm
connector "an~t" on west at middle { body 9.5 mm; pin top width 1.3 mm length 4 mm; opens span 5 mm bridged }
tab "t~" on north at 10 mm, 30 mm, 50 mm width 3 mm solid
relief "li~d" over "wa~ll" on top bottom reach 0.9 mm
plane on top net "G^ND" pullback 0.5 mm
feature "lna^" on top circle 3 mm at (30 mm, 20 mm)
hole "h~" diameter 3 mm at (10 mm, 30 mm) plated net "G^ND"
note "Take ca~re% of ^ it"
accept wrap_land on "wa~ll" because "agre^ed"
leave tab_places to shop because "its us~ual frame"
gap "narr~ow" of "wa~ll" on south at 40 mm width 0.1 mm
`)

// Whatever a board's names hold, nothing that hemline writes for people holds it
// as it is: on a terminal, in a file, in an archive. Only the texts themselves do.
func TestNothingHiddenIsWritten(t *testing.T) {
	dir := t.TempDir()
	board, shop := filepath.Join(dir, "bo\u202Eard.hem"), filepath.Join(dir, "shop\x1b\u200B.hem")
	require.NoError(t, os.WriteFile(board, []byte(hiding), 0o644))
	require.NoError(t, os.WriteFile(shop, []byte("fabricator \"sh\u2066op\" { offers edge_plating half_holes; limit wrap_land minimum 0.9 mm }\n"), 0o644))
	out := func(name string) string { return filepath.Join(dir, name) }
	clear := func(what string, data []byte) {
		t.Helper()
		if at := source.Hidden(string(data), 0, len(data)); len(at) > 0 {
			around := data[max(int(at[0])-60, 0):min(int(at[0])+40, len(data))]
			assert.Fail(t, "a hidden character is written", "%s: %s: %q", what, source.Code([]rune(string(data[at[0]:]))[0]), around)
		}
	}
	for _, args := range [][]string{
		{"check", board}, {"check", "--format", "json", board}, {"check", "--ways", board}, {"check", "--picture", out("f.svg"), board},
		{"report", board}, {"report", "--format", "markdown", board}, {"report", "--format", "json", board},
		{"shops", board, "--with", shop}, {"shops", "--format", "markdown", board, "--with", shop}, {"shops", "--format", "json", board, "--with", shop},
		{"notes", board}, {"notes", "--format", "markdown", board}, {"notes", board, "-o", out("n.txt")},
		{"queries", board}, {"queries", "--format", "markdown", board}, {"queries", "--format", "json", board},
		{"draw", board, "-o", out("d.svg")}, {"checklist", board, "-o", out("c.svg")}, {"layers", board, "-o", out("l")},
		{"pack", board, "--despite", "-o", out("p.zip")}, {"fmt", "--check", board}, {"explain", "a\u202Eb"}, {"check", out("no\u202Ene.hem")}, {"no\u202Ene"},
	} {
		var said, failed bytes.Buffer
		code := run(args, &streams{out: &said, err: &failed})
		assert.NotZero(t, said.Len()+failed.Len(), "%v", args)
		clear(fmt.Sprint(args), said.Bytes())
		clear(fmt.Sprint(args), failed.Bytes())
		if args[0] != "check" && args[0] != "fmt" && args[0] != "explain" && args[0] != "no\u202Ene" && args[0] != "queries" && args[0] != "shops" {
			assert.Equal(t, exitClean, code, "%v: %s", args, &failed)
		}
	}
	var said bytes.Buffer
	run([]string{"check", board}, &streams{out: &said, err: io.Discard})
	assert.Contains(t, said.String(), `gap narr\u{202E}ow`)
	assert.Contains(t, said.String(), `[text_hidden]`)

	files := 0
	require.NoError(t, filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) == ".hem" {
			return err
		}
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		if filepath.Ext(path) != ".zip" {
			files++
			clear(path, data)
			return nil
		}
		archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
		require.NoError(t, err)
		for _, f := range archive.File {
			clear("the archive's list", []byte(f.Name))
			if ext := filepath.Ext(f.Name); ext == ".pdf" || ext == ".hem" && !strings.Contains(f.Name, "coupon") {
				continue
			}
			r, err := f.Open()
			require.NoError(t, err)
			text, err := io.ReadAll(r)
			require.NoError(t, err)
			files++
			clear(f.Name, text)
		}
		return nil
	}))
	assert.Greater(t, files, 20)
}
