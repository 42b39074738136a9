package lsp

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Whatever is opened, typed and closed, and however fast: versions never go
// back, and what a client has been told in the end is what a client is told
// that sees only the end.
func TestWhateverIsTypedTheEndIsRight(t *testing.T) {
	for seed := range uint64(12) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) { typeAtRandom(t, rand.New(rand.NewPCG(seed, 1))) })
	}
}

func typeAtRandom(t *testing.T, random *rand.Rand) {
	dir := t.TempDir()
	uris := make([]string, 4)
	for i := range uris {
		path := filepath.Join(dir, fmt.Sprintf("%d.hem", i))
		uris[i] = uriOf(path)
		require.NoError(t, os.WriteFile(path, []byte(textAtRandom(random)), 0o644))
	}
	open := map[string]string{}
	c := start(t, newToy().engine())
	c.initialize(`{}`)
	for range 60 {
		uri, text := uris[random.IntN(len(uris))], textAtRandom(random)
		if _, ok := open[uri]; !ok {
			c.open(uri, text)
		} else if random.IntN(4) == 0 {
			c.close(uri)
			delete(open, uri)
			continue
		} else {
			c.edit(uri, text)
		}
		open[uri] = text
		if random.IntN(8) == 0 {
			c.call("textDocument/documentSymbol", at(uri, 0, 0))
		}
	}
	fresh := start(t, newToy().engine())
	fresh.initialize(`{}`)
	for uri, text := range open {
		fresh.open(uri, text)
	}
	assert.Equal(t, shown(t, fresh.finish()), shown(t, c.finish()))

	last := map[string]int{}
	for _, p := range c.finish() {
		if p.Version == nil {
			delete(last, p.URI) // closed
			continue
		}
		assert.GreaterOrEqual(t, *p.Version, last[p.URI])
		last[p.URI] = *p.Version
	}
}

func textAtRandom(random *rand.Rand) (text string) {
	for range random.IntN(4) {
		switch random.IntN(3) {
		case 0:
			text += fmt.Sprintf("use \"%d.hem\"\n", random.IntN(4))
		case 1:
			text += "bad "
		default:
			text += "\n"
		}
	}
	return text
}

// finish closes the server's input and returns all diagnostics there were.
func (c *session) finish() (all []published) {
	c.t.Helper()
	c.in.Close()
	c.wait("end", func() bool { return c.over })
	for _, raw := range c.notes["textDocument/publishDiagnostics"] {
		var p published
		require.NoError(c.t, json.Unmarshal(raw, &p))
		all = append(all, p)
	}
	return all
}

// shown is the last list of each text that is not clean, without versions.
func shown(t *testing.T, all []published) map[string]string {
	t.Helper()
	shown := map[string]string{}
	for _, p := range all {
		if shown[p.URI] = p.String(); len(p.Diagnostics) == 0 {
			delete(shown, p.URI)
		}
	}
	return shown
}
