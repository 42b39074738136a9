package checks

import (
	"math"
	"slices"
	"sort"

	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/geom"
)

// Opening is a place where a wall is open.
type Opening struct {
	Stretch board.Stretch // what is open, after a connector's body closed its part
	Gap     *board.Gap    // the gap that makes it; nil where the plating just does not go on
	// Longest is its longest dimension, nm: along the edge, or the wall's
	// height where that is more and known.
	Longest float64
}

// Openings lists where the plated profiles are open, in order along each. A
// gap that is `closed` is open only beside its connector's body.
func Openings(b *board.Board) []Opening {
	height := 0.0
	if t, ok := b.Thickness(); ok {
		height = t.Value
	}
	byProfile := (&Pass{Board: b}).gapsOn
	var list []Opening
	for _, p := range b.Profiles() {
		wall := b.Wall(p)
		if len(wall.Plated) == 0 {
			continue
		}
		for _, s := range wall.Bare {
			gap, open := openPart(b, byProfile(p), s)
			for _, o := range open {
				list = append(list, Opening{o, gap, math.Max(o.Length(), height)})
			}
		}
	}
	return list
}

// openPart is what of a bare stretch stays open, and the first gap in it.
func openPart(b *board.Board, gaps []gapRange, s board.Stretch) (*board.Gap, []board.Stretch) {
	l := s.Profile.Path.Perimeter()
	open := geom.Intervals{{From: s.From, To: s.To}}
	var first *board.Gap
	for _, shift := range [...]float64{-l, 0, l} {
		// In order of their starts; one that starts before the stretch makes a
		// part of it only if the plating does not go on before it.
		i := max(sort.Search(len(gaps), func(i int) bool { return gaps[i].from+shift >= s.From })-1, 0)
		for ; i < len(gaps) && gaps[i].from+shift < s.To; i++ {
			g := gaps[i]
			from, to := math.Max(g.from+shift, s.From), math.Min(g.to+shift, s.To)
			if to-from <= board.Tolerance {
				continue
			}
			if first == nil {
				first = g.gap
			}
			if !g.gap.Closed {
				continue
			}
			if c := b.ConnectorNamed(g.gap.For.Text); c != nil && c.Edge == g.gap.Edge {
				a, z := c.Edge.Range(c.Position-c.Body.Value/2, c.Position+c.Body.Value/2)
				from, to = math.Max(from, a+shift), math.Min(to, z+shift)
			}
			if to-from > board.Tolerance {
				open = geom.Subtract(open, geom.Intervals{{From: from, To: to}}, board.Tolerance)
			}
		}
	}
	var list []board.Stretch
	for _, o := range open {
		if o.Length() > board.Tolerance {
			list = append(list, board.Stretch{Profile: s.Profile, From: o.From, To: o.To})
		}
	}
	return first, list
}

// assumedPermittivity is taken where the stack states none: typical of FR-4.
const assumedPermittivity = 4.3

// Permittivity is the greatest relative permittivity of the stack's
// dielectrics, which makes the shortest wavelength; stated is false where the
// text gives none and a typical value is taken.
func Permittivity(b *board.Board) (er float64, stated bool) {
	for _, l := range b.Stack.Layered() {
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
	if b.Info == nil || !b.Info.Frequency.Given() {
		return 0, false
	}
	er, _ := Permittivity(b)
	lambda, ok := physics.Wavelength(b.Info.Frequency.Value, er)
	return lambda * nm, ok
}

// Holds is the bound, dB, that each opening sets on what its wall holds back:
// by its own length, and by how many as long (within a hundredth) lie within
// half a wavelength of it on the same edge. Those on another edge face another
// way and are not counted.
func Holds(list []Opening, lambda float64) []float64 {
	type class struct {
		edge   *board.Edge
		length int // the logarithm of the longest dimension in hundredths
	}
	of := func(o Opening) (class, float64) {
		middle := (o.Stretch.From + o.Stretch.To) / 2
		return class{o.Stretch.Profile.EdgeAt(middle), int(math.Round(math.Log(o.Longest) * 100))}, middle
	}
	like := map[class][]float64{}
	for _, o := range list {
		c, middle := of(o)
		like[c] = append(like[c], middle)
	}
	for _, at := range like {
		slices.Sort(at)
	}
	out := make([]float64, len(list))
	for i, o := range list {
		c, middle := of(o)
		at := like[c]
		n := sort.SearchFloat64s(at, middle+lambda/2+board.Tolerance) - sort.SearchFloat64s(at, middle-lambda/2-board.Tolerance)
		out[i], _ = physics.SlotShielding(o.Longest/nm, lambda/nm, max(n, 1))
	}
	return out
}

// Shielding is the bound on what the walls hold back, dB: that of the opening
// that leaks most, or what the copper absorbs where that is less. worst is that
// opening's number, -1 where there is none; ok is false where nothing can be said.
func Shielding(b *board.Board) (dB float64, worst int, ok bool) {
	lambda, known := WavelengthIn(b)
	if !known || !b.Plated() {
		return 0, -1, false
	}
	dB, worst = math.Inf(1), -1
	list := Openings(b)
	for i, s := range Holds(list, lambda) {
		// An edge that is not plated is no part of the wall.
		if list[i].Gap != nil && s < dB {
			dB, worst = s, i
		}
	}
	if a, ok := Absorbs(b); ok && a < dB {
		dB, worst = a, -1
	}
	return dB, worst, !math.IsInf(dB, 1)
}

// Absorbs is what the thinnest stated wall copper absorbs at the board's
// frequency, dB.
func Absorbs(b *board.Board) (float64, bool) {
	if b.Info == nil || !b.Info.Frequency.Given() {
		return 0, false
	}
	depth, ok := physics.SkinDepth(b.Info.Frequency.Value, physics.Rho20)
	if !ok {
		return 0, false
	}
	least := math.Inf(1)
	for _, p := range b.Platings {
		if p.Copper.Given() {
			if a, ok := physics.Absorption(p.Copper.Value/nm, depth); ok {
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
	o := b.Outline
	if o == nil || o.Kind != "rectangle" || !b.Plated() || planeLayers(b) < 2 {
		return physics.Mode{}, false
	}
	var walls [4]physics.Wall
	for i, e := range o.Edges {
		walls[i] = physics.Wall(board.Overlap(b.Wall(o), e.From, e.To) >= (e.To-e.From)/2)
	}
	er, _ := Permittivity(b)
	box := o.Path.Box()
	// Edges come south, east, north, west: a runs from west to east.
	return physics.LowestMode((box.Max.X-box.Min.X)/nm, (box.Max.Y-box.Min.Y)/nm, er,
		[2]physics.Wall{walls[3], walls[1]}, [2]physics.Wall{walls[0], walls[2]})
}

func planeLayers(b *board.Board) int {
	seen := map[string]bool{}
	for _, p := range b.Planes {
		name := p.Layer.Text
		if f, ok := b.FaceOf(name); ok {
			name = b.OuterLayer(f)
		}
		seen[name] = true
	}
	return len(seen)
}

// WallCurrent is what a plating's wall carries along the edge for a rise, A:
// its section is the board's height by the copper's thickness.
func WallCurrent(b *board.Board, p *board.Plating, rise float64) (float64, bool) {
	t, ok := b.Thickness()
	if !ok || !p.Copper.Given() {
		return 0, false
	}
	return physics.CurrentFor(t.Value/nm*p.Copper.Value/nm, rise, true)
}

// Where names a stretch in the author's terms: "west from 1.00 mm to 3.00 mm".
func Where(s board.Stretch) string { return run(s) }
