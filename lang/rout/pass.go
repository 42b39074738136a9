package rout

import (
	"math"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Kind is when a pass is run.
type Kind int

const (
	First   Kind = iota // before plating: what is plated
	Final               // after plating: what stays bare
	Removal             // last: the tabs that the shop routs off
)

// Cut is a part of a profile that one bit cuts in one pass, or that none reaches.
type Cut struct {
	board.Stretch
	Bit float64 // diameter, nm
}

const (
	// crossing is the angle, in radians, at which a bit crosses an edge of copper at
	// least: at less it tears the foil along. Our own judgement, no source.
	crossing = math.Pi / 6
	// overlap, nm, is how far a finer bit starts before what a sturdier one has left
	// (common practice: 0.5 to 1 mm).
	overlap = 0.5 * mm
)

// Cuts are the parts of a stretch and the bit of each: the profile's, and finer
// ones where it does not reach. What even the finest does not reach is in left.
func (x *Bits) Cuts(s board.Stretch) (cuts []Cut, left []board.Stretch) {
	return x.cuts(s, x.Bit(s.Profile))
}

func (x *Bits) cuts(s board.Stretch, d float64) (cuts []Cut, left []board.Stretch) {
	cuts = []Cut{{s, d}}
	for _, v := range contourOf(s.Profile, d/2).standing(s.From, s.To, x.least) {
		part := board.Stretch{Profile: s.Profile, From: math.Max(s.From, v.From-overlap), To: math.Min(s.To, v.To+overlap)}
		f := x.finer(s, part, d)
		for _, r := range f.left {
			left = append(left, board.Stretch{Profile: s.Profile, From: math.Max(r.From, v.From), To: math.Min(r.To, v.To)})
		}
		cuts = append(cuts, Cut{part, f.bit})
	}
	return cuts, left
}

// finer is the largest bit under d that cuts all of a part of a stretch, and keeps off
// what the other pass cuts, else the finest and what it leaves.
func (x *Bits) finer(s, part board.Stretch, d float64) (f finer) {
	key := finerOf{s, part, d, x.leadless}
	if f, ok := x.finest[key]; ok {
		return f
	}
	defer func() { x.finest[key] = f }()
	stands := func(c float64) geom.Intervals { return contourOf(s.Profile, c/2).standing(part.From, part.To, x.least) }
	for _, c := range candidates {
		if c < d-board.Tolerance && c >= x.least-board.Tolerance && x.fits(s.Profile, c) && len(stands(c)) == 0 && x.keeps(s, Cut{part, c}) {
			return finer{c, nil}
		}
	}
	bit := math.Min(d, x.least)
	return finer{bit, stands(bit)}
}

// finer is a bit for what a sturdier one leaves, its diameter, nm, and what it leaves itself.
type finer struct {
	bit  float64
	left geom.Intervals
}

type finerOf struct {
	stretch, part board.Stretch
	bit           float64
	leadless      bool
}

// Left are the parts of a board's profiles that no bit reaches, but for the
// roundings of inside corners.
func (x *Bits) Left() (list []board.Stretch) {
	for _, p := range x.b.Profiles() {
		if d := x.Bit(p); !drawn(p) && d <= x.rooms[p.Index]+board.Tolerance || drawn(p) && contourOf(p, d/2).whole(x.least) {
			continue
		}
		for _, s := range append(x.Plated(p), x.Bare(p)...) {
			_, left := x.Cuts(s)
			list = append(list, left...)
		}
	}
	return list
}

// Pass is one run of a bit, from where it is let down to where it is lifted. The
// board lies to the left of its way, round outlines and in cutouts alike.
type Pass struct {
	Kind Kind
	Bit  float64       // diameter, nm
	Of   board.Stretch // what of the profile it cuts
	// Tab is the tab that it takes off, or that its frame belongs to; nil else.
	Tab *board.Tab
	// Frame tells that it widens the slot to a tab's length.
	Frame bool
	// In leads from where the bit is let down, off the finished edge, to where Path
	// starts, Out from where it ends to where the bit is lifted. Path is the way of
	// the bit's middle.
	In, Path, Out []geom.Segment
}

// Passes are a board's of one kind.
func (x *Bits) Passes(kind Kind) (list []Pass) {
	for _, p := range x.b.Profiles() {
		switch kind {
		case First:
			for _, s := range x.Plated(p) {
				list = append(list, x.run(kind, s)...)
			}
		case Final:
			for _, s := range x.Bare(p) {
				list = append(list, x.run(kind, s)...)
			}
		case Removal:
			for _, t := range x.tabs[p] {
				if t.Removal.How.Text == "rout" && (!t.Removal.By.Given() || t.Removal.By.Text == "shop") {
					list = append(list, x.removal(t)...)
				}
			}
		}
	}
	return list
}

// run are the passes that cut a stretch: along the profile, then along the frame
// where its tabs' lengths ask for a wider slot.
func (x *Bits) run(kind Kind, s board.Stretch) []Pass { return x.passes(kind, s, x.Bit(s.Profile)) }

func (x *Bits) passes(kind Kind, s board.Stretch, d float64) []Pass {
	return append(x.beside(kind, s, d), x.frames(kind, s, d)...)
}

// beside are the passes along the profile alone.
func (x *Bits) beside(kind Kind, s board.Stretch, d float64) (list []Pass) {
	cuts, _ := x.cuts(s, d)
	for _, c := range cuts {
		list = append(list, x.cut(kind, s, c)...)
	}
	return list
}

// cut are the passes along a part of a stretch.
func (x *Bits) cut(kind Kind, s board.Stretch, c Cut) []Pass {
	ends := x.ends(kind, s, c.Bit)
	from, to := c.From, c.To
	if from == s.From {
		from += ends.from
	}
	if to == s.To {
		to -= ends.to
	}
	return x.along(Pass{Kind: kind, Bit: c.Bit, Of: c.Stretch}, from, to, c.Bit/2)
}

// along completes a pass: the runs beside a part of the profile, at a distance, in
// the direction of cutting, with what leads to them and away.
func (x *Bits) along(pass Pass, from, to, off float64) (list []Pass) {
	p := pass.Of.Profile
	c := contourOf(p, off)
	if pass.Of.Round() && to-from >= p.Path.Perimeter()-board.Tolerance && len(c.pieces) > 0 && c.closes() {
		return []Pass{x.closed(pass, c)}
	}
	if to-from <= 1 {
		at := c.at((from+to)/2, false)
		if _, _, d := p.Path.Nearest(at); d < off-touching {
			return nil // it does not fit in; a finer one does
		}
		return append(list, x.led(pass, []geom.Segment{geom.Line(at, at)}, c, from, to))
	}
	for _, run := range c.between(from, to) {
		list = append(list, x.led(pass, direct(p, segments(run)), c, run[0].from, run[len(run)-1].to))
	}
	return list
}

// closes tells whether a contour is one closed way, without a break.
func (c *contour) closes() bool {
	n := len(c.pieces)
	for i, g := range c.pieces {
		if g.B.Dist(c.pieces[(i+1)%n].A) > joined {
			return false
		}
	}
	return true
}

// direct turns a way along a profile's path so that the board lies to its left.
func direct(p *board.Profile, way []geom.Segment) []geom.Segment {
	if !p.Cutout {
		return way
	}
	back := make([]geom.Segment, 0, len(way))
	for i := len(way) - 1; i >= 0; i-- {
		back = append(back, way[i].Reverse())
	}
	return back
}

// removal is the last pass over a tab's root, along the profile from slot to slot.
func (x *Bits) removal(t *board.Tab) []Pass {
	from, to := t.Range()
	p := t.Edge.Profile
	d := x.Bit(p)
	s := board.Stretch{Profile: p, From: from, To: to}
	pass := Pass{Kind: Removal, Bit: d, Of: s, Tab: t}
	before, after := x.margin(p, from, -1), x.margin(p, to, 1)
	return x.along(pass, from-before, to+after, d/2)
}

// margin is how far past a tab's side, along way, its removal starts: in the slot
// beside it, and clear of copper; into the tab where the wall is plated up to it, so
// that the bit crosses the copper of that flank.
func (x *Bits) margin(p *board.Profile, at, way float64) float64 {
	least, apart := x.bareTo(p, at, way), 2*FlankMargin(x.Bit(p))
	if least > board.Tolerance { // no farther than the final pass has gone
		return math.Max(-apart, math.Min(overlap, least-apart/2))
	}
	return -apart
}

// Passing is about how wide a bit reaches all of a part of a profile, nm, to a
// hundredth of a millimetre downward, and at most that many nm; not known of a
// profile of so many pieces that it would take seconds.
func Passing(s board.Stretch, most float64) (width float64, known bool) {
	const step, many = 0.01 * mm, 200
	if len(s.Profile.Path.Segments()) > many {
		return 0, false
	}
	low, high := 0.0, most
	for high-low > step/2 {
		if d := (low + high) / 2; len(trace(s.Profile, d/2).standing(s.From, s.To, d)) == 0 {
			low = d
		} else {
			high = d
		}
	}
	return step * math.Floor(low/step), true
}
