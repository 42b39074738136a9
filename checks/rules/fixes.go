package rules

import (
	"math"
	"slices"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// set is the edit that writes a value, which its title says: "widen the gap: 2 mm".
func set(p *checks.Pass, title string, at source.Place, q quantity.Quantity, unit *quantity.Unit) *finding.Fix {
	text := written(q, unit)
	return p.Edit(title+": "+text, at, text)
}

// toLeast is that of a value which keeps to a limit; its title says whose too, where it is just that.
func toLeast(p *checks.Pass, title string, at source.Place, need checks.Limit, unit *quantity.Unit) *finding.Fix {
	up := upTo(need.Quantity, unit)
	return p.Edit(title+": "+sayLeast(need, up, unit), at, written(up, unit))
}

// sayLeast says a value that is written for a limit, and whose that is.
func sayLeast(need checks.Limit, up quantity.Quantity, unit *quantity.Unit) string {
	text := written(up, unit)
	if up.Value == need.Value {
		text += ", " + need.Least()
	}
	return text
}

// upTo is a length as it is put for at least another in a text, in its author's unit.
func upTo(q quantity.Quantity, unit *quantity.Unit) quantity.Quantity {
	if unit == nil || unit.Dim != q.Dim {
		unit = quantity.Millimetre
	}
	return q.Readily(unit, 4)
}

// widen is the edit that makes a gap so wide, nm, or as wide as it needs to be
// for what it is there for; nil where the gap is given by its ends, and where
// that would take it past its edge or its connector's body, leave too little
// plated beside it, lay the edge bare beside copper or open the wall too far for
// the board's frequency.
func widen(p *checks.Pass, g *board.Gap, width float64) *finding.Fix {
	width = math.Ceil(math.Max(width, gapNeeds(p, g)))
	stated, text := g.Width, width
	if g.Around > 0 && g.Margin.Given() {
		stated, text = g.Margin, math.Ceil((width-g.Around)/2)
	}
	text = upTo(quantity.Nanometres(text), stated.Unit).Value
	if width = text; stated == g.Margin {
		width = g.Around + 2*text
	}
	now := g.To - g.From
	if !stated.Given() || stated.At.Anchor != g.Whole.Anchor || width <= now {
		return nil
	}
	middle := (g.From + g.To) / 2
	from, to := middle-width/2, middle+width/2
	if !g.Edge.Closed && (from < 0 || to > g.Edge.Length) {
		return nil
	}
	if c := g.ForConnector(p.Board); c != nil {
		if a, b := c.BodyAt(g); below(from, a) || above(to, b) {
			return nil
		}
	}
	if !spansKept(p, g, (width-now)/2) || !bareFits(p, g.Edge, from, g.From) || !bareFits(p, g.Edge, g.To, to) || !g.Bridged && leaksAt(p, width) {
		return nil
	}
	return set(p, "widen the gap", stated.At, quantity.Nanometres(text), stated.Unit)
}

// narrow is the edit that makes the longest gap of those that leak together just so
// narrow that the wall shields what the board asks for at worst; nil where that gap is
// not stated by its width alone, and where it needs to be wider for what it is there for.
func narrow(p *checks.Pass) *finding.Fix {
	s, ok := figures.ShieldOf(p.Board, p.Limits.Tolerances(p.Board))
	if !ok || len(s.Worst.Of) == 0 {
		return nil
	}
	i := s.LongestOf(s.Worst, true)
	g := s.Openings[i].Gap
	if g == nil || g.Opened() || g.Bridged || !g.Width.Given() || g.Width.At.Anchor != g.Whole.Anchor {
		return nil
	}
	want := p.Board.Info().Shielding.Value
	const step = 10_000 // a hundredth of a millimetre
	width := math.Floor((g.To-g.From-(s.Worst.Sum-figures.AllowedSum(s.Lambda, want)))/step) * step
	if l, ok := s.Narrowed(i, g.To-g.From-width); !ok || l.DB < want || width < gapNeeds(p, g) {
		return nil
	}
	text := written(quantity.Nanometres(width), g.Width.Unit)
	return p.Edit("narrow the gap: "+text, g.Width.At, text)
}

// gapNeeds is the least width of a gap: the bit's, and that of the tabs and
// pins in it with what keeps plating off them.
func gapNeeds(p *checks.Pass, g *board.Gap) float64 {
	middle := (g.From + g.To) / 2
	need := p.Limits.Minimum("gap_width").Value
	room := func(position, width, beside float64) {
		need = math.Max(need, 2*(math.Abs(position-middle)+width/2+beside))
	}
	for _, t := range p.Board.Tabs() {
		if t.Edge == g.Edge && t.From() < g.To && g.From < t.To() && !t.Premetallised {
			room(t.Position, t.Width.Value, along(g.Edge, t.Position, p.Limits.Minimum("tab_gap").Value))
		}
	}
	if c := g.ForConnector(p.Board); c != nil && c.Edge == g.Edge {
		from, to := c.BodyAt(g)
		for _, pin := range c.Pins {
			room((from+to)/2, pin.Width.Value, max(p.Limits.Minimum("launch_clearance").Value, c.Clearance.Value, maskBeside(p, g, pin.Face)))
		}
	}
	return need
}

// maskBeside is how far plating keeps off a pin on a face so that mask is left
// between the opening over the plating and the pin's own; 0 without a relief.
func maskBeside(p *checks.Pass, g *board.Gap, f board.Face) float64 {
	far := 0.0
	for _, x := range p.Board.Reliefs() {
		if x.Lies(g.Of.Text) && slices.Contains(x.Faces, f) {
			far = max(far, x.Beyond(p.Limits.MaskMargin())+p.Limits.Minimum("mask_web").Value+p.Limits.Minimum("mask_margin").Value)
		}
	}
	return far
}

// along is how long a part of an edge is whose ends are so far from each other:
// a little more on an arc.
func along(e *board.Edge, position, apart float64) float64 {
	i, _ := e.Profile.Path.SegmentAt(e.Along(position))
	g := e.Profile.Path.Segments()[i]
	if !g.Arc || apart >= 2*g.Radius() {
		return apart
	}
	return 2 * g.Radius() * math.Asin(apart/2/g.Radius())
}

// spansKept tells whether the plated stretches beside a gap are still long
// enough when it takes so much more of each.
func spansKept(p *checks.Pass, g *board.Gap, more float64) bool {
	kept := true
	from, to := g.Edge.Range(g.From, g.To)
	p.Board.Wall(g.Edge.Profile).PlatedIn(from, to, func(s board.Stretch) {
		lost := more
		if s.Profile.Path.Perimeter()-s.Length() <= to-from+board.Tolerance {
			lost *= 2 // it runs round to the gap's other side
		}
		kept = kept && !below(s.Length()-lost, p.Limits.Minimum("span_length").Value)
	})
	return kept
}

// bareFits tells whether a part of an edge may be bare: no feature lies nearer
// to it than copper keeps off a bare edge.
func bareFits(p *checks.Pass, e *board.Edge, from, to float64) bool {
	if len(p.Board.Features())*len(p.Board.Gaps()) > fixEffort {
		return false
	}
	bare := board.Stretch{Profile: e.Profile}
	bare.From, bare.To = e.Range(from, to)
	for _, x := range p.Board.Features() {
		need := edgeClearance(p, x.Layer.Text).Value
		near := false
		e.Profile.Near(x.Shape.Box(), need, func(float64, float64) { near = true })
		if near && below(bare.DistanceTo(x.Shape), need) && !onOwnPin(p.Board, x) {
			return false
		}
	}
	return true
}

// leaksAt tells whether an opening so long is more than the board's frequency
// or its shielding allows, as far as the board states them.
func leaksAt(p *checks.Pass, width float64) bool {
	lambda, ok := figures.WavelengthIn(p.Board)
	return ok && (p.Board.Info().Shielding.Given() || above(width, p.Limits.Maximum("opening_share").Value*lambda))
}

// fixEffort bounds how many features are looked at, for all fixes of a kind
// together, to see whether a fix would meet one.
const fixEffort = 100_000

// wrapFits tells whether a plating's wrap may become so wide: no relief becomes
// too short for it and no other copper too near that is not so already.
func wrapFits(p *checks.Pass, pl *board.Plating, f board.Face, width float64) bool {
	clear, outer := p.Limits.Minimum("wrap_clearance").Value, p.Board.OuterLayer(f)
	if len(p.Board.Features())*len(p.Board.Platings()) > fixEffort {
		return false
	}
	more := width - pl.Wrap[f].Value
	newlyBelow := func(left, need float64) bool { return below(left, need) && !below(left+more, need) }
	for _, x := range p.Board.Reliefs() {
		if !x.Lies(pl.Name.Text) || !slices.Contains(x.Faces, f) {
			continue
		}
		if x.Reach.Given() && newlyBelow(x.Reach.Value-width, p.Limits.MaskMargin()) {
			return false
		}
		if now := p.Board.ReachOver(x, pl.Name.Text, f, p.Limits.MaskMargin()); !x.Reach.Given() && !reliefFits(p, x, now, now+more) {
			return false // the opening grows with the wrap
		}
	}
	for _, plane := range p.Board.Planes() {
		if p.Board.SameLayer(plane.Layer.Text, outer) && otherNet(plane.Net, pl) && newlyBelow(plane.Pullback.Value-width, clear) {
			return false
		}
	}
	near := func(shape *geom.Loop, width, clear float64) bool {
		n := nearWall(p, shape, width+clear, width, false,
			func(s board.Stretch) bool { return s.Plating == pl },
			func(s board.Stretch) float64 { return stripDistance(shape, s, width) })
		return n.ok && below(n.d, clear)
	}
	meets := func(shape *geom.Loop, clear float64) bool {
		return near(shape, width, clear) && !near(shape, width-more, clear)
	}
	for _, x := range p.Board.Features() {
		if p.Board.SameLayer(x.Layer.Text, outer) && otherNet(x.Net, pl) && meets(x.Shape, clear) {
			return false
		}
	}
	m := survey(p)
	drilled := m.Pieces(func(x *copper.Piece) bool {
		return slices.Contains(of(copper.Via, copper.Pad, copper.PlatedHole, copper.Ring, copper.Barrel, copper.Land), x.Kind) && x.Layers&m.Layer(outer) != 0 && otherNet(x.Net(), pl)
	})
	if len(drilled)*len(p.Board.Platings()) > fixEffort {
		return false
	}
	for _, x := range drilled {
		if slices.ContainsFunc(x.Shape(), func(l *geom.Loop) bool { return meets(l, clear) }) {
			return false
		}
	}
	for _, c := range p.Board.Connectors() {
		for _, pin := range c.Pins {
			if pin.Face == f && otherNet(c.Net, pl) && meets(c.Pad(pin), math.Max(p.Limits.Minimum("launch_clearance").Value, c.Clearance.Value)) {
				return false
			}
		}
	}
	return true
}

// reliefFits tells whether a relief may reach so far, which now reaches less: the
// mask left beside it stays as wide as it must, or is too narrow already.
func reliefFits(p *checks.Pass, x *board.Relief, reaches, reach float64) bool {
	for _, plane := range p.Board.Planes() {
		f, outer := p.Board.FaceOf(plane.Layer.Text)
		if outer && slices.Contains(x.Faces, f) && above(reach, plane.Pullback.Value) && !above(reaches, plane.Pullback.Value) {
			return false // it would lay the plane bare
		}
	}
	if len(p.Board.Features())*len(p.Board.Reliefs()) > fixEffort {
		return false
	}
	need, margin := p.Limits.Minimum("mask_web"), p.Limits.Minimum("mask_margin")
	for _, over := range x.Over {
		pl := p.Board.PlatingNamed(over.Text)
		if pl == nil {
			continue
		}
		for _, f := range x.Faces {
			for _, ft := range p.Board.Features() {
				if !p.Board.SameLayer(ft.Layer.Text, p.Board.OuterLayer(f)) {
					continue
				}
				_, now := webAt(p, ft, pl, reaches, need, margin)
				if _, then := webAt(p, ft, pl, reach, need, margin); then && !now {
					return false
				}
			}
		}
		if laysLandBare(p, pl, reaches, reach+margin.Value+need.Value) {
			return false
		}
	}
	return true
}

// laysLandBare tells whether a hole's land or rim lies so near to a plated edge, and not
// nearer than a relief comes already.
func laysLandBare(p *checks.Pass, pl *board.Plating, reaches, reach float64) bool {
	for _, h := range p.Board.Holes() {
		shape := h.LandPath()
		if shape == nil {
			shape = h.Path()
		}
		for s := range p.Board.FinishedBy(pl) {
			if d := s.DistanceTo(shape); d < reach-board.Tolerance && d >= reaches-board.Tolerance {
				return true
			}
		}
	}
	return false
}

// gapRound is the gap that a tab stands in, with all of its width.
func gapRound(p *checks.Pass, t *board.Tab) *board.Gap {
	for _, g := range p.Board.Gaps() {
		if g.Edge == t.Edge && g.From <= t.From()+board.Tolerance && t.To() <= g.To+board.Tolerance {
			return g
		}
	}
	return nil
}

// intoGap is the edit that moves a tab to the middle of the gap that it misses:
// one that it overlaps, wide enough for it, and the only one.
func intoGap(p *checks.Pass, t *board.Tab) *finding.Fix {
	room := t.Width.Value + 2*p.Limits.Minimum("tab_gap").Value
	var gap *board.Gap
	for _, g := range p.Board.Gaps() {
		if g.Edge != t.Edge || g.For.Given() && g.ForTab(p.Board) != t || g.From >= t.To() || t.From() >= g.To || below(g.To-g.From, room) {
			continue
		}
		if gap != nil {
			return nil
		}
		gap = g
	}
	if gap == nil {
		return nil
	}
	middle := quantity.Nanometres((gap.From + gap.To) / 2)
	half := room / 2
	if from, to := gap.Edge.Range(middle.Value-half, middle.Value+half); board.Overlap(p.Board.Wall(gap.Edge.Profile), from, to) > board.Tolerance {
		return nil // another plating runs on through it
	}
	if !tabFits(p, t, middle.Value) || !balanced(p, t, middle.Value) {
		return nil
	}
	at := "at "
	if t.Row.Given() {
		at = "" // of a row the place is that of one position
	}
	place := written(middle, quantity.Millimetre)
	return p.Edit("move the tab into gap "+syntax.Quote(gap.Name.Text)+": at "+place, t.PositionAt, at+place)
}

// tabFits tells whether a tab may stand at a position of its edge: not too near
// to the edge's end or a connector, nor where another stands, nor too far from
// its neighbours.
func tabFits(p *checks.Pass, t *board.Tab, position float64) bool {
	moved := *t
	moved.Position = position
	if !t.Edge.Closed && (onArc(&moved) || below(math.Min(moved.From(), t.Edge.Length-moved.To()), p.Limits.Minimum("tab_corner").Value)) {
		return false
	}
	from, to := moved.Range()
	own := geom.Interval{From: from, To: to}
	perimeter := t.Edge.Profile.Path.Perimeter()
	for _, c := range p.Board.Connectors() {
		a, b := c.Edge.Range(c.Span())
		if c.Edge.Profile == t.Edge.Profile && below(geom.Apart(own, geom.Interval{From: a, To: b}, perimeter), p.Limits.Minimum("tab_connector").Value) {
			return false
		}
	}
	ahead, behind := perimeter, perimeter
	at := t.Edge.Along(position)
	for _, x := range p.Board.Tabs() {
		if x != t && x.Edge.Profile == t.Edge.Profile {
			if a, b := x.Range(); geom.Apart(own, geom.Interval{From: a, To: b}, perimeter) <= board.Tolerance {
				return false
			}
			d := math.Mod(x.Edge.Along(x.Position)-at+perimeter, perimeter)
			ahead, behind = math.Min(ahead, d), math.Min(behind, perimeter-d)
		}
	}
	return !above(math.Max(ahead, behind), p.Limits.Maximum("tab_spacing").Value)
}

// balanced tells whether the tabs hold the board on more than one side when one
// of them stands at another position, or do not do so now either.
func balanced(p *checks.Pass, t *board.Tab, position float64) bool {
	region, ok := p.Board.Region()
	if !ok || t.Edge.Profile != p.Board.Outline() {
		return true
	}
	holds := func(points []geom.Point) bool {
		return geom.StrictlyInside(geom.Hull(points), region.Centroid(), board.Tolerance)
	}
	tabs := figures.OutlineTabs(p.Board)
	now, then := make([]geom.Point, len(tabs)), make([]geom.Point, len(tabs))
	for i, x := range tabs {
		now[i] = x.Edge.Point(x.Position)
		if then[i] = now[i]; x == t {
			then[i] = t.Edge.Point(position)
		}
	}
	return holds(then) || !holds(now)
}
