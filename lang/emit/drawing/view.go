package drawing

import (
	"fmt"
	"math"

	"hemline/lang/board"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
	"hemline/lang/geom"
)

// view is one face of the board on a sheet.
type view struct {
	a      *author
	sheet  *sheet.Sheet
	side   scene.Side
	name   string
	k      float64     // drawn over true
	mirror bool        // seen from below: x runs to the left
	origin sheet.Point // where the datum lies
	box    sheet.Rect  // of all that is drawn of the board
	area   sheet.Rect  // of the sheet, for the face and its labels
	place  *placer
}

// apart is how far off the edge the line of a treated surface runs, mm.
const apart = 1.5

func (v *view) at(p scene.Point) sheet.Point {
	if v.mirror {
		p.X = -p.X
	}
	return v.origin.Add(p.X*v.k, p.Y*v.k)
}

func (v *view) model(p geom.Point) sheet.Point { return v.at(scene.Point{X: p.X / mm, Y: p.Y / mm}) }

// way turns a direction of the board into one of the sheet.
func (v *view) way(p geom.Point) sheet.Point {
	if v.mirror {
		p.X = -p.X
	}
	return sheet.Point{X: p.X, Y: p.Y}
}

func (v *view) path(p scene.Path) sheet.Path {
	out := sheet.Path{Start: v.at(p.Start), Closed: p.Closed, Steps: make([]sheet.Step, len(p.Steps))}
	for i, s := range p.Steps {
		out.Steps[i] = sheet.Step{To: v.at(s.To), Arc: s.Arc, Clockwise: s.Clockwise != v.mirror, Centre: v.at(s.Centre)}
	}
	return out
}

func (v *view) paths(list []scene.Path) []sheet.Path {
	out := make([]sheet.Path, len(list))
	for i, p := range list {
		out[i] = v.path(p)
	}
	return out
}

// chain turns segments of the model into a path.
func (v *view) chain(segs []geom.Segment, closed bool) sheet.Path {
	out := sheet.Path{Start: v.model(segs[0].A), Closed: closed}
	for _, g := range segs {
		out.Steps = append(out.Steps, sheet.Step{To: v.model(g.B), Arc: g.Arc, Clockwise: g.Clockwise != v.mirror, Centre: v.model(g.C)})
	}
	return out
}

// each calls visit with the parts of a role on the view's face, or through the board.
func (v *view) each(visit func(*scene.Item, *scene.Part), roles ...scene.Role) {
	for i := range v.a.scene.Items {
		item := &v.a.scene.Items[i]
		for j := range item.Parts {
			p := &item.Parts[j]
			for _, r := range roles {
				if p.Role == r && (p.Side == v.side || p.Side == scene.Through) {
					visit(item, p)
				}
			}
		}
	}
}

// draw draws the face. What lies on it comes first and is cut to the board by
// white over what is outside; the edges come last.
func (v *view) draw() {
	fills := func(role scene.Role, f sheet.Fill) {
		v.each(func(_ *scene.Item, p *scene.Part) {
			// One by one: they overlap, and together would cancel out.
			for _, q := range p.Paths {
				v.sheet.Add(sheet.Shape{Fill: f, Paths: []sheet.Path{v.path(q)}})
			}
		}, role)
	}
	fills(scene.Opening, sheet.Light)
	fills(scene.Wrap, sheet.Medium)
	fills(scene.Land, sheet.Medium)
	v.each(func(_ *scene.Item, p *scene.Part) { // what is drilled out of a land; half holes are drawn with the edge
		if p.Clipped {
			return
		}
		for _, q := range p.Less {
			v.sheet.Add(sheet.Shape{Fill: sheet.White, Paths: []sheet.Path{v.path(q)}})
		}
	}, scene.Land)
	outside := append([]sheet.Path{sheet.Box(v.box.Grow(3))}, v.paths(v.a.scene.Outline)...)
	v.sheet.Add(sheet.Shape{Fill: sheet.White, Paths: outside})
	for _, c := range v.a.scene.Cutouts {
		v.sheet.Add(sheet.Shape{Fill: sheet.White, Paths: []sheet.Path{v.path(c)}})
	}
	v.lines(sheet.Thin, scene.Copper, scene.Pin, scene.Via, scene.Tab)
	v.lines(sheet.Thin, scene.Hole)
	v.lines(sheet.Phantom, scene.Body)
	v.edges()
	v.halfHoles()
	v.treated()
	v.centres()
}

func (v *view) lines(l sheet.Line, roles ...scene.Role) {
	v.each(func(i *scene.Item, p *scene.Part) {
		fill := sheet.Clear
		if p.Role == scene.Tab {
			fill = sheet.White
		}
		v.sheet.Add(sheet.Shape{ID: fmt.Sprintf("%s.%s.%s.%s", v.name, i.Kind, i.Name, p.Role), Line: l, Fill: fill, Paths: v.paths(p.Paths)})
	}, roles...)
}

// edges draws the profiles, run by run: their lengths are those of the model.
func (v *view) edges() {
	for _, r := range v.a.runs {
		if segs := r.Segments(); len(segs) > 0 {
			v.sheet.Add(sheet.Shape{ID: v.name + "." + r.id, Line: sheet.Thick, Fill: sheet.Clear, Paths: []sheet.Path{v.chain(segs, r.Round())}})
		}
	}
}

// halfHoles draws what the edge leaves of each, and takes the edge out of it.
func (v *view) halfHoles() {
	for _, c := range v.a.b.Castellations() {
		for _, p := range c.Centres {
			r := c.Hole.Value / 2 / mm * v.k
			if r <= 0 {
				continue
			}
			centre, in := v.model(c.Edge.Point(p)), v.way(c.Edge.Inward(p))
			from, to := centre.Add(-in.Y*r, in.X*r), centre.Add(in.Y*r, -in.X*r)
			v.sheet.Add(sheet.Shape{Fill: sheet.White, Paths: []sheet.Path{sheet.Circle(centre, r)}})
			v.sheet.Add(sheet.Shape{ID: fmt.Sprintf("%s.castellation.%s", v.name, c.Name.Text), Line: sheet.Thick, Fill: sheet.Clear,
				Paths: []sheet.Path{{Start: from, Steps: []sheet.Step{{To: to, Arc: true, Clockwise: true, Centre: centre}}}}})
		}
	}
}

// treated draws the line that says that a surface is treated, here plated:
// beside the edge, outside the board.
func (v *view) treated() {
	for _, r := range v.a.runs {
		if r.Plating == nil {
			continue
		}
		// The path runs with the board on its left, round a cutout on its right.
		d := v.apartFrom(r.Profile)
		if r.Profile.Cutout != v.mirror {
			d = -d
		}
		if p, ok := beside(v.chain(r.Segments(), r.Round()), d); ok {
			v.sheet.Add(sheet.Shape{ID: v.name + ".treated." + r.id[len("plated."):], Line: sheet.ChainThick, Fill: sheet.Clear, Paths: []sheet.Path{p}})
		}
	}
}

// apartFrom is how far off a profile the line of a treated surface runs: less
// in a narrow cutout, where it would cross itself.
func (v *view) apartFrom(p *board.Profile) float64 {
	if w, narrow := v.a.widths[p]; narrow {
		return math.Min(apart, 0.3*w/mm*v.k)
	}
	return apart
}

// beside is a path at a distance to the right of another, to the left where d
// is negative. Arcs too tight for it are left out, and corners are rounded.
func beside(p sheet.Path, d float64) (sheet.Path, bool) {
	var out sheet.Path
	started := false
	from := p.Start
	for _, s := range p.Steps {
		a, b, ok := shifted(from, s, d)
		corner := from
		from = s.To
		if !ok {
			continue
		}
		switch last := out.Start; {
		case !started:
			out, started = sheet.Path{Start: a, Closed: p.Closed}, true
		default:
			if n := len(out.Steps); n > 0 {
				last = out.Steps[n-1].To
			}
			if math.Hypot(a.X-last.X, a.Y-last.Y) > 0.01 {
				out.Steps = append(out.Steps, sheet.Step{To: a, Arc: outerCorner(last, a, corner, d), Clockwise: d < 0, Centre: corner})
			}
		}
		out.Steps = append(out.Steps, sheet.Step{To: b, Arc: s.Arc, Clockwise: s.Clockwise, Centre: s.Centre})
	}
	return out, started && len(out.Steps) > 0
}

// outerCorner tells whether the line beside a corner goes round it.
func outerCorner(last, next, corner sheet.Point, d float64) bool {
	cross := (last.X-corner.X)*(next.Y-corner.Y) - (last.Y-corner.Y)*(next.X-corner.X)
	return cross*d > 0
}

// shifted are the ends of a step moved to the right.
func shifted(from sheet.Point, s sheet.Step, d float64) (a, b sheet.Point, ok bool) {
	if !s.Arc {
		l := math.Hypot(s.To.X-from.X, s.To.Y-from.Y)
		if l == 0 {
			return a, b, false
		}
		x, y := (s.To.Y-from.Y)/l*d, -(s.To.X-from.X)/l*d
		return from.Add(x, y), s.To.Add(x, y), true
	}
	if s.Clockwise {
		d = -d
	}
	r := math.Hypot(from.X-s.Centre.X, from.Y-s.Centre.Y)
	if r+d < 0.2 {
		return a, b, false
	}
	f := (r + d) / r
	move := func(p sheet.Point) sheet.Point {
		return sheet.Point{X: s.Centre.X + (p.X-s.Centre.X)*f, Y: s.Centre.Y + (p.Y-s.Centre.Y)*f}
	}
	return move(from), move(s.To), true
}

// centres draws the centre lines of round profiles.
func (v *view) centres() {
	for _, p := range v.a.b.Profiles() {
		if p.Kind != "circle" {
			continue
		}
		c, box := v.model(p.Path.Centroid()), p.Path.Box()
		r := (box.Max.X-box.Min.X)/2/mm*v.k + 4
		if r < 6 {
			r -= 2
		}
		v.sheet.Add(sheet.Strokes(sheet.ChainThin, c.Add(-r, 0), c.Add(r, 0)), sheet.Strokes(sheet.ChainThin, c.Add(0, -r), c.Add(0, r)))
	}
}

// datum marks the origin that ordinates count from. Where it lies far off the
// board the mark stands beside the nearest corner, and a broken line between them.
func (v *view) datum() {
	o := v.origin
	if v.a.far && !v.a.o.Marked {
		near := v.box.Nearest(o)
		d := math.Hypot(o.X-near.X, o.Y-near.Y)
		o = near.Add((o.X-near.X)/d*clear, (o.Y-near.Y)/d*clear)
		k := sketch{}
		k.cutOff(near, o)
		v.sheet.Add(k.Shapes...)
	}
	if v.a.far && v.a.o.Marked {
		return
	}
	datum(v.sheet, o, v.name+".datum")
}

// datum draws the mark of the origin.
func datum(s *sheet.Sheet, o sheet.Point, id string) {
	const r = 1.6
	quarter := func(sx, sy float64) sheet.Path {
		a, b := o.Add(r*sx, 0), o.Add(0, r*sy)
		return sheet.Path{Start: o, Closed: true, Steps: []sheet.Step{{To: a}, {To: b, Arc: true, Clockwise: sx*sy < 0, Centre: o}}}
	}
	s.Add(
		sheet.Shape{ID: id, Line: sheet.Thin, Fill: sheet.White, Paths: []sheet.Path{sheet.Circle(o, r)}},
		sheet.Shape{Fill: sheet.Black, Paths: []sheet.Path{quarter(1, 1), quarter(-1, -1)}})
}
