package syntax

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/quantity"
)

func TestQuantityIsReadAsTheLanguageWritesIt(t *testing.T) {
	// The inch of 1959: 25.4 mm, so that a mil is 25 400 nm.
	for text, want := range map[string]float64{"15 mil": 381_000, "0.38mm": 380_000, "5 %": 0.05, "3": 3} {
		q, ok := Quantity(text)
		assert.True(t, ok, text)
		assert.InDelta(t, want, q.Value, 1e-9, text)
	}
	q, _ := Quantity("1000 Nmm")
	assert.Equal(t, quantity.Moment, q.Dim)
	for _, text := range []string{"", "mm", "3 yards", "3 mm mm", "a"} {
		_, ok := Quantity(text)
		assert.False(t, ok, text)
	}
}
