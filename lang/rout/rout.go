// Package rout works out how a board is cut from its panel, and what the bits
// leave: which stretches of its profiles the first pass cuts, before plating,
// and which the final one; the bit of each; the path of the bit's middle; the
// edge that no bit reaches; and how wide a tab comes out.
//
// A bit runs beside the finished profile, off the board, from one end of a
// stretch to the other: a tab's root, on the profile, has its stated width, and
// the round ends of the slots beside it narrow it by the bit's diameter halfway
// along a slot as wide as the bit.
package rout

import (
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

const mm = quantity.NmPerMillimetre

// usual, nm, are outline bits in use, largest first (fabricators' pages,
// 0.8 to 2.54 mm).
var usual = []float64{2.4 * mm, 2 * mm, 1.6 * mm, 1.2 * mm, 1 * mm, 0.8 * mm}

const (
	// WaistShare is how much of a tab's width is left at least, halfway along the
	// slots, by a bit that is used beside it. Our own judgement, no source.
	WaistShare = 0.4
	// sturdy, nm, is the finest bit that cuts a whole profile where a larger one
	// would pass along most of it: thinner ones break (a fabricator's page: 0.8 mm
	// breaks easily and is not for outlines).
	sturdy = 1 * mm
	// grazing, nm, is how near a pass may come to edge that the other one cuts: a fine
	// tolerance of routs (fabricators' tables, 0.076 to 0.127 mm). Our own judgement.
	grazing = 0.1 * mm
	// astray, nm, is how far from the place that the text names the copper may end: about a routed outline's usual tolerance
	// (fabricators' tables, 0.1 to 0.2 mm). Our own judgement.
	astray = 0.15 * mm
)

// Bits are the bits that a board's profiles are cut by.
type Bits struct {
	b        *board.Board
	of       map[*board.Profile]float64 // diameters, nm
	slots    map[slotsKey]*slots
	leadless bool                    // leads are not asked for just now
	unled    map[*board.Profile]bool // those of which the passes have no leads, so that a tab keeps its frame
	tabs     map[*board.Profile][]*board.Tab
	rooms    []float64             // of each profile: the least of its hollows' diameters and its stated width, nm, +Inf where nothing is narrow
	least    float64               // the shop's finest, nm
	zones    map[zoneOf]*geom.Loop // of tabs, as far as they were asked for
	trials   map[trialOf][]Stray
	places   map[trialOf]places
	finest   map[finerOf]finer
}

// BitsOf works out a board's bits for a shop whose smallest has this diameter, nm.
func BitsOf(b *board.Board, least float64) *Bits {
	x := &Bits{
		b: b, least: least, rooms: make([]float64, len(b.Profiles())),
		of: map[*board.Profile]float64{}, slots: map[slotsKey]*slots{}, unled: map[*board.Profile]bool{}, tabs: map[*board.Profile][]*board.Tab{},
		trials: map[trialOf][]Stray{}, places: map[trialOf]places{}, finest: map[finerOf]finer{},
	}
	for _, t := range b.Tabs() {
		x.tabs[t.Edge.Profile] = append(x.tabs[t.Edge.Profile], t)
	}
	for i := range x.rooms {
		x.rooms[i] = math.Inf(1)
	}
	for _, c := range b.Cutouts() {
		if c.Width.Given() { // the text states how wide it is at its narrowest
			x.rooms[c.Profile.Index] = c.Width.Value
		}
	}
	for _, p := range b.Profiles() {
		room := &x.rooms[p.Index]
		for _, g := range p.Path.Segments() {
			if p.Hollow(g) {
				*room = min(*room, 2*g.Radius())
			}
		}
		x.of[p] = x.choose(p, *room)
		x.crowd(p)
	}
	return x
}

// Bit is the diameter of the bit that cuts a profile, nm: the largest usual one
// that passes its inside corners, throats and necks, fits a cutout's width, leaves
// each of its tabs its root and a waist, fits between the board and the frame at
// its tabs' lengths and leaves its tabs as much frame to hang on as their waists; where
// none does that, the one that leaves most. Where none is thin enough it is the largest of
// whole tenths of a millimetre that is, if the shop has bits so thin, else the shop's thinnest. Where a
// profile is plated in part its passes are tried: see trial.
// An opening that is plated all round and narrower than that has its own width: as of
// a plated drill the diameter is the finished one. Where only a throat asks for one
// thinner than a millimetre, a sturdier one cuts what it can reach, and finer ones the
// rest: see Cuts.
func (x *Bits) Bit(p *board.Profile) float64 { return x.of[p] }

// Finished tells whether an opening is plated all round and narrower than the shop's bits,
// so that the bit named for it is its finished width.
func (x *Bits) Finished(p *board.Profile) bool { return x.of[p] < x.least-board.Tolerance }

// choose is a profile's bit, where its narrowest arcs and its stated width leave
// room for one of a diameter.
func (x *Bits) choose(p *board.Profile, room float64) float64 {
	passes := func(d float64) bool { return d <= room+board.Tolerance && x.free(p, d) }
	suits := func(d float64) bool { return d >= x.least-board.Tolerance && x.suits(p, d) }
	clean := func(d float64) bool { return !x.parted(p) || len(x.trial(p, d)) == 0 }
	d := x.least
	for _, c := range candidates {
		if suits(c) && passes(c) && clean(c) {
			d = c
			break
		}
	}
	if d > room+board.Tolerance && x.b.Wall(p).Whole() && x.free(p, room) {
		return room // a plated slot's finished width is less than its bit's by the plating
	}
	if d >= sturdy-board.Tolerance || !drawn(p) {
		return d
	}
	for _, c := range usual {
		if c < sturdy-board.Tolerance {
			break
		}
		if suits(c) && c > d && x.mostly(p, c) && clean(c) {
			return c
		}
	}
	return d
}

// candidates are bits, largest first: those in use, and thinner ones by tenths of a
// millimetre.
var candidates = func() []float64 {
	list := slices.Clone(usual)
	for tenths := 7; tenths > 0; tenths-- {
		list = append(list, float64(tenths)*0.1*mm)
	}
	return list
}()

// drawn tells whether a profile is a drawn path, along which a bit has to be followed:
// of a rectangle, a circle or a slot width and corners tell which bits pass.
func drawn(p *board.Profile) bool { return p.Kind == "start" }

// free tells whether a bit passes along all of a profile that is cut.
func (x *Bits) free(p *board.Profile, d float64) bool {
	return !drawn(p) || len(x.left(p, d)) == 0
}

// mostly tells whether a bit passes along half of a profile at least.
func (x *Bits) mostly(p *board.Profile, d float64) bool {
	return x.left(p, d).Total() <= p.Path.Perimeter()/2
}

// left is what of a profile that is cut a bit does not reach.
func (x *Bits) left(p *board.Profile, d float64) geom.Intervals {
	round := p.Path.Perimeter()
	var list geom.Intervals
	for _, v := range contourOf(p, d/2).standing(0, round, x.least) {
		list = append(list, geom.OnRing(v.From, v.To, round)...)
	}
	return geom.Subtract(list, x.roots(p), board.Tolerance)
}

// parted tells whether a profile is plated in part, and may be hollow.
func (x *Bits) parted(p *board.Profile) bool {
	if !p.Cutout && !drawn(p) {
		return false
	}
	wall := x.b.Wall(p)
	return len(wall.Plated) > 0 && len(wall.Bare) > 0
}

// within tells whether a place of a ring lies between two others.
func within(at, from, to, round float64) bool {
	for _, shift := range [...]float64{-round, 0, round} {
		if at+shift > from && at+shift < to {
			return true
		}
	}
	return false
}

// suits tells whether a bit may be used on a profile, beside its tabs. Where every bit leaves a tab too little to hang on, it is the one that leaves most.
func (x *Bits) suits(p *board.Profile, d float64) bool {
	return x.fits(p, d) && !slices.ContainsFunc(x.tabs[p], func(t *board.Tab) bool { return x.spoils(t, d) })
}

// fits tells whether a bit leaves each of a profile's tabs its root, a waist and no copper
// on its flanks, and passes along the frame at its length.
func (x *Bits) fits(p *board.Profile, d float64) bool {
	tabs := x.tabs[p]
	for _, t := range tabs {
		if !allows(t, d) || x.strips(t, d) {
			return false
		}
	}
	if len(tabs) == 0 || p.Kind == "circle" || p.Kind == "slot" || p.Kind == "rectangle" && !p.Cutout {
		return true // there is no inside corner
	}
	c := contourOf(p, d/2)
	return len(c.missed) == 0 || !slices.ContainsFunc(tabs, func(t *board.Tab) bool { return c.robs(t) })
}

// Plated are the stretches of a profile that the first pass cuts, before
// plating, less its tabs' roots. The board's wall is plated there.
func (x *Bits) Plated(p *board.Profile) []board.Stretch {
	return x.untabbed(p, geom.Complement(bare(x.b, p), p.Path.Perimeter()))
}

// Bare are the stretches that the final pass cuts, after plating, less tabs' roots.
func (x *Bits) Bare(p *board.Profile) []board.Stretch { return x.untabbed(p, bare(x.b, p)) }

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

// roots are the parts of a profile that its tabs stand on.
func (x *Bits) roots(p *board.Profile) (list geom.Intervals) {
	for _, t := range x.tabs[p] {
		from, to := t.Range()
		list = append(list, ring(from, to, p.Path.Perimeter())...)
	}
	return list
}

// untabbed is a part of a profile less the roots of its tabs.
func (x *Bits) untabbed(p *board.Profile, part geom.Intervals) (list []board.Stretch) {
	for _, run := range geom.Subtract(part, x.roots(p), board.Tolerance).Runs(p.Path.Perimeter(), board.Tolerance) {
		list = append(list, board.Stretch{Profile: p, From: run.From, To: run.To})
	}
	return list
}
