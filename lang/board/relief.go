package board

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Relief is solder mask taken off.
type Relief struct {
	Item
	Over   []Name // platings and rows of half holes
	Faces  []Face
	Reach  Value // inward from the profile; see ReachOver where it is left out
	Margin Value // past the copper's ends; see Beyond where it is left out
	// Along are the parts that it is for; none where it is for all that it is over.
	Along []Along

	parts []covered // with Along
}

// covered is a part of a profile.
type covered struct {
	profile *Profile
	on      geom.Intervals
}

// Bared is a part of what a relief opens on one face: over a plated stretch, or
// over a half hole.
type Bared struct {
	Face Face
	Over string // the plating or the row
	// Stretch is the part of the profile that is opened, with the margin past the
	// copper's ends; without a profile over a half hole.
	Stretch Stretch
	Row     *Castellation // nil over a stretch
	Hole    int           // its number in the row
	Width   float64       // over a half hole, along the edge, nm
	Margin  float64       // past the copper's ends, nm
	Reach   float64       // inward from the profile, nm

	before, after float64 // the margin that Stretch has past the copper's ends, nm
}

// Loops is what is opened on the board, as loops whose union it is, cut to the board.
func (o Bared) Loops() []*geom.Loop {
	if o.Row == nil {
		return append(o.Stretch.Inward(o.Reach), o.Ends()...)
	}
	at := o.Row.Centres[o.Hole]
	return []*geom.Loop{o.Row.Edge.Standing(at, o.Width, o.Row.Edge.rise(at, o.Width/2), o.Reach)}
}

// Ends is what the margin opens past the ends of a stretch's copper where the profile
// turns there. The band of the opening turns with the profile; the copper ends square to
// it, and would have less margin, or none, the deeper it is.
func (o Bared) Ends() (loops []*geom.Loop) {
	s := o.Stretch
	if o.Row != nil || s.Round() {
		return nil
	}
	path := s.Profile.Path
	end := func(along, way, margin float64) {
		if margin <= Tolerance {
			return
		}
		// The copper's side of the end is the one to go by: there may be a corner at it.
		at, far := path.At(along), path.At(along+way*margin)
		on := path.Tangent(along - way*2*Tolerance).Scale(way)
		to := at.Add(on.Scale(margin))
		if to.Dist(far) <= Tolerance {
			return
		}
		in := on.Left().Scale(way * o.Reach)
		if s.Profile.Cutout {
			in = in.Scale(-1)
		}
		loops = append(loops, geom.Polygon(at, to, to.Add(in), at.Add(in)))
	}
	end(s.From+o.before, -1, o.before)
	end(s.To-o.after, 1, o.after)
	return loops
}

// rise is how far the profile comes over the tangent at a position, away from the
// board's inside, within half a width on both sides: on an arc that is hollow seen from
// outside the board lies there too. 0 on others, nm.
func (e *Edge) rise(position, half float64) float64 {
	i, _ := e.Profile.Path.SegmentAt(e.Along(position))
	if i < 0 {
		return 0
	}
	g := e.Profile.Path.Segments()[i]
	if !e.Profile.Hollow(g) {
		return 0
	}
	r := g.Radius()
	return r - math.Sqrt(math.Max(0, r*r-half*half))
}

// FaceNames are the faces' words.
func (r *Relief) FaceNames() []string {
	var list []string
	for _, f := range r.Faces {
		list = append(list, f.String())
	}
	return list
}

// Lies tells whether the relief is over something.
func (r *Relief) Lies(over string) bool {
	return slices.ContainsFunc(r.Over, func(n Name) bool { return n.Text == over })
}

// OverNames are the names of what it is over, OverAt is where they stand.
func (r *Relief) OverNames() string {
	var list []string
	for _, n := range r.Over {
		list = append(list, n.Text)
	}
	return strings.Join(list, " ")
}

// OverAt is where the names of what it is over stand.
func (r *Relief) OverAt() source.Place { return r.Over[0].At.Cover(r.Over[len(r.Over)-1].At) }

// Where says the parts that the relief is for, as " along south, east from 1.00 mm
// to 3.00 mm"; nothing where it is for all.
func (r *Relief) Where() string {
	var list []string
	for _, a := range r.Along {
		s := a.Edge.Name
		if a.From != 0 || a.To != a.Edge.Length {
			s += fmt.Sprintf(" from %s to %s", quantity.Nanometres(math.Round(a.From)), quantity.Nanometres(math.Round(a.To)))
		}
		list = append(list, s)
	}
	if len(list) == 0 {
		return ""
	}
	return " along " + strings.Join(list, ", ")
}

// Beyond is how far the opening goes past the copper's ends, nm: its margin, or
// where it states none the shop's.
func (r *Relief) Beyond(shop float64) float64 {
	if r.Margin.Given() {
		return r.Margin.Value
	}
	return shop
}

// ReachOver is how far the opening goes inward over something on a face, nm: its
// reach, or where it states none as far as the wrap or the land, and the margin
// more; 0 where nothing is there to open.
func (b *Board) ReachOver(r *Relief, over string, f Face, shop float64) float64 {
	copper := 0.0
	if p := b.PlatingNamed(over); p != nil {
		copper = p.Wrap[f].Value
	} else if c := b.CastellationNamed(over); c != nil && b.LandsOn(c, b.OuterLayer(f)) {
		copper = c.LandLength.Value
	}
	switch {
	case r.Reach.Given():
		return r.Reach.Value
	case copper == 0:
		return 0
	}
	return copper + r.Beyond(shop)
}

// Openings lists what a relief opens, face by face; shop is the margin where it
// states none. Everything that shows or checks openings goes by this.
func (b *Board) Openings(r *Relief, shop float64) []Bared {
	var list []Bared
	margin := r.Beyond(shop)
	for _, f := range r.Faces {
		for _, n := range r.Over {
			reach := b.ReachOver(r, n.Text, f, shop)
			if reach == 0 {
				continue
			}
			if p := b.PlatingNamed(n.Text); p != nil {
				for s := range b.PlatedBy(p) {
					for _, x := range r.within(s, margin) {
						x.Face, x.Over, x.Margin, x.Reach = f, n.Text, margin, reach
						list = append(list, x)
					}
				}
				continue
			}
			if c := b.CastellationNamed(n.Text); c != nil {
				for i, at := range c.Centres {
					if r.holds(c.Edge, at) {
						list = append(list, Bared{Face: f, Over: n.Text, Row: c, Hole: i, Width: c.LandWidth.Value + 2*margin, Margin: margin, Reach: reach})
					}
				}
			}
		}
	}
	return list
}

// within are the parts of a plated stretch that the relief is for, with the margin
// past the stretch's own ends.
func (r *Relief) within(s Stretch, margin float64) []Bared {
	if len(r.Along) == 0 {
		return []Bared{{Stretch: s.Widened(margin), before: margin, after: margin}}
	}
	l := s.Profile.Path.Perimeter()
	var list []Bared
	for _, v := range geom.Intersect(ring(nil, s.From, s.To, l), r.on(s.Profile), Tolerance).Runs(l, Tolerance) {
		before, after := 0.0, 0.0
		if onRing(v.From-s.From, l) {
			before = margin
		}
		if onRing(v.To-s.To, l) {
			after = margin
		}
		list = append(list, Bared{Stretch: Stretch{s.Profile, s.Plating, v.From, v.To}.widened(before, after), before: before, after: after})
	}
	return list
}

// onRing tells whether a distance is none on a ring: one or whole turns of it.
func onRing(d, length float64) bool {
	for _, turn := range [...]float64{-length, 0, length} {
		if d >= turn-Tolerance && d <= turn+Tolerance {
			return true
		}
	}
	return false
}

// holds tells whether the relief is for a half hole at a position on an edge.
func (r *Relief) holds(e *Edge, position float64) bool {
	return len(r.Along) == 0 || slices.ContainsFunc(r.Along, func(a Along) bool { return a.holds(e, position) })
}

// holds tells whether a position on an edge lies in the part, its ends included.
func (a Along) holds(e *Edge, position float64) bool {
	if a.Edge != e {
		return false
	}
	for _, turn := range [...]float64{0, -e.Length, e.Length} {
		if at := position + turn; a.From-Tolerance <= at && at <= a.To+Tolerance {
			return true
		}
		if !e.Closed {
			return false
		}
	}
	return false
}

// Meets tells whether two reliefs are for a part of the profile in common.
func (r *Relief) Meets(other *Relief) bool {
	if len(r.Along) == 0 || len(other.Along) == 0 {
		return true
	}
	return slices.ContainsFunc(r.parts, func(c covered) bool { return len(geom.Intersect(c.on, other.on(c.profile), Tolerance)) > 0 })
}

// on is what of a profile the relief is for, where it is not for all.
func (r *Relief) on(p *Profile) geom.Intervals {
	for _, c := range r.parts {
		if c.profile == p {
			return c.on
		}
	}
	return nil
}

// CopperOf tells whether something has copper that a relief's part is for: a
// plated stretch, or a half hole.
func (b *Board) CopperOf(over string, a Along) bool {
	if p := b.PlatingNamed(over); p != nil {
		for s := range b.PlatedBy(p) {
			if s.Profile == a.Edge.Profile && s.meets(a.Edge, a.From, a.To) {
				return true
			}
		}
		return false
	}
	c := b.CastellationNamed(over)
	return c != nil && slices.ContainsFunc(c.Centres, func(at float64) bool { return a.holds(c.Edge, at) })
}

func (m *meaning) relief(r *syntax.Reading, base Item) *Relief {
	x := &Relief{Item: base, Over: namesOf(r.Get("over")), Reach: m.quantity(r.Get("reach"), 0, positive), Margin: m.quantity(r.Get("margin"), 0, notNegative)}
	if on := r.Get("on"); on != nil {
		for _, v := range on.Values {
			if f, ok := m.face(v); ok {
				x.Faces = append(x.Faces, f)
			}
		}
	}
	x.Along = m.along(r, "the relief")
	for i, n := range x.Over {
		if slices.ContainsFunc(x.Over[:i], func(other Name) bool { return other.Text == n.Text }) {
			m.report(syntax.RuleRepeated, n.At, "%s is stated twice", syntax.Quote(n.Text))
		}
	}
	if len(x.Over) == 0 || len(x.Faces) == 0 || r.Stands("reach") && !x.Reach.Given() || r.Stands("margin") && !x.Margin.Given() || r.Stands("along") && len(x.Along) == 0 {
		return nil
	}
	x.parts = partsOf(x.Along)
	return x
}

// partsOf are what parts of edges cover of their profiles: a rounded corner too
// where both of its neighbours are covered up to it.
func partsOf(along []Along) []covered {
	var parts []covered
	ends := map[*Profile]*plated{}
	for _, a := range along {
		p := a.Edge.Profile
		if ends[p] == nil {
			ends[p] = &plated{corner: map[end]bool{}}
			parts = append(parts, covered{profile: p})
		}
		c := ends[p]
		c.on = a.Edge.ring(c.on, a.From, a.To)
		c.reach(a.Edge, a.From, a.To)
	}
	for i := range parts {
		p := parts[i].profile
		c := ends[p]
		for _, x := range p.Corners {
			if c.corner[end{x.Before, true}] && c.corner[end{x.After, false}] {
				c.on = ring(c.on, x.From, x.To, p.Path.Perimeter())
			}
		}
		parts[i].on = geom.Union(c.on, Tolerance)
	}
	return parts
}

func (r *Relief) refers(t *tying) {
	for _, n := range r.Over {
		t.to(n, reliefNames)
	}
}
