package layers

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// pour has a plane on a face and one inside, of a net that the wall along south
// has too, so that both run to it.
const pour = `stack { copper top 35 um; dielectric a 0.5 mm; copper one 35 um; dielectric b 0.5 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm
plating w { along south; net G; wrap top 0.5 mm; wrap bottom 0.5 mm }
plane on top net G pullback 2 mm
plane on one net G pullback 2 mm
`

// Each kind of copper of another net has its room, on the layers that it is on,
// less its own copper there; copper of the plane's net has none.
func TestWhatPlanesGiveWayTo(t *testing.T) {
	disc := func(d float64) float64 { return math.Pi * d * d / 4 }
	box := func(w, h, by float64) float64 { return w*h + 2*(w+h)*by + math.Pi*by*by }
	for _, c := range []struct {
		item     string
		top, one float64
	}{
		{"feature f on top rectangle 2 mm by 1 mm at (20 mm, 15 mm) net X", box(2, 1, 0.2) - 2, 0},
		{"feature f on one circle 2 mm at (20 mm, 15 mm) net X", 0, disc(2.4) - disc(2)},
		{"hole h diameter 1 mm at (20 mm, 15 mm) plated net X land 2 mm", disc(2.4) - disc(2), disc(1.4)},
		{"hole h diameter 1 mm at (20 mm, 15 mm) unplated", disc(1.5), disc(1.8)},
		{"fence f along north inset 15 mm pitch 40 mm hole 0.3 mm net X", disc(0.7), disc(0.7)},
		{"fence f along north inset 15 mm pitch 40 mm hole 0.3 mm land 0.6 mm net X", disc(1) - disc(0.6), disc(0.7)},
		// Past 0.25 mm and 0.4 mm along the edge: a land 2 mm by 1 mm, which is copper,
		// and its hole's barrel.
		{"castellation c on north at 20 mm hole 0.8 mm land 2 mm by 1 mm net X", 2.4*0.75 + 2*0.2 + math.Pi*0.2*0.2/2 - 2*0.75 - 2*0.25, beyond(0.6, 0.4)},
		{"connector c on north at 20 mm { body 9 mm; pin top width 2 mm length 3 mm; net X }", 2.4*2.75 + 2*0.2 + math.Pi*0.2*0.2/2 - 2*2.75 - 2*0.25, 0},
	} {
		_, bare := made(t, pour, usual)
		_, all := made(t, pour+c.item, usual)
		gained := func(name string) float64 { return all[name].Inside - bare[name].Inside }
		assert.InDelta(t, c.top, gained("copper_L1_top_free.gbr"), 1e-5, c.item)
		assert.InDelta(t, c.one, gained("copper_L2_one_free.gbr"), 1e-5, c.item)
		if strings.Contains(c.item, "net X") {
			_, own := made(t, pour+strings.Replace(c.item, "net X", "net G", 1), usual)
			for _, name := range []string{"copper_L1_top_free.gbr", "copper_L2_one_free.gbr"} {
				assert.LessOrEqual(t, own[name].Inside, bare[name].Inside+exact, c.item)
			}
		}
	}
}

// beyond is what a circle's half shows past a line at a distance.
func beyond(r, d float64) float64 { return r*r*math.Acos(d/r) - d*math.Sqrt(r*r-d*d) }

// What runs from a plane to a wall gives way as the plane does.
func TestRunsGiveWay(t *testing.T) {
	disc := func(d float64) float64 { return math.Pi * d * d / 4 }
	const hole = "hole h diameter 0.4 mm at (20 mm, 1.2 mm) plated land 0.6 mm net "
	pour := strings.Replace(pour, "along south", "along south from 5 mm to 35 mm", 1)
	_, other := made(t, pour+hole+"X", usual)
	_, own := made(t, pour+hole+"G", usual)
	assert.InDelta(t, 30*2-disc(1)+disc(0.6), other["copper_L1_top_add.gbr"].Area, exact, "the land stands in its room")
	assert.InDelta(t, 30*2-disc(0.8), other["copper_L2_one_add.gbr"].Area, exact)
	assert.InDelta(t, 30*2, own["copper_L1_top_add.gbr"].Area, exact)
	assert.InDelta(t, 30*2, own["copper_L2_one_add.gbr"].Area, exact)
}

// A wall has a strip of its own on a layer that it is said to join and that has
// no plane of its net.
func TestStripsOfTheirOwn(t *testing.T) {
	_, all := made(t, `stack { copper top 35 um; dielectric a 0.5 mm; copper one 35 um; dielectric b 0.5 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm
plating w { along south; net G; layers one }`, usual)
	assert.InDelta(t, 40*0.3, all["copper_L2_one_add.gbr"].Area, exact)
}

// Planes keep from perforations, a premetallised tab's too, from another net's
// wrap, and from the strip that its wall has inside.
func TestRoomAtTheEdge(t *testing.T) {
	disc := func(d float64) float64 { return math.Pi * d * d / 4 }
	_, bare := made(t, pour, usual)
	gained := func(item string) (top, one float64) {
		_, all := made(t, pour+item, usual)
		return all["copper_L1_top_free.gbr"].Inside - bare["copper_L1_top_free.gbr"].Inside, all["copper_L2_one_free.gbr"].Inside - bare["copper_L2_one_free.gbr"].Inside
	}
	top, one := gained("tab t on north at 20 mm width 4 mm perforated hole 0.5 mm pitch 2 mm inset 1.5 mm premetallised")
	assert.InDelta(t, 2*disc(0.5+2*0.25), top, 1e-5)
	assert.InDelta(t, 2*disc(0.5+2*0.4), one, 1e-5)

	top, one = gained("plating v { along east from 10 mm to 20 mm; net X; wrap top 0.5 mm; layers one }")
	// A ring 0.3 mm wide round a wrap 0.5 mm deep and 10 mm long, for the 0.25 mm along
	// the bare edge that was there; and one of 0.5 mm round a strip of 0.3 mm, for 0.4 mm.
	assert.InDelta(t, 10*0.3+2*(0.5*0.3+disc(0.6)/4)-2*0.25*0.3-10*0.25, top, 1e-5)
	over := 0.3*0.5 + 0.05*math.Sqrt(0.24) + 0.125*math.Asin(0.2) // of an end, on the 0.4 mm along the edge
	assert.InDelta(t, 10*0.5+2*(0.3*0.5+disc(1)/4)-2*over-10*0.4, one, 1e-5)
}

// Beside a wall that the layer does not join, and round what planes give way to,
// what the text states of the wall's own net, or of the other one, is not cut.
func TestStatedCopperIsNotCut(t *testing.T) {
	const wall = `stack { copper top 35 um; dielectric a 0.5 mm; copper one 35 um; dielectric b 0.5 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm
plating w { along west; net G; wrap top 0.5 mm; wrap bottom 0.5 mm }
`
	files, bare := made(t, wall, usual)
	assert.Contains(t, file(t, files, ReadmeName), "\nBeside a wall that an inner layer does not join, free is meant for copper of\nother nets and for planes: other copper of the wall's own net may lie in it.\n")
	_, all := made(t, wall+"feature c on one rectangle 1 mm by 1 mm at (0.5 mm, 20 mm) net G", usual)
	// Of the 0.5 mm along the wall the 1 mm that the feature meets.
	assert.InDelta(t, bare["copper_L2_one_free.gbr"].Inside-1*0.5, all["copper_L2_one_free.gbr"].Inside, exact)

	files, _ = made(t, strings.Replace(wall, "net G", "net G; layers one", 1), usual)
	assert.NotContains(t, file(t, files, ReadmeName), "free is meant for copper of")
}

// A run gives way to a bare edge within its width as it does to a hole: here to
// a cutout, and not to the edge that goes on from the wall it runs to. All of that
// is kept free.
func TestRunsKeepFromBareEdges(t *testing.T) {
	disc := func(d float64) float64 { return math.Pi * d * d / 4 }
	_, all := made(t, strings.Replace(pour, "along south", "along south from 5 mm to 35 mm", 1)+"cutout c circle 0.6 mm at (20 mm, 1.2 mm)", fine())
	assert.InDelta(t, 30*2-disc(0.6+2*0.25), all["copper_L1_top_add.gbr"].Area, exact)
	assert.InDelta(t, 30*2-disc(0.6+2*0.4), all["copper_L2_one_add.gbr"].Area, exact)
	for _, layer := range []string{"copper_L1_top", "copper_L2_one"} {
		assert.Zero(t, all[layer+"_add.gbr"].Shared, layer)
	}
	// Along the edges, less what the run, 2 mm deep, ends beside; and round the cutout.
	frame := func(w float64) float64 { return 2*(40+30)*w - 4*w*w - 30*w }
	assert.InDelta(t, frame(0.25)+disc(0.6+2*0.25)-disc(0.6), all["copper_L1_top_free.gbr"].Inside, exact)
	assert.InDelta(t, frame(0.4)+disc(0.6+2*0.4)-disc(0.6), all["copper_L2_one_free.gbr"].Inside, exact)
}
