package lsp

import (
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/source"
)

// A change waits for nobody's work: not for the shop of the settings, which
// takes its time to be read, while another text is typed.
func TestNothingIsLockedWhileAShopIsRead(t *testing.T) {
	shopFile := filepath.Join(t.TempDir(), "shop.hem")
	require.NoError(t, os.WriteFile(shopFile, []byte("fabricator slow { limit tab_count minimum 5 }\n"), 0o644))
	reading, ready := make(chan struct{}), make(chan struct{})
	var once sync.Once
	engine := DefaultEngine()
	engine.Analyze = func(root *source.File, read lang.Reader, prev *lang.Analysis) *lang.Analysis {
		if filepath.Base(root.Path()) == "shop.hem" {
			once.Do(func() { close(reading) })
			<-ready
		}
		return lang.Analyze(root, read, prev)
	}
	d := newDocuments(engine)
	set := *defaultSettings()
	set.Fabricator = filepath.ToSlash(shopFile)
	d.configure(&set)
	board := "outline rectangle 60 mm by 40 mm\ntab t on south at middle width 3 mm solid\n"
	d.open("file:///a.hem", nil, board)
	d.open("file:///b.hem", nil, board)
	a := d.current().byURI["file:///a.hem"]
	a.analysis()
	findings := make(chan int)
	go func() { findings <- len(a.findings()) }()
	<-reading

	changed := make(chan struct{})
	go func() {
		b := d.current().byURI["file:///b.hem"]
		d.change(b, nil, source.New("/b.hem", board+"note \"so\"\n"))
		close(changed)
	}()
	select {
	case <-changed:
	case <-time.After(10 * time.Second):
		assert.Fail(t, "a change waited for the shop")
	}
	close(ready)
	<-findings

	// Whoever is asked now is held to the shop's limit.
	rules := map[string]bool{}
	for _, f := range d.current().byURI["file:///a.hem"].findings() {
		rules[f.Rule] = true
	}
	assert.True(t, rules["tab_count"])
}
