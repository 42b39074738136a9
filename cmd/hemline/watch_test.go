package main

import (
	"bufio"
	"bytes"
	"context"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// patience is how long a test waits for what must come.
const patience = 10 * time.Second

// written is what a command has written so far.
type written struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (w *written) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.buf.Write(p)
}

func (w *written) String() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.buf.String()
}

func (w *written) until(t *testing.T, text string) {
	t.Helper()
	require.Eventually(t, func() bool { return strings.Contains(w.String(), text) }, patience, 5*time.Millisecond, "waiting for %q, came: %s", text, w.String())
}

// watching runs the command on board.hem in a folder until the test ends.
func watching(t *testing.T, files map[string]string) (dir string, out, err *written, url string, end func() error) {
	t.Helper()
	return watchingBy(t, clock{}, files)
}

// watchingBy does so by another clock than the machine's.
func watchingBy(t *testing.T, by clock, files map[string]string) (dir string, out, err *written, url string, end func() error) {
	t.Helper()
	dir = t.TempDir()
	for name, text := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	ctx, cancel := context.WithCancel(context.Background())
	out, err = &written{}, &written{}
	done := make(chan error, 1)
	go func() {
		done <- watchCommand{File: filepath.Join(dir, "board.hem")}.Run(ctx, &streams{out: out, err: err, clock: by})
	}()
	end = sync.OnceValue(func() error { cancel(); return <-done })
	t.Cleanup(func() { _ = end() })
	out.until(t, "\n")
	out.until(t, " finding")
	url, _, _ = strings.Cut(out.String(), "\n")
	require.Regexp(t, `^http://127\.0\.0\.1:\d+/[\w-]{43}/$`, url)
	return dir, out, err, url, end
}

const watched = `use "shop.hem"
outline rectangle 60 mm by 40 mm corner 1 mm
plating wall { along south; net GND; copper 25 um; wrap top 0.8 mm; wrap bottom 0.8 mm; extend 0.05 mm }
  gap g1 of wall on south at 20 mm width 4 mm
leave tab_places to shop because "its usual frame"
`

const shop = "fabricator s { offers edge_plating; limit span_length minimum 1 mm }\n"

func TestWatchFollowsTheFilesAndTheClicks(t *testing.T) {
	dir, out, _, url, end := watching(t, map[string]string{"board.hem": watched, "shop.hem": shop})
	path := filepath.Join(dir, "board.hem")
	out.until(t, path+": 0 findings")

	shows := page(t, url)
	shows(`"id":"gap g1"`)

	// Saved in place, as some editors do.
	require.NoError(t, os.WriteFile(path, []byte(watched+"gap g2 of wall on south at 40 mm width 1 mm\n"), 0o644))
	shows(`"id":"gap g2"`)
	out.until(t, path+": 1 finding\n")
	// Put in place of the old one, as others do.
	require.NoError(t, os.WriteFile(path+"~", []byte(watched+"gap g3 of wall on south at 40 mm width 4 mm\n"), 0o644))
	require.NoError(t, os.Rename(path+"~", path))
	shows(`"id":"gap g3"`)
	// A file that it uses.
	require.NoError(t, os.WriteFile(filepath.Join(dir, "shop.hem"), []byte(strings.ReplaceAll(shop, "1 mm", "30 mm")), 0o644))
	shows(`"rule":"span_short"`)
	// One of no concern changes nothing. The page may be told before the
	// terminal: the address and four states are a line each.
	const before = 5
	require.Eventually(t, func() bool { return strings.Count(out.String(), "\n") == before }, patience, 5*time.Millisecond, "came: %s", out)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "other.hem"), []byte("hem 1\n"), 0o644))
	time.Sleep(3 * settle)
	assert.Equal(t, before, strings.Count(out.String(), "\n"))

	request, err := http.NewRequest(http.MethodPost, url+"go", strings.NewReader(`{"item":"gap g1"}`))
	require.NoError(t, err)
	request.Header.Set("Origin", "http://"+request.Host)
	request.Header.Set("Content-Type", "application/json")
	clicked, err := http.DefaultClient.Do(request)
	require.NoError(t, err)
	clicked.Body.Close()
	out.until(t, filepath.ToSlash(path)+":4:3\n")

	require.NoError(t, end(), "an end that was asked for is no failure")
	assert.True(t, strings.HasSuffix(out.String(), "closed\n"), out.String())
	shows("event: end")
	_, err = http.Get(url)
	assert.Error(t, err)
}

// page opens the picture; shows waits for a text in what it is sent.
func page(t *testing.T, url string) (shows func(text string)) {
	t.Helper()
	answer, err := http.Get(url + "events")
	require.NoError(t, err)
	t.Cleanup(func() { answer.Body.Close() })
	frames := make(chan string, 100)
	go func() {
		lines := bufio.NewScanner(answer.Body)
		lines.Buffer(nil, 1<<24)
		for lines.Scan() {
			frames <- lines.Text()
		}
		close(frames)
	}()
	return func(text string) {
		t.Helper()
		for {
			select {
			case line, ok := <-frames:
				require.True(t, ok, "the stream ended")
				if strings.Contains(line, text) {
					return
				}
			case <-time.After(patience):
				require.Fail(t, "not shown", text)
			}
		}
	}
}

// A file that goes away leaves the last picture, and is followed again.
func TestWatchOutlivesTheFile(t *testing.T) {
	dir, out, errs, url, _ := watching(t, map[string]string{"board.hem": watched, "shop.hem": shop})
	path := filepath.Join(dir, "board.hem")
	shows := page(t, url)
	require.NoError(t, os.Remove(path))
	errs.until(t, "board.hem: the file is gone; the picture stays")
	shows("board.hem is gone. This is the last picture")
	require.NoError(t, os.WriteFile(path, []byte(watched+"gap g2 of wall on south at 40 mm width 1 mm\n"), 0o644))
	out.until(t, path+": 1 finding\n")
	assert.Equal(t, 1, strings.Count(errs.String(), "gone"))
}

// A used file that is not there yet is noticed when it comes.
func TestWatchWaitsForAUsedFile(t *testing.T) {
	dir, out, _, _, _ := watching(t, map[string]string{"board.hem": watched})
	path := filepath.Join(dir, "board.hem")
	out.until(t, path+": 1 finding\n")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "shop.hem"), []byte(shop), 0o644))
	out.until(t, path+": 0 findings\n")
}

func TestOpeningWithoutABrowserIsSaid(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	var out, err written
	openPage("http://127.0.0.1:1/", &streams{out: &out, err: &err})
	assert.Contains(t, err.String(), "the browser cannot be opened")
	assert.Contains(t, err.String(), "open the address above yourself")
}

// A board that is a link is followed where it leads, in another folder.
func TestWatchFollowsALink(t *testing.T) {
	far := filepath.Join(t.TempDir(), "far.hem")
	require.NoError(t, os.WriteFile(far, []byte(watched), 0o644))
	dir, out, _, _, _ := watching(t, map[string]string{"shop.hem": shop, "board.hem": watched})
	path := filepath.Join(dir, "board.hem")
	require.NoError(t, os.Remove(path))
	require.NoError(t, os.Symlink(far, path))
	out.until(t, path+": 0 findings\n"+path+": 0 findings\n")
	require.NoError(t, os.WriteFile(far, []byte(watched+"gap g2 of wall on south at 40 mm width 1 mm\n"), 0o644))
	out.until(t, path+": 1 finding\n")
}
