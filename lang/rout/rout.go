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
	least float64
	room  map[*board.Profile]float64 // the diameter of the largest bit that it lets in, nm
}

// BitsOf works out a board's bits for a shop whose smallest has this diameter, nm.
func BitsOf(b *board.Board, least float64) *Bits {
	x := &Bits{least: least, room: map[*board.Profile]float64{}}
	for _, p := range b.Profiles() {
		room := math.Inf(1)
		for _, g := range p.Path.Segments() {
			if g.Arc && p.Cutout != g.Clockwise { // an inside corner, seen by the bit
				room = min(room, 2*g.Radius())
			}
		}
		x.room[p] = room
	}
	for _, c := range b.Cutouts() {
		if c.Width.Given() { // the text states how wide it is at its narrowest
			x.room[c.Profile] = min(x.room[c.Profile], c.Width.Value)
		}
	}
	for _, t := range b.Tabs() {
		p := t.Edge.Profile
		x.room[p] = min(x.room[p], widestBit(t))
	}
	return x
}

// widestBit is the largest that is used beside a tab, nm.
func widestBit(t *board.Tab) float64 { return (1 - WaistShare) * t.Width.Value }

// Bit is the diameter of a profile's bit, nm: the largest usual one that passes
// its inside corners, fits a cutout's width, and leaves each of its tabs a
// waist. Where none is thin enough it is the largest of whole tenths of a
// millimetre that is, if the shop has bits so thin, else the shop's thinnest.
func (x *Bits) Bit(p *board.Profile) float64 {
	room := x.room[p] + board.Tolerance
	for _, d := range usual {
		if d <= room && d >= x.least-board.Tolerance {
			return d
		}
	}
	thin := math.Floor(room/(0.1*mm)) * 0.1 * mm
	return max(x.least, min(thin, usual[len(usual)-1]))
}

// Waist is how wide a tab is halfway along the slots beside it, nm, where they
// are as wide as its profile's bit; 0 where the bit cuts it through.
func (x *Bits) Waist(t *board.Tab) float64 {
	return math.Max(0, t.Width.Value-x.Bit(t.Edge.Profile))
}

// Spares tells whether a tab keeps as much of its width as a bit should leave it.
func (x *Bits) Spares(t *board.Tab) bool {
	return x.Bit(t.Edge.Profile) <= widestBit(t)+board.Tolerance
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
			from, to := t.Edge.Range(t.From(), t.To())
			tabs = append(tabs, ring(from, to, round)...)
		}
	}
	for _, run := range geom.Subtract(part, tabs, board.Tolerance).Runs(round, board.Tolerance) {
		list = append(list, board.Stretch{Profile: p, From: run.From, To: run.To})
	}
	return list
}
