package source

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Edits of a text and then edits of what comes of it do the same at once, wherever the
// latter leave alone what the former wrote; 20,000 random ones.
func TestThen(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	some := func(length int) (list []Edit) {
		for at := r.IntN(5); at < length && len(list) < 3; at += 1 + r.IntN(6) {
			end := min(length, at+r.IntN(4))
			list = append(list, Edit{Span{at, end}, "éxyz"[:2*r.IntN(3)]})
			at = end
		}
		return list
	}
	joined := 0
	for range 20000 {
		f := New("a", "abcdefghijklmnopqrstuvwxyz"[:5+r.IntN(20)])
		first := some(f.Len())
		between := f.Make(first)
		second := some(between.Len())
		both, ok := Then(first, second)
		if !ok {
			continue
		}
		joined++
		assert.True(t, Apart(both))
		assert.Equal(t, between.Make(second).Text(), f.Make(both).Text(), "%q: %v then %v", f.Text(), first, second)
	}
	assert.Greater(t, joined, 4000)
}

func TestThenRefusesWhatWasWritten(t *testing.T) {
	_, ok := Then([]Edit{{Span{2, 4}, "wide"}}, []Edit{{Span{3, 5}, "x"}})
	assert.False(t, ok)
}

// The one edit between two texts is of whole characters, and makes the one of the other.
func TestDifference(t *testing.T) {
	for _, c := range []struct {
		old, now string
		want     Edit
	}{
		{"wrap 0.3 mm", "wrap 0.4 mm", Edit{Span{7, 8}, "4"}},
		{"20 µm", "20 ém", Edit{Span{3, 5}, "é"}}, // µ is C2 B5, é is C3 A9
		{"a é", "a è", Edit{Span{2, 4}, "è"}},     // C3 A9 and C3 A8
		{"same", "same", Edit{Span{4, 4}, ""}},
		{"", "new", Edit{Span{0, 0}, "new"}},
	} {
		got := Difference(c.old, c.now)
		assert.Equal(t, c.want, got)
		assert.Equal(t, c.now, New("a", c.old).Make([]Edit{got}).Text())
	}
}

func TestClear(t *testing.T) {
	assert.True(t, Clear([]Edit{{Span{0, 2}, ""}}, []Edit{{Span{3, 4}, ""}}))
	assert.False(t, Clear([]Edit{{Span{0, 3}, ""}}, []Edit{{Span{3, 4}, ""}}), "they touch")
}
