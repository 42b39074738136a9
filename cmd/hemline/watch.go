package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"slices"
	"sync"
	"syscall"
	"time"

	"github.com/fsnotify/fsnotify"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/source"
	"hemline/lsp/picture"
)

type watchCommand struct {
	File string `arg:"" name:"file" help:"The board."`
	Open bool   `help:"Open the address with the system's browser."`
}

// Help is shown under hemline watch --help.
func (watchCommand) Help() string {
	return `Prints the address of a page on this machine that draws the board, a line for
each change of its file or of a file it uses and for each new day, and for each
click on the picture the statement's place as file:line:column. Ends with Ctrl-C.

Whoever has the address sees the board; nobody else does.

Examples:
  hemline watch board.hem
  hemline watch --open board.hem

Exit codes: 0 ended with Ctrl-C, 2 could not run.`
}

// settle is how long a file must be left alone before it is read. Editors
// write a file in several steps, and some remove it before they put it back.
const settle = 60 * time.Millisecond

// Run serves the picture until it is interrupted.
func (c watchCommand) Run(ctx context.Context, s *streams) error {
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	w := &watch{path: filepath.Clean(c.File), streams: s, folders: map[string]bool{}, modes: figures.NewStore(nil)}
	if err := w.read(); err != nil {
		return err
	}
	var err error
	if w.notes, err = fsnotify.NewWatcher(); err != nil {
		return fmt.Errorf("files cannot be watched: %w", err)
	}
	defer w.notes.Close()
	if w.picture, err = picture.New(picture.Options{Go: w.clicked}); err != nil {
		return err
	}
	defer w.picture.Close()
	if err := w.follow(); err != nil {
		return err
	}
	w.say("%s", w.picture.URL())
	w.show()
	if c.Open {
		openPage(w.picture.URL(), s)
	}
	return w.loop(ctx)
}

// watch is one file being watched.
type watch struct {
	path    string
	streams *streams
	notes   *fsnotify.Watcher
	picture *picture.Server
	folders map[string]bool // those that are watched
	session checks.Session  // what one version hands to the next
	modes   *figures.Store  // of planes, kept from version to version
	frame   picture.Frame   // the last that was shown
	day     string          // on which acceptances were to hold when it was last shown

	mu       sync.Mutex // of analysis, which clicks read, and of the output
	analysis *lang.Analysis
	trouble  string // why the file cannot be read; "" where it can
}

func (w *watch) say(format string, args ...any) {
	w.mu.Lock()
	defer w.mu.Unlock()
	_ = w.streams.say(format, args...) // whoever reads no more needs none
}

// read analyses the file as it is now.
func (w *watch) read() error {
	if info, err := os.Stat(w.path); err == nil && info.IsDir() {
		return fmt.Errorf("%s: it is a folder; name one .hem file", w.path)
	}
	f, err := source.Read(w.path)
	if err != nil {
		return fmt.Errorf("%s: %w", w.path, cause(err))
	}
	a := lang.Analyze(f, source.Read, w.analysis)
	w.mu.Lock()
	defer w.mu.Unlock()
	w.analysis = a
	return nil
}

// show checks what was read and puts it on the page.
func (w *watch) show() {
	w.day = w.streams.today()
	out := rules.All().Check(w.analysis, checks.Options{Today: w.day, Session: &w.session, Modes: w.modes})
	w.frame = picture.Of(w.analysis, out, filepath.Base(w.path), true)
	w.picture.Show(w.frame)
	w.say("%s: %s", w.path, count(len(out.Findings), "finding"))
}

// count writes "1 finding", "2 findings".
func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// follow watches the folders of all files that take part. A file itself
// cannot be watched: many editors put another one in its place.
func (w *watch) follow() error {
	for _, path := range w.files() {
		folder := filepath.Dir(path)
		if w.folders[folder] {
			continue
		}
		err := w.notes.Add(folder)
		switch {
		case err == nil:
			w.folders[folder] = true
		case folder == filepath.Dir(w.path):
			return fmt.Errorf("%s: cannot be watched: %w", folder, cause(err))
		}
		// A used file in a folder that is not there is a finding already.
	}
	return nil
}

// files are the file and those it uses, also those it looks for in vain, and
// what those lead to that are links.
func (w *watch) files() []string {
	list := w.analysis.Files()
	for _, d := range w.analysis.Documents() {
		for _, path := range lang.Used(d) {
			if !slices.Contains(list, path) {
				list = append(list, path)
			}
		}
	}
	for _, path := range list {
		if real := source.Real(path); !sameFile(real, path) {
			list = append(list, real)
		}
	}
	return list
}

func (w *watch) loop(ctx context.Context) error {
	timer := time.NewTimer(time.Hour)
	timer.Stop()
	days := time.NewTicker(w.streams.period())
	defer days.Stop()
	for {
		select {
		case <-ctx.Done():
			w.say("closed")
			return nil
		case e, ok := <-w.notes.Events:
			if ok && w.concerns(e.Name) {
				timer.Reset(settle)
			}
		case err, ok := <-w.notes.Errors:
			if ok { // changes may have been missed, so everything is looked at
				w.streams.fail("while watching: %s", err)
				timer.Reset(settle)
			}
		case <-days.C:
			if w.day != w.streams.today() { // what was accepted until yesterday is a finding now
				w.show()
			}
		case <-timer.C:
			if err := w.again(); err != nil {
				return err
			}
		}
	}
}

// concerns tells whether a file takes part.
func (w *watch) concerns(name string) bool {
	return slices.ContainsFunc(w.files(), func(path string) bool { return sameFile(path, name) })
}

func sameFile(a, b string) bool {
	x, err1 := filepath.Abs(a)
	y, err2 := filepath.Abs(b)
	return err1 == nil && err2 == nil && x == y
}

// again reads and shows what has changed. A file that is gone or cannot be
// read for now leaves the last picture; that is said once.
func (w *watch) again() error {
	if err := w.read(); err != nil {
		text := err.Error()
		if errors.Is(err, fs.ErrNotExist) {
			text = w.path + ": the file is gone; the picture stays, and follows the file when it is back"
		}
		if text != w.trouble {
			w.trouble = text
			w.streams.fail("%s", text)
			last := w.frame
			last.Trouble = filepath.Base(w.path) + " cannot be read. This is the last picture; it follows the file again when it can."
			if errors.Is(err, fs.ErrNotExist) {
				last.Trouble = filepath.Base(w.path) + " is gone. This is the last picture; it follows the file when it is back."
			}
			w.picture.Show(last)
		}
		return nil
	}
	w.trouble = ""
	w.show()
	return w.follow()
}

// clicked prints where a statement stands now.
func (w *watch) clicked(p source.Place) {
	w.mu.Lock()
	defer w.mu.Unlock()
	file, span, ok := w.analysis.Locate(p)
	if !ok {
		return
	}
	at := file.Position(span.Start, source.Runes)
	_ = w.streams.say("%s:%d:%d", file.Path(), at.Line+1, at.Column+1)
}

// openPage asks the system for its browser, and says so where that fails.
func openPage(url string, s *streams) {
	command := []string{"xdg-open", url}
	switch runtime.GOOS {
	case "darwin":
		command[0] = "open"
	case "windows":
		command = []string{"rundll32", "url.dll,FileProtocolHandler", url}
	}
	started := exec.Command(command[0], command[1:]...)
	if err := started.Start(); err != nil {
		s.fail("the browser cannot be opened (%s); open the address above yourself", err)
		return
	}
	go func() { _ = started.Wait() }() // so that it leaves no process behind
}
