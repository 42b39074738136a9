package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/emit/sheet"
	"hemline/lang/geom"
)

// Labels round a face stand in four tracks, one a side, each a row of texts
// across the side's direction. In a track they keep the order of what they
// belong to and are pushed apart, so that their lines never cross and no text
// covers another. Ordinates share a dimension line with one origin
// (superimposed running dimensions, ISO 129-1).

// label is a text of a track.
type label struct {
	at       geom.Point // on the board, nm
	out      geom.Point // the way out of the board there
	text     string
	ordinate bool
}

// What a track takes, mm: from the board to its dimension line, from there to
// where the texts start, and the room for one text.
const (
	clear   = 9.0
	fan     = 8.0
	pitch   = 3.7
	joint   = 12          // characters of names that share a text: longer ones take a place each, and less room off the board
	overlap = clear - 2.5 // how far a track's row may reach past the board's corner
)

// side is a direction out of the face: 0 east, 1 north, 2 west, 3 south, as the
// sheet has it.
func (l label) side() int {
	if math.Abs(l.out.X) >= math.Abs(l.out.Y) {
		if l.out.X >= 0 {
			return 0
		}
		return 2
	}
	if l.out.Y >= 0 {
		return 1
	}
	return 3
}

func upright(side int) bool { return side%2 == 0 } // the track runs upwards

// tracks are the labels of the top face, by side.
func (a *author) tracks() (list [4][]label) {
	all := a.labels()
	for _, l := range all {
		list[l.side()] = append(list[l.side()], l)
	}
	for s := range list {
		list[s] = a.thin(s, merged(list[s]))
		along := func(l label) float64 {
			if upright(s) {
				return l.at.Y
			}
			return l.at.X
		}
		slices.SortStableFunc(list[s], func(x, y label) int { return cmp.Compare(along(x), along(y)) })
	}
	return list
}

// thin leaves out what the tables say as well where there is no room for it,
// and every ordinate that a side has already.
func (a *author) thin(side int, list []label) []label {
	seen := map[string]bool{}
	has := false
	kept := list[:0]
	for _, l := range list {
		if l.ordinate && a.dense >= 2 || !l.ordinate && a.dense >= 1 || l.ordinate && seen[l.text] {
			continue
		}
		if l.ordinate {
			seen[l.text], has = true, true
		}
		kept = append(kept, l)
	}
	if has && !seen["0"] {
		if box := a.b.Outline().Path.Box(); upright(side) && box.Min.Y <= 0 && 0 <= box.Max.Y || !upright(side) && box.Min.X <= 0 && 0 <= box.Max.X {
			zero := label{ordinate: true, text: "0", out: geom.Point{X: [4]float64{1, 0, -1, 0}[side], Y: [4]float64{0, 1, 0, -1}[side]}}
			zero.at = geom.Point{X: math.Min(math.Max(0, box.Min.X), box.Max.X), Y: math.Min(math.Max(0, box.Min.Y), box.Max.Y)}
			if upright(side) {
				zero.at.X = [4]float64{box.Max.X, 0, box.Min.X, 0}[side]
			} else {
				zero.at.Y = [4]float64{0, box.Max.Y, 0, box.Min.Y}[side]
			}
			kept = append(kept, zero)
		}
	}
	return kept
}

// merged joins names that stand at one place, within a micrometre.
func merged(list []label) []label {
	const near = 1e3 // nm
	var out []label
	names := map[[2]float64][]int{} // of out, by the square that each stands in
	for _, l := range list {
		if l.ordinate {
			out = append(out, l)
			continue
		}
		x, y := math.Floor(l.at.X/near), math.Floor(l.at.Y/near)
		first := -1
		for _, dx := range [...]float64{-1, 0, 1} {
			for _, dy := range [...]float64{-1, 0, 1} {
				for _, i := range names[[2]float64{x + dx, y + dy}] {
					if out[i].at.Dist(l.at) < near && (first < 0 || i < first) {
						first = i
					}
				}
			}
		}
		if first >= 0 && len([]rune(out[first].text+l.text)) <= joint {
			out[first].text += ", " + l.text
			continue
		}
		names[[2]float64{x, y}] = append(names[[2]float64{x, y}], len(out))
		out = append(out, l)
	}
	return out
}

// labels are all that the top face is labelled with at its edge.
func (a *author) labels() []label {
	var list []label
	list = append(list, a.sizes()...)
	for _, r := range a.runs {
		if r.Plating == nil || r.Profile.Cutout {
			continue
		}
		list = append(list, label{at: r.Profile.Path.At(r.From + r.Length()/2), out: r.Profile.Outward(r.From + r.Length()/2), text: shown(r.label, 24)})
		if !r.Round() {
			// Just inside the stretch, so that an end at a corner counts as of its own edge.
			list = append(list, a.ordinate(r.Profile, r.From, r.From+10), a.ordinate(r.Profile, r.To, r.To-10))
		}
	}
	for _, g := range a.b.Gaps() {
		if g.Edge != nil && !g.Edge.Profile.Cutout && !g.Opened() { // else what opens it has a label
			list = append(list, onEdge(g.Edge, (g.From+g.To)/2, shown(g.Name.Text, 24)))
		}
	}
	for _, t := range a.b.Tabs() {
		if t.Edge != nil && !t.Edge.Profile.Cutout {
			list = append(list, onEdge(t.Edge, t.Position, shown(t.Name.Text, 24)+a.whereOf(t)))
		}
	}
	for _, c := range a.b.Connectors() {
		if c.Edge != nil && !c.Edge.Profile.Cutout {
			list = append(list, onEdge(c.Edge, c.Position, shown(c.Name.Text, 24)))
		}
	}
	return append(list, a.rows()...)
}

func onEdge(e *board.Edge, position float64, text string) label {
	return label{at: e.Point(position), out: e.Inward(position).Scale(-1), text: text}
}

// whereOf gives a tab's middle where no gap of the same middle does.
func (a *author) whereOf(t *board.Tab) string {
	for _, g := range a.b.Gaps() {
		if g.Edge == t.Edge && math.Abs((g.From+g.To)/2-t.Position) < 1 {
			return ""
		}
	}
	return " at " + position(t.Edge.Point(t.Position), t.Edge.Inward(t.Position))
}

// position is the ordinate along a straight edge, or both.
func position(p, in geom.Point) string {
	switch {
	case math.Abs(in.X) < 1e-6:
		return figure(p.X / mm)
	case math.Abs(in.Y) < 1e-6:
		return figure(p.Y / mm)
	}
	return "(" + figure(p.X/mm) + ", " + figure(p.Y/mm) + ")"
}

// rows are the labels of half holes: the first one's ordinate, and what they are.
func (a *author) rows() []label {
	var list []label
	for _, c := range a.b.Castellations() {
		if c.Edge == nil || c.Edge.Profile.Cutout || len(c.Centres) == 0 {
			continue
		}
		first := c.Centres[0]
		what := shown(c.Name.Text, 16) + ": "
		n := len(c.Centres)
		if n > 1 && c.Pitch.Given() {
			what += figure(float64(n)) + "× ⌀" + length(c.Hole) + ", pitch " + length(c.Pitch)
			l := onEdge(c.Edge, first, position(c.Edge.Point(first), c.Edge.Inward(first)))
			l.ordinate = true
			list = append(list, l, onEdge(c.Edge, (first+c.Centres[n-1])/2+c.Hole.Value*0.02, what))
			continue
		}
		for i, p := range c.Centres {
			if n > 1 {
				what = fmt.Sprintf("%s.%d: ", shown(c.Name.Text, 16), i+1)
			}
			list = append(list, onEdge(c.Edge, p, what+"⌀"+length(c.Hole)+" at "+position(c.Edge.Point(p), c.Edge.Inward(p))))
		}
	}
	return list
}

// ordinate labels a point of a profile; where it lies on is told by a point beside it.
func (a *author) ordinate(p *board.Profile, along, beside float64) label {
	at, out := p.Path.At(along), p.Outward(beside)
	s := position(at, out)
	return label{at: at, out: out, text: s, ordinate: s[0] != '('}
}

// sizes are the ordinates of the outline's extremes and corners, its diameter,
// and the radius of its rounded corners.
func (a *author) sizes() []label {
	o := a.b.Outline()
	box := o.Path.Box()
	west, south := geom.Point{X: -1}, geom.Point{Y: -1}
	var list []label
	add := func(p, out geom.Point, v float64) {
		list = append(list, label{at: p, out: out, text: figure(v / mm), ordinate: true})
	}
	if o.Kind == "circle" {
		r := (box.Max.X - box.Min.X) / 2
		d := geom.Point{X: math.Cos(0.7), Y: math.Sin(0.7)}
		return append(list, label{at: o.Path.Centroid().Add(d.Scale(r)), out: d, text: "⌀" + figure(2*r/mm)})
	}
	if o.Kind == "rectangle" {
		add(box.Min, south, box.Min.X)
		add(geom.Point{X: box.Max.X, Y: box.Min.Y}, south, box.Max.X)
		add(box.Min, west, box.Min.Y)
		add(geom.Point{X: box.Min.X, Y: box.Max.Y}, west, box.Max.Y)
	} else {
		for _, g := range o.Path.Segments() {
			add(g.A, south, g.A.X)
			add(g.A, west, g.A.Y)
		}
	}
	if o.Kind == "rectangle" && len(o.Corners) > 0 {
		c := o.Corners[0]
		r := (c.To - c.From) / (math.Pi / 2)
		middle := (c.From + c.To) / 2
		list = append(list, label{at: o.Path.At(middle), out: geom.Point{X: 1}, text: "4× R" + figure(r/mm)})
		return list
	}
	for _, g := range o.Path.Segments() {
		if g.Arc {
			list = append(list, label{at: g.At(g.Length() / 2), out: g.At(g.Length() / 2).Sub(box.Center()), text: "R" + figure(g.Radius()/mm)})
		}
	}
	return list
}

// depth is what a track takes beyond the board's drawing, mm.
func depth(list []label) float64 {
	if len(list) == 0 {
		return 3
	}
	long := 0.0
	for _, l := range list {
		long = math.Max(long, sheet.Text{S: l.text, Height: sheet.Small}.Width())
	}
	return clear + fan + long + 2
}

// spread finds places at least pitch apart, in order, as near to the wanted
// ones as can be, between two bounds; the wanted ones are in order.
func spread(want []float64, from, to float64) []float64 {
	type group struct {
		sum float64 // of what the first one's place would be
		n   int
		at  float64
	}
	var groups []group
	for _, w := range want {
		groups = append(groups, group{sum: w, n: 1})
		for {
			k := len(groups) - 1
			g := &groups[k]
			long := float64(g.n-1) * pitch
			g.at = math.Min(math.Max(g.sum/float64(g.n), from), math.Max(to-long, from))
			if k == 0 || groups[k-1].at+float64(groups[k-1].n)*pitch <= g.at {
				break
			}
			before := groups[k-1]
			before.sum += g.sum - float64(g.n*before.n)*pitch
			before.n += g.n
			groups = append(groups[:k-1], before)
		}
	}
	var out []float64
	for _, g := range groups {
		for j := range g.n {
			out = append(out, g.at+float64(j)*pitch)
		}
	}
	return out
}

// track draws the labels of one side.
func (v *view) track(side int, list []label) {
	if len(list) == 0 {
		return
	}
	up := upright(side)
	sign := 1.0
	if side >= 2 {
		sign = -1
	}
	base := [4]float64{v.box.Max.X, v.box.Max.Y, v.box.Min.X, v.box.Min.Y}[side]
	from, to := v.box.Min.X-overlap, v.box.Max.X+overlap
	if up {
		from, to = v.box.Min.Y-overlap, v.box.Max.Y+overlap
	}
	// In the track's own axes: u along it, d out of the board.
	point := func(u, d float64) sheet.Point {
		if up {
			return sheet.Point{X: base + sign*d, Y: u}
		}
		return sheet.Point{X: u, Y: base + sign*d}
	}
	along := func(p sheet.Point) float64 {
		if up {
			return p.Y
		}
		return p.X
	}
	want := make([]float64, len(list))
	for i, l := range list {
		want[i] = along(v.model(l.at))
	}
	slots := spread(want, from+1.8, to-1.8)
	for i, l := range list {
		v.leader(l, v.model(l.at), point, want[i], slots[i])
		t := sheet.Text{ID: "", S: l.text, Height: sheet.Small, Up: !up}
		const half = sheet.Small / 2
		at := point(slots[i], clear+fan+0.8)
		if up {
			t.At = at.Add(0, -half)
		} else {
			t.At = at.Add(half, 0)
		}
		if sign < 0 {
			t.Align = sheet.Right
		}
		v.sheet.Write(t)
	}
	v.running(list, want, point, along(v.origin))
}

// leader draws the line from a point of the board to its label.
func (v *view) leader(l label, foot sheet.Point, point func(u, d float64) sheet.Point, want, slot float64) {
	start, turn, end := foot, point(want, clear+1.5), point(slot, clear+fan-1)
	if l.ordinate {
		// An extension line starts off the outline and ends past its dimension line.
		d := math.Hypot(turn.X-foot.X, turn.Y-foot.Y)
		if d > 1 {
			start = foot.Add((turn.X-foot.X)/d, (turn.Y-foot.Y)/d)
		}
	} else {
		v.sheet.Add(arrow(turn, foot))
	}
	points := []sheet.Point{start, turn, end, point(slot, clear+fan)}
	if math.Abs(slot-want) < 0.05 {
		points = []sheet.Point{start, point(want, clear+fan)}
	}
	v.sheet.Add(sheet.Strokes(sheet.Thin, points...))
}

// running draws the dimension line that a side's ordinates share.
func (v *view) running(list []label, want []float64, point func(u, d float64) sheet.Point, origin float64) {
	var at []float64
	zero := false
	for i, l := range list {
		if l.ordinate {
			at = append(at, want[i])
			zero = zero || math.Abs(want[i]-origin) < 1e-6
		}
	}
	if len(at) < 2 {
		return
	}
	v.sheet.Add(sheet.Strokes(sheet.Thin, point(at[0], clear), point(at[len(at)-1], clear)))
	for i, u := range at {
		p := point(u, clear)
		switch {
		case math.Abs(u-origin) < 1e-6:
			v.sheet.Add(sheet.Shape{Line: sheet.Thin, Fill: sheet.White, Paths: []sheet.Path{sheet.Circle(p, 0.8)}})
		case u > origin && (i == 0 || u-at[i-1] > 3):
			v.sheet.Add(arrow(point(u-3, clear), p))
		case u < origin && (i+1 == len(at) || at[i+1]-u > 3):
			v.sheet.Add(arrow(point(u+3, clear), p))
		default:
			v.sheet.Add(dot(p))
		}
	}
}
