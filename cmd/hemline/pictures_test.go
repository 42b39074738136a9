package main

import (
	"bufio"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"image"
	"image/png"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

//go:generate go test . -run TestDrawingsShown -update

// pictures is where the README's pictures are kept, maxPicture what one may weigh, in bytes.
const (
	pictures   = "testdata/pictures"
	maxPicture = 160_000
)

// shown makes a folder with the examples and the tour's board in it the
// current one, and returns the README's text and the pictures' folder.
func shown(t *testing.T) (readme, folder string) {
	t.Helper()
	root, err := filepath.Abs("../..")
	require.NoError(t, err)
	data, err := os.ReadFile(filepath.Join(root, "README.md"))
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, os.Symlink(filepath.Join(root, "examples"), "examples"))
	require.NoError(t, os.WriteFile("first.hem", []byte(tourBoard(t, string(data))), 0o644))
	return string(data), filepath.Join(root, filepath.FromSlash(pictures))
}

// The first two sheets that `hemline draw` makes of the receiver are those
// that the README shows.
func TestDrawingsShown(t *testing.T) {
	_, folder := shown(t)
	t.Setenv("SOURCE_DATE_EPOCH", "")
	out, failed := &written{}, &written{}
	require.Zero(t, run([]string{"draw", "examples/receiver.hem", "-o", "drawing.png"}, &streams{in: strings.NewReader(""), out: out, err: failed}), failed)
	for _, name := range []string{"drawing.png", "drawing-2.png"} {
		kept := filepath.Join(folder, name)
		if *update {
			data, err := os.ReadFile(name)
			require.NoError(t, err)
			require.NoError(t, os.MkdirAll(folder, 0o755))
			require.NoError(t, os.WriteFile(kept, data, 0o644))
		}
		assertSame(t, name, dots(t, kept), dots(t, name))
	}
}

// dots reads a drawing; its dots count greys, from 0 for black to 15 for white.
func dots(t *testing.T, path string) *image.Paletted {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	p, err := png.Decode(f)
	require.NoError(t, err)
	require.IsType(t, &image.Paletted{}, p, path)
	return p.(*image.Paletted)
}

// assertSame lets one dot in a thousand differ by one of the 16 greys, as the
// rounding of another processor may have it; a letter that changes does more.
func assertSame(t *testing.T, name string, kept, now *image.Paletted) {
	t.Helper()
	const advice = "%s is stale: go generate ./cmd/hemline"
	require.Equal(t, kept.Bounds(), now.Bounds(), advice, name)
	require.Equal(t, kept.Palette, now.Palette, advice, name)
	others, worst := 0, 0
	for i, k := range kept.Pix {
		if d := int(k) - int(now.Pix[i]); d != 0 {
			others, worst = others+1, max(worst, d, -d)
		}
	}
	assert.LessOrEqual(t, worst, 1, advice, name)
	assert.LessOrEqual(t, others, len(kept.Pix)/1000, advice, name)
}

// What the pictures of the page were made from, the page itself and what it is
// told of the board, is what `hemline watch` serves now, and they are those
// that were made from it. That they look like it is tested in a browser.
func TestLivePicturesShown(t *testing.T) {
	_, folder := shown(t)
	data, err := os.ReadFile(filepath.Join(folder, "live.json"))
	require.NoError(t, err)
	var kept map[string]struct{ Board, MadeFrom, Picture string }
	require.NoError(t, json.Unmarshal(data, &kept))
	names, err := filepath.Glob(filepath.Join(folder, "live-*.png"))
	require.NoError(t, err)
	require.Len(t, names, len(kept))
	require.NotEmpty(t, kept)
	for name, k := range kept {
		page, frame := served(t, k.Board)
		assert.Equal(t, k.MadeFrom, sum(page+"\n"+frame), "%s is stale: npm run pictures in lsp/picture/browser", name)
		data, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		assert.Equal(t, k.Picture, sum(string(data)), "%s is another than was taken: npm run pictures in lsp/picture/browser", name)
	}
}

func sum(text string) string {
	s := sha256.Sum256([]byte(text))
	return hex.EncodeToString(s[:])
}

// served is the page that `hemline watch` serves for a board, and the first frame it sends.
func served(t *testing.T, board string) (page, frame string) {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	out, done := &written{}, make(chan error, 1)
	go func() { done <- watchCommand{File: board}.Run(ctx, &streams{out: out, err: out}) }()
	defer func() { cancel(); assert.NoError(t, <-done) }()
	out.until(t, " finding")
	url, _, _ := strings.Cut(out.String(), "\n")
	answer, err := http.Get(url)
	require.NoError(t, err)
	defer answer.Body.Close()
	data, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	events, err := http.Get(url + "events")
	require.NoError(t, err)
	defer events.Body.Close()
	lines := bufio.NewScanner(events.Body)
	lines.Buffer(nil, 1<<24)
	for lines.Scan() {
		if data, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
			frame = data
			break
		}
	}
	require.NotEmpty(t, frame)
	return string(data), frame
}

// Every picture kept is shown, says in words what is seen on it, tells nothing
// beside its dots, and is small.
func TestPicturesAreShownWithWords(t *testing.T) {
	readme, folder := shown(t)
	names, err := filepath.Glob(filepath.Join(folder, "*.png"))
	require.NoError(t, err)
	require.NotEmpty(t, names)
	for _, path := range names {
		name := filepath.Base(path)
		words := regexp.MustCompile(`!\[([^\]]{40,})\]\(` + regexp.QuoteMeta(pictures+"/"+name) + `\)`)
		assert.True(t, words.MatchString(readme), "%s is kept and not shown, or not described", name)
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.LessOrEqual(t, len(data), maxPicture, name)
		assert.Subset(t, []string{"IHDR", "PLTE", "IDAT", "IEND"}, chunks(data), name)
	}
}

// chunks are the types of a PNG file's chunks: after 8 bytes of signature each
// has its length, its type, its data and a sum (ISO/IEC 15948, from memory).
func chunks(data []byte) (types []string) {
	for at := 8; at+8 <= len(data); at += 12 + int(binary.BigEndian.Uint32(data[at:])) {
		types = append(types, string(data[at+4:at+8]))
	}
	return types
}
