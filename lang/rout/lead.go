package rout

import (
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// clear, nm, is how much farther from the finished edge than its radius a bit is
// let down and lifted (common practice, no source).
const clear = 0.5 * mm

// slack, nm, is how much more of a tab's end at the frame, which is waste, what leads
// to a way may take.
const slack = 0.05 * mm

// led completes a pass that runs beside a part of the profile: the bit is let down
// aside of its way, off the edge, comes to its start, and leaves in the same way. A
// final pass that is short may do so over the slot that it opens into. Where there is
// no room for that the bit is let down and lifted on the way itself.
func (x *Bits) led(pass Pass, way []geom.Segment, c *contour, from, to float64) Pass {
	pass.Path = way
	start, end := way[0].A, way[len(way)-1].B
	forward := 1.0
	if pass.Of.Profile.Cutout {
		from, to, forward = to, from, -1
	}
	reach := math.Min(math.Abs(to-from)/2, pass.Bit)
	tries := []float64{reach}
	if pass.Kind != First {
		tries = append(tries, pass.Bit, -pass.Bit)
	}
	if x.parted(pass.Of.Profile) { // where the others come too near to what the other pass cuts
		tries = append(tries, reach/4, 0)
	}
	for _, by := range tries {
		if in := geom.Line(c.aside(from+forward*by), start); len(pass.In) == 0 && x.clears(pass, in, start, end) {
			pass.In = []geom.Segment{in}
		}
		if out := geom.Line(end, c.aside(to-forward*by)); len(pass.Out) == 0 && x.clears(pass, out, start, end) {
			pass.Out = []geom.Segment{out}
		}
	}
	return pass
}

// aside is a point beside the way of the bit's middle, farther off the board.
func (c *contour) aside(s float64) geom.Point {
	p := c.profile
	if round := p.Path.Perimeter(); s < 0 {
		s += round
	}
	return c.at(s, false).Add(p.Outward(s).Scale(clear))
}

// clears tells whether a bit that leads to its way or off it cuts nothing of the
// board, no more of the tabs than it does at the ends of its way, and comes no nearer to
// what the other pass cuts than there, or than it may.
func (x *Bits) clears(pass Pass, g geom.Segment, ends ...geom.Point) bool {
	p, r := pass.Of.Profile, pass.Bit/2
	if x.leadless || x.unled[p] || !x.keepsOff(pass, g, ends) {
		return false
	}
	long := g.Length()
	const steps = 48
	for i := range steps + 1 {
		q := g.At(long * float64(i) / steps)
		if _, _, d := p.Path.Nearest(q); d < r-touching || p.Path.Contains(q) != p.Cutout {
			return false
		}
	}
	return !slices.ContainsFunc(x.tabs[p], func(t *board.Tab) bool {
		if t == pass.Tab && pass.Kind == Removal {
			return false
		}
		zone := x.zone(t, math.Max(t.Length.Value, pass.Bit))
		if !zone.Box().Grow(r).Overlaps(g.Box()) {
			return false
		}
		for _, side := range zone.Segments() {
			near := r
			for _, end := range ends {
				_, _, d := side.Nearest(end)
				near = math.Min(near, d)
			}
			if d, _, _ := geom.Distance(side, g); d < near-slack {
				return true
			}
		}
		return zone.Contains(g.At(long / 2))
	})
}

// keepsOff tells whether a lead keeps off what the other pass cuts, in openings and along
// drawn outlines that are plated in part.
func (x *Bits) keepsOff(pass Pass, g geom.Segment, ends []geom.Point) bool {
	p, limit := pass.Of.Profile, pass.Bit/2+grazing
	if pass.Kind == Removal || !x.parted(p) {
		return true // its slot has been cut; round a plain outline there is room
	}
	visit := x.b.Wall(p).PlatedIn
	if pass.Kind == First {
		visit = x.b.Wall(p).BareIn
	}
	var beside []geom.Segment
	p.Near(g.Box(), limit, func(from, to float64) {
		visit(from, to, func(s board.Stretch) {
			for _, part := range geom.Intersect(ring(s.From, s.To, p.Path.Perimeter()), geom.Intervals{{From: from, To: to}}, board.Tolerance) {
				beside = append(beside, p.Path.Stretch(part.From, part.To)...)
			}
		})
	})
	if len(beside) == 0 {
		return true
	}
	off := func(q geom.Point) float64 {
		d := limit
		for _, s := range beside {
			_, _, to := s.Nearest(q)
			d = min(d, to)
		}
		return d
	}
	least := limit
	for _, end := range ends {
		if end == g.A || end == g.B {
			least = min(least, off(end))
		}
	}
	const steps = 48
	for i := range steps + 1 {
		if off(g.At(g.Length()*float64(i)/steps)) < least-touching {
			return false
		}
	}
	return true
}

// zone is a tab's, from the profile outward as far as its slot is wide, nm.
func (x *Bits) zone(t *board.Tab, wide float64) *geom.Loop {
	key := zoneOf{t, wide}
	if x.zones == nil {
		x.zones = map[zoneOf]*geom.Loop{}
	}
	if x.zones[key] == nil {
		x.zones[key] = t.Edge.Standing(t.Position, t.Width.Value, wide, 0)
	}
	return x.zones[key]
}

type zoneOf struct {
	tab  *board.Tab
	wide float64
}

// closed completes a pass all round a profile: it starts halfway along its longest
// line, comes to it and leaves it along a round, and closes with an overlap.
func (x *Bits) closed(pass Pass, c *contour) Pass {
	longest := 0
	for i, g := range c.pieces {
		if g.Length() > c.pieces[longest].Length() {
			longest = i
		}
	}
	first := c.pieces[longest]
	half := first.Length() / 2
	way := []geom.Segment{first.Sub(half, 2*half)}
	for i := 1; i < len(c.pieces); i++ {
		way = append(way, c.pieces[(longest+i)%len(c.pieces)].Segment)
	}
	way = append(way, first.Sub(0, math.Min(2*half, half+overlap)))
	pass.Path = slices.DeleteFunc(direct(pass.Of.Profile, way), func(g geom.Segment) bool { return g.Length() == 0 })
	if len(pass.Path) == 0 {
		pass.Path = way[:1]
		return pass
	}
	for _, radius := range []float64{math.Max(pass.Bit/2, clear), clear, clear / 2} {
		in, out := rounds(pass.Path, radius)
		if x.clears(pass, in, in.B) && x.clears(pass, out, out.A) {
			pass.In, pass.Out = []geom.Segment{in}, []geom.Segment{out}
			break
		}
	}
	return pass
}

// rounds are quarters of a circle that lead to a way from its right, and away.
func rounds(way []geom.Segment, radius float64) (in, out geom.Segment) {
	first, last := way[0], way[len(way)-1]
	t, u := first.Tangent(0), last.Tangent(last.Length())
	c, e := first.A.Sub(t.Left().Scale(radius)), last.B.Sub(u.Left().Scale(radius))
	return geom.ArcAround(c.Sub(t.Scale(radius)), first.A, c, true), geom.ArcAround(last.B, e.Add(u.Scale(radius)), e, true)
}

// frames are the passes that widen the slot to the lengths of the tabs beside a
// stretch: to the middle between two tabs that of each.
func (x *Bits) frames(kind Kind, s board.Stretch, d float64) (list []Pass) {
	p := s.Profile
	if !(d > 0) || !slices.ContainsFunc(x.tabs[p], func(t *board.Tab) bool { return t.Length.Value > d+board.Tolerance }) {
		return nil
	}
	e := x.ends(kind, s, d)
	for _, side := range x.between(s) {
		length := side.tab.Length.Value
		if length <= d+board.Tolerance {
			continue
		}
		// No strip is left loose between two of them.
		n := math.Ceil((length - d) / (0.75 * d))
		near := contourOf(p, d/2)
		for k := 1.0; k <= n; k++ {
			c := contourOf(p, d/2+(length-d)*k/n)
			from, to := math.Max(side.from+back(side.first, c, near), s.From+e.from), math.Min(side.to-back(side.last, c, near), s.To-e.to)
			if to-from <= slack {
				continue
			}
			for _, run := range c.between(from, to) {
				if lengthOf(run) <= slack {
					continue // where the way vanishes, at the middle of a hollow arc
				}
				list = append(list, x.frame(Pass{Kind: kind, Bit: d, Of: board.Stretch{Profile: p, From: from, To: to}, Tab: side.tab, Frame: true}, run, near))
			}
		}
	}
	return list
}

// frame completes a pass along the frame, which the bit comes to and leaves through
// the slot beside the board.
func (x *Bits) frame(pass Pass, run []piece, near *contour) Pass {
	p := pass.Of.Profile
	way := direct(p, segments(run))
	a, b := near.at(run[0].from, true), near.at(run[len(run)-1].to, false)
	if p.Cutout {
		a, b = b, a
	}
	pass.Path = way
	start, end := way[0].A, way[len(way)-1].B
	if in := geom.Line(a, start); x.clears(pass, in, start, end) {
		pass.In = []geom.Segment{in}
	}
	if out := geom.Line(end, b); x.clears(pass, out, start, end) {
		pass.Out = []geom.Segment{out}
	}
	return pass
}

// back is how much farther from the tab a pass along a contour stays than one beside
// the board, nm: none along a straight edge; in a hollow, where what stands square to
// the edge on either side of the tab converges, as much as leaves it the same waist.
func back(t *board.Tab, c, near *contour) float64 {
	if t == nil {
		return 0
	}
	from, to := t.Range()
	apart := func(c *contour, h float64) float64 { return c.at(from-h, false).Dist(c.at(to+h, true)) }
	need := apart(near, 0)
	if apart(c, 0) >= need-joined {
		return 0
	}
	low, high := 0.0, c.profile.Path.Perimeter()/2
	for range 40 {
		if h := (low + high) / 2; apart(c, h) < need {
			low = h
		} else {
			high = h
		}
	}
	return high
}

func lengthOf(run []piece) (long float64) {
	for _, g := range run {
		long += g.Length()
	}
	return long
}

func segments(run []piece) (way []geom.Segment) {
	for _, g := range run {
		way = append(way, g.Segment)
	}
	return way
}

// flank is a part of a stretch and the tab that is nearest along it; first and last
// stand at its ends, nil where none does.
type flank struct {
	tab, first, last *board.Tab
	from, to         float64
}

// between are the parts of a stretch that belong to the tabs before and after it.
func (x *Bits) between(s board.Stretch) []flank {
	p, round := s.Profile, s.Profile.Path.Perimeter()
	var before, after flank
	before.from, after.to = math.Inf(-1), math.Inf(1)
	for _, t := range x.tabs[p] {
		from, to := t.Range()
		for _, shift := range [...]float64{-round, 0, round} {
			if to+shift <= s.From+board.Tolerance && to+shift > before.from {
				before = flank{tab: t, first: t, from: to + shift}
			}
			if from+shift >= s.To-board.Tolerance && from+shift < after.to {
				after = flank{tab: t, last: t, to: from + shift}
			}
		}
	}
	if before.tab == nil || after.tab == nil {
		return nil
	}
	middle := (before.from + after.to) / 2
	if before.tab.Length.Value == after.tab.Length.Value {
		middle, before.last = after.to, after.tab
	}
	before.to, after.from = middle, middle
	return []flank{before, after}
}
