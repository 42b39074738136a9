package drawing

import (
	"fmt"
	"math"
	"strings"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// labels are all that the top face is labelled with at its edge.
func (a *author) labels() []label {
	var list []label
	list = append(list, a.sizes()...)
	ends := len(a.runs) <= mostEnds
	for _, r := range a.runs {
		if r.Plating == nil || r.Profile.Cutout {
			continue
		}
		list = append(list, label{at: r.Profile.Path.At(r.From + r.Length()/2), out: r.Profile.Outward(r.From + r.Length()/2), text: shown(r.label, 24)})
		if ends && !r.Round() {
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

// mostEnds is how many stretches have their ends' ordinates on the face, and how
// many pieces a drawn outline: of more the tables tell better.
const mostEnds = 300

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
	return " " + aside(position(t.Edge.Point(t.Position), t.Edge.Inward(t.Position)))
}

// position is the ordinate along a straight edge, or both.
func position(p, in geom.Point) string {
	switch {
	case math.Abs(in.X) < 1e-6:
		return figure(p.X / mm)
	case math.Abs(in.Y) < 1e-6:
		return figure(p.Y / mm)
	}
	return pair(p)
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
			what += aside(figure(float64(n)) + "× ⌀" + length(c.Hole) + ", pitch " + length(c.Pitch))
			l := onEdge(c.Edge, first, aside(position(c.Edge.Point(first), c.Edge.Inward(first))))
			l.ordinate = true
			list = append(list, l, onEdge(c.Edge, (first+c.Centres[n-1])/2+c.Hole.Value*0.02, what))
			continue
		}
		for i, p := range c.Centres {
			if n > 1 {
				what = fmt.Sprintf("%s.%d: ", shown(c.Name.Text, 16), i+1)
			}
			list = append(list, onEdge(c.Edge, p, what+aside("⌀"+length(c.Hole)+" at "+position(c.Edge.Point(p), c.Edge.Inward(p)))))
		}
	}
	return list
}

// ordinate labels a point of a profile; where it lies on is told by a point beside it.
func (a *author) ordinate(p *board.Profile, along, beside float64) label {
	at, out := p.Path.At(along), p.Outward(beside)
	s := position(at, out)
	return label{at: at, out: out, text: aside(s), ordinate: !strings.Contains(s, ",")}
}

// sizes are what the outline measures: a rectangle's ordinates and radius and a
// circle's diameter, which the face alone states, and of a drawn one, which has a
// table, the ordinates of its points.
func (a *author) sizes() []label {
	o := a.b.Outline()
	box := o.Path.Box()
	west, south := geom.Point{X: -1}, geom.Point{Y: -1}
	var list []label
	add := func(p, out geom.Point, v float64) {
		list = append(list, label{at: p, out: out, text: figure(v / mm), ordinate: true, only: true})
	}
	switch o.Kind {
	case "circle":
		r := (box.Max.X - box.Min.X) / 2
		d := geom.Point{X: math.Cos(0.7), Y: math.Sin(0.7)}
		return []label{{at: o.Path.Centroid().Add(d.Scale(r)), out: d, text: "⌀" + figure(2*r/mm), only: true}}
	case "rectangle":
		add(box.Min, south, box.Min.X)
		add(geom.Point{X: box.Max.X, Y: box.Min.Y}, south, box.Max.X)
		add(box.Min, west, box.Min.Y)
		add(geom.Point{X: box.Min.X, Y: box.Max.Y}, west, box.Max.Y)
		if len(o.Corners) > 0 {
			c := o.Corners[0]
			list = append(list, label{at: o.Path.At((c.From + c.To) / 2), out: geom.Point{X: 1}, text: "4× R" + figure(radius(o, c)/mm), only: true})
		}
		return list
	}
	return a.points()
}

// points are the ordinates of a drawn outline's points, each once, from the side
// that is nearest, and the radii of its rounds and arcs.
func (a *author) points() (list []label) {
	o := a.b.Outline()
	if len(o.Edges) > mostEnds {
		return nil
	}
	type choice struct {
		label
		far float64
	}
	best := map[string]choice{}
	var order []string
	take := func(p geom.Point, v float64, axis string, sides ...int) {
		key := axis + figure(v/mm)
		for _, s := range sides {
			far := onSide(o.Path.Box(), p, s).Dist(p)
			b, known := best[key]
			if known && b.far <= far || a.across(p, s) {
				continue
			}
			if !known {
				order = append(order, key)
			}
			best[key] = choice{label{at: p, out: outwards[s], text: aside(figure(v / mm)), ordinate: true}, far}
		}
	}
	for _, e := range o.Edges {
		take(e.Piece.B, e.Piece.B.X, "x", 3, 1)
		take(e.Piece.B, e.Piece.B.Y, "y", 2, 0)
	}
	for _, key := range order {
		list = append(list, best[key].label)
	}
	for i, g := range o.Path.Segments() {
		if g.Arc {
			along := o.Path.Start(i) + g.Length()/2
			list = append(list, label{at: o.Path.At(along), out: o.Outward(along), text: aside("R" + figure(g.Radius()/mm))})
		}
	}
	return list
}
