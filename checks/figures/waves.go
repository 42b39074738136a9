package figures

import (
	"math"
	"slices"
	"sort"

	"hemline/checks/physics"
	"hemline/lang/board"
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

// WallCurrent is what a plating's wall carries along the edge for a rise, A:
// its section is the board's height by the copper's thickness.
func WallCurrent(b *board.Board, p *board.Plating, rise float64) (float64, bool) {
	t, ok := b.Thickness()
	if !ok || !p.Copper.Given() {
		return 0, false
	}
	return physics.CurrentFor(quantity.InMetres(t.Value)*quantity.InMetres(p.Copper.Value), rise, true)
}
