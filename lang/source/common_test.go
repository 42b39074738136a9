package source_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/source"
)

func TestWhatTwoVersionsShare(t *testing.T) {
	for _, x := range []struct {
		old, now    string
		front, back int
	}{
		{"", "", 0, 0},
		{"abc", "abc", 3, 0},
		{"abc", "abXc", 2, 1},
		{"abXc", "abc", 2, 1},
		{"abc", "xyz", 0, 0},
		{"", "abc", 0, 0},
		{"aa", "aaa", 2, 0}, // what stands at the front does not count at the back again
		{"abab", "ab", 2, 0},
	} {
		front, back := source.Common([]byte(x.old), []byte(x.now))
		assert.Equal(t, []int{x.front, x.back}, []int{front, back}, "%q, %q", x.old, x.now)
	}
}
