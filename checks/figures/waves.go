package figures

import (
	"math"
	"slices"
	"sort"

	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

// assumedPermittivity is taken where the stack states none: typical of FR-4.
const assumedPermittivity = 4.3

// Permittivity is the greatest relative permittivity of the stack's
// dielectrics, which makes the shortest wavelength; stated is false where the
// text gives none and a typical value is taken.
func Permittivity(b *board.Board) (er float64, stated bool) {
	for _, l := range b.Stack().Layered() {
		er = math.Max(er, l.Permittivity.Value)
	}
	if er == 0 {
		return assumedPermittivity, false
	}
	return er, true
}

// WavelengthIn is the wavelength in the board at its highest frequency, nm; ok
// is false where the board states no frequency.
func WavelengthIn(b *board.Board) (float64, bool) {
	if b.Info() == nil || !b.Info().Frequency.Given() {
		return 0, false
	}
	er, _ := Permittivity(b)
	lambda, ok := physics.Wavelength(b.Info().Frequency.Value, er)
	return quantity.OfMetres(lambda), ok
}

// Holds is the bound that each opening sets on what its wall holds back: by its
// own length, and by how many as long as drawn (within a hundredth) lie within
// half a wavelength of it on the same edge. Those on another edge face another
// way and are not counted. What is open at worst alone bounds nothing as drawn.
func Holds(list []Opening, lambda float64) []Bound {
	type class struct {
		edge   *board.Edge
		length int // the logarithm of the longest dimension in hundredths
	}
	of := func(o Opening) (class, float64) {
		middle, long := (o.Stretch.From+o.Stretch.To)/2, o.Nominal
		if long == 0 {
			long = o.Worst
		}
		return class{o.Stretch.Profile.EdgeAt(middle), int(math.Round(math.Log(long) * 100))}, middle
	}
	like := map[class][]float64{}
	for _, o := range list {
		if o.Nominal > 0 {
			c, middle := of(o)
			like[c] = append(like[c], middle)
		}
	}
	for _, at := range like {
		slices.Sort(at)
	}
	out := make([]Bound, len(list))
	for i, o := range list {
		c, middle := of(o)
		at := like[c]
		n := sort.SearchFloat64s(at, middle+lambda/2+board.Tolerance) - sort.SearchFloat64s(at, middle-lambda/2-board.Tolerance)
		out[i].Nominal = math.Inf(1)
		if o.Nominal > 0 {
			out[i].Nominal, _ = physics.SlotShielding(quantity.InMetres(o.Nominal), quantity.InMetres(lambda), max(n, 1))
		}
		out[i].Worst, _ = physics.SlotShielding(quantity.InMetres(o.Worst), quantity.InMetres(lambda), max(n, 1))
	}
	return out
}

// OpeningBounds are the bounds that the board's openings set on what its walls
// hold back, as drawn and at worst, and for each the opening that leaks most. A
// bound without end tells that no opening is known for it; ok is false where no
// frequency is.
func OpeningBounds(b *board.Board, list []Opening) (dB Bound, nominal, worst Opening, ok bool) {
	dB = Bound{math.Inf(1), math.Inf(1)}
	lambda, known := WavelengthIn(b)
	if !known {
		return dB, nominal, worst, false
	}
	for i, s := range Holds(list, lambda) {
		if !list[i].Made() {
			continue // an edge that is not plated is no part of the wall
		}
		if s.Nominal < dB.Nominal {
			dB.Nominal, nominal = s.Nominal, list[i]
		}
		if s.Worst < dB.Worst {
			dB.Worst, worst = s.Worst, list[i]
		}
	}
	return dB, nominal, worst, true
}

// Shielding is the bound on what the walls hold back, dB: the openings', or what
// the copper absorbs where that is less; a bound without end says nothing. ok is
// false where nothing can be said.
func Shielding(b *board.Board, tolerances Tolerances) (dB Bound, ok bool) {
	if !b.Plated() {
		return Bound{}, false
	}
	dB, _, _, _ = OpeningBounds(b, Openings(b, tolerances))
	if a, ok := Absorbs(b); ok {
		dB.Nominal, dB.Worst = math.Min(dB.Nominal, a), math.Min(dB.Worst, a)
	}
	return dB, !math.IsInf(dB.Worst, 1)
}

// Absorbs is what the thinnest stated wall copper absorbs at the board's
// frequency, dB.
func Absorbs(b *board.Board) (float64, bool) {
	if b.Info() == nil || !b.Info().Frequency.Given() {
		return 0, false
	}
	depth, ok := physics.SkinDepth(b.Info().Frequency.Value, physics.Rho20)
	if !ok {
		return 0, false
	}
	least := math.Inf(1)
	for _, p := range b.Platings() {
		if p.Copper.Given() {
			if a, ok := physics.Absorption(quantity.InMetres(p.Copper.Value), depth); ok {
				least = math.Min(least, a)
			}
		}
	}
	return least, !math.IsInf(least, 1)
}

// FirstMode is the first resonance of the cavity between the planes of a
// rectangular board, its edges counting as plated where at least half of each
// is; ok is false for other outlines, fewer than two planes, or no plated wall.
func FirstMode(b *board.Board) (physics.Mode, bool) {
	o := b.Outline()
	if o == nil || o.Kind != "rectangle" || !b.Plated() || planeLayers(b) < 2 {
		return physics.Mode{}, false
	}
	var walls [4]physics.Wall
	for i, e := range o.Edges {
		walls[i] = physics.Wall(board.Overlap(b.Finished(o), e.From, e.To) >= (e.To-e.From)/2)
	}
	er, _ := Permittivity(b)
	box := o.Path.Box()
	// Edges come south, east, north, west: a runs from west to east.
	return physics.LowestMode(quantity.InMetres(box.Max.X-box.Min.X), quantity.InMetres(box.Max.Y-box.Min.Y), er,
		[2]physics.Wall{walls[3], walls[1]}, [2]physics.Wall{walls[0], walls[2]})
}

// covers tells whether a plane is cut to no less than a box.
func covers(p *board.Plane, box geom.Box) bool {
	return p.Within == nil || p.Within.Contains(box.Min) && p.Within.Contains(box.Max)
}

// planeLayers counts the layers with a plane all over the board.
func planeLayers(b *board.Board) int {
	seen := map[string]bool{}
	for _, p := range b.Planes() {
		if !covers(p, b.Outline().Path.Box()) {
			continue // no cavity between parts of planes
		}
		name := p.Layer.Text
		if f, ok := b.FaceOf(name); ok {
			name = b.OuterLayer(f)
		}
		seen[name] = true
	}
	return len(seen)
}
