package drawing

import (
	"cmp"
	"math"
	"slices"
	"strings"

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
	only     bool // no table states it, so that it is never left out
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

// tracks are the labels of the top face, by side, and those that no side takes:
// the line to them would run across the face.
func (a *author) tracks() (list [4][]label, inner []label) {
	for _, l := range a.labels() {
		side := l.side()
		if a.across(l.at, side) {
			if !l.ordinate && a.dense == 0 {
				inner = append(inner, l)
			}
			continue
		}
		list[side] = append(list[side], l)
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
	return list, inner
}

// thin leaves out what the tables state where there is no room for it, and every
// ordinate that a side has already.
func (a *author) thin(side int, list []label) []label {
	seen := map[string]bool{}
	has := false
	kept := list[:0]
	for _, l := range list {
		value := strings.Trim(l.text, "()")
		if !l.only && (l.ordinate && a.dense >= 2 || !l.ordinate && a.dense >= 1) || l.ordinate && seen[value] {
			continue
		}
		if l.ordinate {
			seen[value], has = true, true
		}
		kept = append(kept, l)
	}
	if !has || seen["0"] || a.far {
		return kept
	}
	// The ordinates count from the datum, which the side shows too where the line to
	// it does not run across the face.
	box := a.b.Outline().Path.Box()
	zero := label{ordinate: true, text: aside("0"), out: outwards[side]}
	foot := geom.Point{X: math.Min(math.Max(0, box.Min.X), box.Max.X), Y: math.Min(math.Max(0, box.Min.Y), box.Max.Y)}
	if foot == (geom.Point{}) {
		zero.at = onSide(box, foot, side)
	} else if a.across(zero.at, side) {
		return kept
	}
	return append(kept, zero)
}

// outwards are the ways out of the face, by side.
var outwards = [4]geom.Point{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}}

// onSide is where the straight way from a point to a side leaves a box.
func onSide(b geom.Box, p geom.Point, side int) geom.Point {
	switch side {
	case 0:
		p.X = b.Max.X
	case 1:
		p.Y = b.Max.Y
	case 2:
		p.X = b.Min.X
	default:
		p.Y = b.Min.Y
	}
	return p
}

// across tells whether the straight way from a point of the profile to a side runs
// over the board or along its edge.
func (a *author) across(p geom.Point, side int) bool {
	const beside = 1e3 // nm
	o := a.b.Outline()
	way := outwards[side]
	end := onSide(o.Path.Box(), p, side)
	if end.Sub(p).Dot(way) <= 2*beside {
		return false
	}
	ray := geom.Line(p.Add(way.Scale(beside)), end)
	cuts := []float64{0, ray.Length()}
	o.Near(geom.BoxOf(ray.A, ray.B), beside, func(from, to float64) {
		i, _ := o.Path.SegmentAt((from + to) / 2)
		g := o.Path.Segments()[i]
		for _, q := range append(geom.Intersections(ray, g, board.Tolerance), g.A, g.B) {
			_, s, _ := ray.Nearest(q)
			cuts = append(cuts, s)
		}
	})
	slices.Sort(cuts)
	for i := 1; i < len(cuts); i++ {
		if cuts[i]-cuts[i-1] < 2*board.Tolerance {
			continue
		}
		q := ray.At((cuts[i] + cuts[i-1]) / 2)
		if o.Path.Contains(q.Add(way.Left().Scale(beside))) || o.Path.Contains(q.Sub(way.Left().Scale(beside))) {
			return true
		}
	}
	return false
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
