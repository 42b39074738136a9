package board

import (
	"math"

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
	// Wide is the longest way over a place where vias are left out, from the centre of
	// one that stands to the next, nm, and WideAt its middle; 0 where none are, or only at a row's ends.
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
		if !a.Edge.Closed {
			// The row starts and ends as far from the edge's ends as it lies
			// inside, so that the rows of two edges meet in one via and none
			// falls outside.
			from, to = math.Max(from, f.Inset.Value), math.Min(to, a.Edge.Length-f.Inset.Value)
		}
		if to < from {
			f.Bare = append(f.Bare, a)
			continue
		}
		pitch, first, round := f.Pitch, len(f.Vias), false
		if a.Edge.Closed && to-from >= a.Edge.Length-Tolerance {
			round = true
			pitch.Value = even(a.Edge.Length, pitch.Value)
			f.Even = f.Even || f.Pitch.Value-pitch.Value > Tolerance
		}
		if !m.row(a.Edge, from, to, pitch, "vias", &at) {
			return nil
		}
		if len(f.Vias)+len(at) > MaxItems {
			m.report(RuleTooMany, f.Pitch.At, "the fence has more than %d vias, the most that are read", MaxItems)
			return nil
		}
		for _, p := range at {
			if via := a.Edge.Point(p).Add(a.Edge.Inward(p).Scale(f.Inset.Value)); drilled.add(via) {
				f.Vias = append(f.Vias, via)
			}
		}
		f.runs = append(f.runs, run{first, len(f.Vias), round})
	}
	return f
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
