package figures

import (
	"math"

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

// WallCurrent is what a plating's wall carries along the edge for a rise, A:
// its section is the board's height by the copper's thickness.
func WallCurrent(b *board.Board, p *board.Plating, rise float64) (float64, bool) {
	t, ok := b.Thickness()
	if !ok || !p.Copper.Given() {
		return 0, false
	}
	return physics.CurrentFor(quantity.InMetres(t.Value)*quantity.InMetres(p.Copper.Value), rise, true)
}
