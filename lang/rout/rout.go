// Package rout works out how a board is cut from its panel: which stretches of
// its profiles the first pass cuts, before plating, and which the final one,
// and the bit of each profile. The bit runs beside the finished profile, off
// the board, from one end of a stretch to the other: a tab's root, on the
// profile, has its stated width, and the round ends of the slots beside it
// narrow it by the bit's diameter halfway along a slot as wide as the bit.
package rout

import (
	"math"

	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

const mm = quantity.NmPerMillimetre

// usual, nm, are outline bits in use, largest first (fabricators' pages,
// 0.8 to 2.54 mm).
var usual = []float64{2.4 * mm, 2 * mm, 1.6 * mm, 1.2 * mm, 1 * mm, 0.8 * mm}

// WaistShare is how much of a tab's width is left at least, halfway along the
// slots, by a bit that is used beside it. Our own judgement, no source.
const WaistShare = 0.4

// Bits are the bits that a board's profiles are cut by.
type Bits struct {
	of     map[*board.Profile]float64 // diameters, nm
	across map[*board.Tab][]Facing
	least  float64 // the shop's finest, nm
}

// BitsOf works out a board's bits for a shop whose smallest has this diameter, nm.
func BitsOf(b *board.Board, least float64) *Bits {
	rooms, tabs := map[*board.Profile]float64{}, map[*board.Profile][]*board.Tab{}
	for _, c := range b.Cutouts() {
		if c.Width.Given() { // the text states how wide it is at its narrowest
			rooms[c.Profile] = c.Width.Value
		}
	}
	for _, t := range b.Tabs() {
		tabs[t.Edge.Profile] = append(tabs[t.Edge.Profile], t)
	}
	x := &Bits{map[*board.Profile]float64{}, map[*board.Tab][]Facing{}, least}
	for _, t := range b.Tabs() {
		if list := across(t, math.Max(usual[0], least)); list != nil {
			x.across[t] = list
		}
	}
	for _, p := range b.Profiles() {
		room, stated := rooms[p]
		if !stated {
			room = math.Inf(1)
		}
		for _, g := range p.Path.Segments() {
			if g.Arc && p.Cutout != g.Clockwise { // an inside corner, seen by the bit
				room = min(room, 2*g.Radius())
			}
		}
		x.of[p] = x.largest(room, tabs[p])
	}
	return x
}

// largest is the largest bit that is used where there is room for one of a
// diameter: a usual one, else of whole tenths of a millimetre, else the finest.
// A tab that faces its own board and that the finest cuts off has no say.
func (x *Bits) largest(room float64, tabs []*board.Tab) float64 {
	fits := func(d float64) bool {
		if d > room+board.Tolerance || d < x.least-board.Tolerance {
			return false
		}
		for _, t := range tabs {
			if !spares(t, d) || t.Length.Given() && d > t.Length.Value+board.Tolerance || x.spoils(t, d) {
				return false
			}
		}
		return true
	}
	for _, d := range usual {
		if fits(d) {
			return d
		}
	}
	for tenths := 7; tenths > 0; tenths-- {
		if d := float64(tenths) * 0.1 * mm; fits(d) {
			return d
		}
	}
	return x.least
}

// Bit is the diameter of a profile's bit, nm: the largest usual one that passes
// its inside corners, fits a cutout's width, leaves each of its tabs a waist,
// fits between the board and the frame at its tabs' lengths and leaves frame
// for its tabs that stand across from their own board. Where none is thin
// enough it is the largest of whole tenths of a millimetre that is, if the shop
// has bits so thin, else the shop's thinnest.
func (x *Bits) Bit(p *board.Profile) float64 { return x.of[p] }

// Root is how wide a tab is on the profile, where the board begins, nm: as stated,
// since the bit passes beside the board as far as there. A row of holes along the
// profile leaves of it what the holes do not take.
func Root(t *board.Tab) float64 { return t.Width.Value }

// Waist is how wide a tab is at its narrowest between the round ends of the
// slots beside it, nm, where they are as wide as its profile's bit: W - D on a
// straight edge, less where the edge is hollow. 0 where the bit cuts it through.
func (x *Bits) Waist(t *board.Tab) float64 {
	return math.Max(0, waist(t, x.Bit(t.Edge.Profile)))
}

// waist is what is left between two bits of a diameter that stand off the
// profile at either end of a tab's root, nm; under 0 where they overlap.
func waist(t *board.Tab, d float64) float64 {
	off := func(at float64) geom.Point { return t.Edge.Point(at).Sub(t.Edge.Inward(at).Scale(d / 2)) }
	return off(t.From()).Dist(off(t.To())) - d
}

// Spares tells whether a tab keeps as much of its width as a bit should leave it.
func (x *Bits) Spares(t *board.Tab) bool { return spares(t, x.Bit(t.Edge.Profile)) }

func spares(t *board.Tab, d float64) bool {
	return waist(t, d) >= WaistShare*t.Width.Value-board.Tolerance
}

// Plated are the stretches of a profile that the first pass cuts, before
// plating, less its tabs' roots. The board's wall is plated there.
func Plated(b *board.Board, p *board.Profile) []board.Stretch {
	return untabbed(b, p, geom.Complement(bare(b, p), p.Path.Perimeter()))
}

// Bare are the stretches that the final pass cuts, after plating, less tabs' roots.
func Bare(b *board.Board, p *board.Profile) []board.Stretch { return untabbed(b, p, bare(b, p)) }

// bare is what of a profile is not plated.
func bare(b *board.Board, p *board.Profile) (list geom.Intervals) {
	for _, s := range b.Wall(p).Bare {
		list = append(list, ring(s.From, s.To, p.Path.Perimeter())...)
	}
	return list
}

func ring(from, to, round float64) geom.Intervals {
	switch {
	case to-from >= round-board.Tolerance:
		return geom.Intervals{{From: 0, To: round}}
	case to-from <= board.Tolerance:
		return nil
	}
	return geom.OnRing(from, to, round)
}

// untabbed is a part of a profile less the roots of its tabs.
func untabbed(b *board.Board, p *board.Profile, part geom.Intervals) (list []board.Stretch) {
	round := p.Path.Perimeter()
	var tabs geom.Intervals
	for _, t := range b.Tabs() {
		if t.Edge.Profile == p {
			from, to := t.Range()
			tabs = append(tabs, ring(from, to, round)...)
		}
	}
	for _, run := range geom.Subtract(part, tabs, board.Tolerance).Runs(round, board.Tolerance) {
		list = append(list, board.Stretch{Profile: p, From: run.From, To: run.To})
	}
	return list
}
