package board_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/source"
)

// A plane with a number stays the same item for as long as its statement and its
// number stay, so that what was worked out for it holds.
func TestNumberedPlanesStayTheSameItems(t *testing.T) {
	const one, two = "plane on top net A pullback 1 mm within (0 mm, 0 mm) to (9 mm, 9 mm)\n", "plane on top bottom net B pullback 1 mm within (10 mm, 0 mm) to (19 mm, 9 mm)\n"
	const outline = "outline rectangle 20 mm by 10 mm\n"
	names := func(b *board.Board) (list []string) {
		for _, p := range b.Planes() {
			list = append(list, p.Name.Text)
		}
		return list
	}
	read := func(text string, prev *lang.Analysis) *lang.Analysis {
		return lang.Analyze(source.New("b.hem", text), nil, prev)
	}
	first := read(outline+one+two, nil)
	assert.Equal(t, []string{"top.1", "top.2", "bottom"}, names(first.Board()))
	for _, text := range []string{"note \"x\"\n" + outline + one + two, outline + one + "let a = 1 mm\n" + two, outline + one + two + "plane on bottom net C pullback 4 mm\n"} {
		then := read(text, first).Board().Planes()
		assert.Same(t, first.Board().Planes()[0], then[0], text)
		assert.Same(t, first.Board().Planes()[1], then[1], text)
	}
	less := read(outline+two, first)
	assert.Equal(t, []string{"top", "bottom"}, names(less.Board()))
	assert.Equal(t, []string{"top.1", "top.2", "bottom"}, names(read(outline+one+two, less).Board()))
	stacked := read("stack { copper upper 35 um; dielectric d 1 mm; copper bottom 35 um }\n"+outline+one+"plane on upper net C pullback 4 mm\n"+two, first)
	assert.Equal(t, []string{"top.1", "upper.2", "top.3", "bottom"}, names(stacked.Board()))
}
