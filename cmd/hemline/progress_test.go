package main

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// A long command says on a terminal how far it is, and clears that away; a short one, and
// one whose messages go elsewhere, says nothing.
func TestProgress(t *testing.T) {
	for _, c := range []struct {
		live bool
		long time.Duration
		says string
	}{
		{true, quiet + quiet/2, "checked 1 of 3"}, {true, 0, ""}, {false, quiet + quiet/2, ""},
	} {
		var said strings.Builder
		s := &streams{err: &said, live: c.live}
		done, stop := s.progress("checked", 3)
		done()
		time.Sleep(c.long)
		stop()
		stop()
		if c.says == "" {
			assert.Empty(t, said.String())
			continue
		}
		assert.Contains(t, said.String(), c.says)
		assert.True(t, strings.HasSuffix(said.String(), "\r\x1b[K"))
	}
}
