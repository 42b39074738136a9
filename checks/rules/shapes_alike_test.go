package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// One opening may be said as a slot, as a rectangle with round corners and as a
// path: all rules say the same of it, unplated and plated, small and large, in
// the board's middle, at its edge and off it.
func TestOneShapeHoweverItIsSaid(t *testing.T) {
	fired := map[string]bool{}
	for _, width := range []float64{0.5, 0.7, 0.76, 0.79, 0.9, 1, 1.3, 3} {
		for _, y := range []float64{15, 2, 1.2, 0.3} {
			for _, by := range []string{"", "none", "shop"} {
				for _, length := range []float64{4, 6} {
					var said [3][]string
					for i, form := range oneShape(length, width, y) {
						text := platedWith(form.statement)
						if by != "" {
							text = strings.Replace(text, "along west east", "along west east "+strings.Join(form.edges, " "), 1)
						}
						if by == "shop" {
							text = "fabricator fine { offers edge_plating plated_cutouts; limit slot_width minimum 0.4 mm; limit plated_slot_width minimum 0.4 mm }\n" + text
						}
						for _, f := range underAll(analyze(text)) {
							said[i] = append(said[i], f.Rule)
							fired[f.Rule] = true
						}
						slices.Sort(said[i])
						said[i] = slices.Compact(said[i])
					}
					assert.Equal(t, said[0], said[1], "%g by %g mm at %g mm, plated %q: slot and rectangle", length, width, y, by)
					assert.Equal(t, said[0], said[2], "%g by %g mm at %g mm, plated %q: slot and path", length, width, y, by)
				}
			}
		}
	}
	assert.True(t, fired["slot_narrow"] && fired["neck_narrow"], "some are found")
}

type form struct {
	statement string
	edges     []string
}

// oneShape is an opening with round ends, in mm, as a slot, a rectangle and a path.
func oneShape(length, width, y float64) [3]form {
	r, x := width/2, 25.0
	a, b := x-length/2+r, x+length/2-r
	return [3]form{
		{fmt.Sprintf("cutout w slot %g mm by %g mm at (%g mm, %g mm)", length, width, x, y), []string{"w.rim"}},
		{fmt.Sprintf("cutout w rectangle %g mm by %g mm corner %g mm at (%g mm, %g mm)", length, width, r, x, y), []string{"w.south", "w.east", "w.north", "w.west"}},
		{fmt.Sprintf("cutout w { start (%[1]g mm, %[3]g mm); line s to (%[2]g mm, %[3]g mm); arc e to (%[2]g mm, %[4]g mm) around (%[2]g mm, %[5]g mm); line n to (%[1]g mm, %[4]g mm); arc w to (%[1]g mm, %[3]g mm) around (%[1]g mm, %[5]g mm) }",
			a, b, y-r, y+r, y), []string{"w.s", "w.e", "w.n", "w.w"}},
	}
}
