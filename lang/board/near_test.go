package board_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A segment is crowded by another profile, or by its own beyond the neighbours.
func TestWhatCrowdsASegment(t *testing.T) {
	b := build(t, "outline rectangle 60 mm by 4 mm\ncutout c circle 1 mm at (50 mm, 2 mm)\n")
	o := b.Outline()
	assert.False(t, b.Crowded(o, 0, 1*mm), "its neighbours touch it")
	assert.True(t, b.Crowded(o, 0, 1.6*mm), "by the cutout")
	assert.True(t, b.Crowded(o, 2, 4.1*mm), "by the other side")
	assert.False(t, b.Crowded(o, 3, 40*mm))
	assert.False(t, b.Crowded(b.Cutouts()[0].Profile, 0, 1*mm))
	wide := build(t, "outline rectangle 60 mm by 4 mm\n")
	assert.False(t, wide.Crowded(wide.Outline(), 0, 3.9*mm))
	assert.False(t, wide.Crowded(wide.Outline(), 3, 3.9*mm), "over the path's start")
}
