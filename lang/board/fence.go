package board

import (
	"math"
	"slices"

	"hemline/lang/geom"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Fence is a row of stitching vias.
type Fence struct {
	Item
	Along []Along
	Inset Value
	Pitch Value
	Hole  Value
	Land  Value // diameter of the vias' pads; not Given where the text does not say
	// Clearance is how far the vias keep from what they may not meet, see LeftOut;
	// not Given where the text does not say.
	Clearance Value
	Net       Name
	// Added tells that the vias are not in the artwork yet, so that the layers draw
	// their pads.
	Added bool
	Vias  []geom.Point
	// Even tells that its vias stand evenly all round a rim, a pitch apart at most.
	Even bool
	// LeftOut is how many vias of its rows do not stand since they would come nearer
	// than Clearance to what they may not meet.
	LeftOut int
	// Wide is the longest way from the centre of one via to the next where it is longer
	// than the pitch: where vias are left out, where the rows of two edges meet, and at the
	// arcs of a slot's rim, nm, and WideAt its middle; 0 for none.
	Wide   float64
	WideAt geom.Point

	// Bare lists the stretches that have no via: each is shorter than what a row keeps
	// from the ends of its edge.
	Bare []Along

	runs []run // its rows
}

// run is a fence's row along one edge: vias of the fence as it is stated, from the
// first to before the last.
type run struct {
	from, to int
	round    bool // from the last to the first too
	on       *Edge
	low, top geom.Point // its ends, as the profile's path runs
	// toLow and toTop tell that it goes as far as a row goes on its edge, each way.
	toLow, toTop bool
}

// Widest is the longest way from one of its vias to the next, nm.
func (f *Fence) Widest() float64 { return max(f.Pitch.Value, f.Wide) }

func (m *meaning) fence(r *syntax.Reading, base Item) *Fence {
	f := &Fence{Item: base, Along: m.along(r, "the fence"), Net: nameOf(r.Get("net"), 0)}
	f.Inset, f.Pitch, f.Hole = m.quantity(r.Get("inset"), 0, positive), m.quantity(r.Get("pitch"), 0, positive), m.quantity(r.Get("hole"), 0, positive)
	f.Land = m.quantity(r.Get("land"), 0, positive)
	f.Clearance = m.quantity(r.Get("clearance"), 0, notNegative)
	m.landHolds(f.Land, f.Hole)
	if added := r.Get("added"); added != nil {
		f.Added = true
		if !r.Stands("land") {
			m.report(RuleMissing, added.Place(), "expected land beside added: the diameter of the pads that are drawn")
		}
	}
	if len(f.Along) == 0 || !f.Inset.Given() || !f.Pitch.Given() || !f.Hole.Given() {
		return nil
	}
	drilled := places{}
	for _, a := range f.Along {
		var at []float64
		from, to := a.From, a.To
		row := run{from: len(f.Vias), on: a.Edge}
		if !a.Edge.Closed {
			// The row starts and ends where the next edges' rows do, so that they
			// meet in one via and none falls outside.
			low, high := a.Edge.rowEnds(f.Inset.Value)
			row.toLow, row.toTop = from <= low+Tolerance, to >= high-Tolerance
			from, to = math.Max(from, low), math.Min(to, high)
		}
		if to < from {
			f.Bare = append(f.Bare, a)
			continue
		}
		pitch := f.Pitch
		pitch.Value = a.Edge.step(pitch.Value, f.Inset.Value)
		if a.Edge.Closed && to-from >= a.Edge.Length-Tolerance {
			row.round = true
			step := even(a.Edge.Length, pitch.Value)
			f.Even = f.Even || pitch.Value-step > 1 // nm, as fine as a text is
			pitch.Value = step
		}
		if !m.row(a.Edge, from, to, pitch, "vias", &at) {
			return nil
		}
		if len(f.Vias)+len(at) > MaxItems {
			m.report(RuleTooMany, f.Pitch.At, "the fence has more than %d vias, the most that are read", MaxItems)
			return nil
		}
		for i, p := range at {
			via := a.Edge.Point(p).Add(a.Edge.Inward(p).Scale(f.Inset.Value))
			if i > 0 {
				f.measure(row.top, via)
			}
			if drilled.add(via) {
				f.Vias = append(f.Vias, via)
			}
			if i == 0 {
				row.low = via
			}
			row.top = via
		}
		if row.round && len(at) > 2 {
			f.measure(row.top, row.low)
		}
		if row.to = len(f.Vias); a.Edge.Reversed {
			row.low, row.top, row.toLow, row.toTop = row.top, row.low, row.toTop, row.toLow
		}
		f.runs = append(f.runs, row)
	}
	f.measureCorners()
	return f
}

// measureCorners finds the longest way from a row that goes as far as its edge lets
// it to that of the next edge.
func (f *Fence) measureCorners() {
	next, starts := map[*Edge]*Edge{}, map[*Edge][]run{}
	for _, r := range f.runs {
		if next[r.on] == nil {
			edges := r.on.Profile.InOrder()
			for i, e := range edges {
				next[e] = edges[(i+1)%len(edges)]
			}
		}
		if r.toLow {
			starts[r.on] = append(starts[r.on], r)
		}
	}
	for _, r := range f.runs {
		if e := next[r.on]; r.toTop && e != r.on {
			for _, s := range starts[e] {
				f.measure(r.top, s.low)
			}
		}
	}
}

// measure notes a way from via to via, if it is longer than the pitch and the longest so far.
func (f *Fence) measure(a, b geom.Point) {
	if d := a.Dist(b); d > f.Widest()+Tolerance {
		f.Wide, f.WideAt = d, a.Add(b).Scale(0.5)
	}
}

// rowEnds are the first and the last position on an edge at which a row stands that
// lies so far inside, nm: where the parallels of two edges meet, and no farther than
// the edge goes before a rounded corner. At an inside corner of the board it goes to the end.
func (e *Edge) rowEnds(inset float64) (low, high float64) {
	segs := e.Profile.Path.Segments()
	i, _ := e.Profile.Path.SegmentAt((e.From + e.To) / 2)
	n := len(segs)
	before, after := (i+n-1)%n, (i+1)%n
	// What a rounded corner takes of the edge, at either end.
	first, last := e.Base, e.Length-e.Base-(e.To-e.From)
	if e.Reversed {
		first, last = last, first
	}
	if first > Tolerance {
		before = (before + n - 1) % n
	}
	if last > Tolerance {
		after = (after + 1) % n
	}
	back := func(a, b geom.Segment) float64 {
		t, u := a.Tangent(a.Length()), b.Tangent(0)
		turn := math.Atan2(t.X*u.Y-t.Y*u.X, t.X*u.X+t.Y*u.Y)
		if e.Profile.Cutout {
			turn = -turn
		}
		return inset * math.Tan(math.Max(turn, 0)/2)
	}
	low, high = back(segs[before], segs[i]), back(segs[i], segs[after])
	if e.Reversed {
		low, high = high, low
	}
	return math.Max(low, e.Base), math.Min(e.Length-high, e.Base+e.To-e.From)
}

// step is how far apart on an edge the places are off which vias stand a pitch apart,
// so far inside, nm: on an arc their row is another one, and on an edge of lines
// and arcs, as a slot's rim is, they stand nearer or farther apart at its arcs. Where
// the row is too narrow for the pitch it has two vias on opposite sides.
func (e *Edge) step(pitch, inset float64) float64 {
	segs := e.Profile.Path.Segments()
	i, _ := e.Profile.Path.SegmentAt((e.From + e.To) / 2)
	g := segs[i]
	if !g.Arc || e.Closed && len(segs) > 1 && slices.ContainsFunc(segs, func(x geom.Segment) bool { return !x.Arc }) {
		return pitch
	}
	middle := (e.Length) / 2
	at := e.Point(middle)
	row := at.Add(e.Inward(middle).Scale(inset)).Dist(g.C)
	if inset >= g.Radius() && row < inset {
		return pitch // past the arc's centre
	}
	return g.Radius() * 2 * math.Asin(min(1, pitch/(2*row)))
}

// even is the largest pitch, at most the one given, that divides a rim.
func even(length, pitch float64) float64 { return length / math.Ceil(length/pitch-1e-9) }

// places is a set of points in which those within Tolerance are one, kept in
// cells of a micrometre.
type places map[geom.Point]geom.Point

// add puts a point in and tells whether it was not there yet.
func (s places) add(p geom.Point) bool {
	cell := geom.Point{X: math.Round(p.X / 1000), Y: math.Round(p.Y / 1000)}
	for _, dx := range [...]float64{0, -1, 1} {
		for _, dy := range [...]float64{0, -1, 1} {
			if q, ok := s[geom.Point{X: cell.X + dx, Y: cell.Y + dy}]; ok && p.Dist(q) <= Tolerance {
				return false
			}
		}
	}
	s[cell] = p
	return true
}

func (f *Fence) nets() []Name { return []Name{f.Net} }

func (f *Fence) count() (int, source.Place) { return len(f.Vias), f.Pitch.At }
