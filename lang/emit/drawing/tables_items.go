package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
)

// halfHoles are the rows, each part of a row by itself where holes are left out
// of it, so that every hole follows from a place, a number and the pitch.
func (a *author) halfHoles() table {
	t := table{title: "Half holes, plated (mm)", head: []string{"row", "edge", "first x, y", "last x, y", "no.", "⌀", "pitch, along edge", "land", "nets"}}
	for _, c := range a.b.Castellations() {
		if c.Edge == nil || len(c.Centres) == 0 {
			continue
		}
		size := length(c.LandWidth) + " × " + length(c.LandLength)
		if len(c.Layers) > 0 {
			size += " on " + strings.Join(c.LandLayers(), " ")
		}
		for _, p := range partsOf(c) {
			first, last := c.Centres[p.first], c.Centres[p.last]
			end, pitch := "–", "–"
			if p.last > p.first { // the last follows from the first and the pitch
				end, pitch = aside(pair(c.Edge.Point(last))), length(c.Pitch)
			}
			t.rows = append(t.rows, []string{p.name, c.Edge.Name, pair(c.Edge.Point(first)), end, fmt.Sprint(p.last - p.first + 1), length(c.Hole), pitch, size, netsOf(c, p)})
		}
	}
	return t
}

// partOf is a part of a row of half holes in which each is a pitch from the next.
type partOf struct {
	name        string
	first, last int // numbers of holes
}

func partsOf(c *board.Castellation) (list []partOf) {
	n := len(c.Centres)
	for i := range n {
		if k := len(list) - 1; k >= 0 && c.Pitch.Given() && math.Abs(c.Centres[i]-c.Centres[i-1]-c.Pitch.Value) < board.Tolerance {
			list[k].last = i
			continue
		}
		list = append(list, partOf{first: i, last: i})
	}
	for i := range list {
		p := &list[i]
		switch {
		case len(list) == 1:
			p.name = c.Name.Text
		case p.first == p.last:
			p.name = fmt.Sprint(c.Name.Text, ".", p.first+1)
		default:
			p.name = fmt.Sprintf("%s.%d to .%d", c.Name.Text, p.first+1, p.last+1)
		}
	}
	return list
}

// netsOf are the nets of a part of a row: the row's one, or each hole's in turn.
func netsOf(c *board.Castellation, p partOf) string {
	if len(c.Nets) < 2 {
		return named(c.NetOf(0))
	}
	var list []string
	for i := p.first; i <= p.last; i++ {
		list = append(list, c.NetOf(i).Text)
	}
	return strings.Join(list, " ")
}

// connectors are the parts that launch over the edge, and their copper.
func (a *author) connectors() table {
	t := table{title: "Connectors (mm)", head: []string{"connector", "edge", "middle x, y", "body", "pins, legs"}}
	for _, c := range a.b.Connectors() {
		if c.Edge == nil {
			continue
		}
		body := length(c.Body) + " wide"
		if c.BodyReach.Given() {
			body += ", " + length(c.BodyReach) + " over the board"
		}
		if c.Overhang.Given() {
			body += ", " + length(c.Overhang) + " past the profile"
		}
		var copper []string
		for _, p := range c.Pins {
			copper = append(copper, fmt.Sprintf("pin %s %s × %s", p.Face, length(p.Width), length(p.Length)))
		}
		if l := c.Legs; l != nil {
			words := "2 legs"
			for _, f := range l.Faces {
				words += " " + f.String()
			}
			copper = append(copper, fmt.Sprintf("%s %s × %s, %s from middle to middle", words, length(l.Width), length(l.Length), length(l.Spacing)))
		}
		t.rows = append(t.rows, []string{c.Name.Text, c.Edge.Name, pair(c.Edge.Point(c.Position)), body, cmp.Or(strings.Join(copper, "; "), "–")})
	}
	return t
}

// cutouts are the routed openings; a drawn one has a table of its own besides.
func (a *author) cutouts() table {
	t := table{title: "Cutouts (mm)", head: []string{"cutout", "shape", "centre x, y", "corner R", "(rim)", "plated"}}
	for _, c := range a.b.Cutouts() {
		if c.Profile == nil {
			continue
		}
		word := "no"
		switch wall := a.b.Finished(c.Profile); {
		case wall.Whole():
			word = "yes"
		case len(wall.Plated) > 0:
			word = "in part"
		}
		centre, corner := pair(c.Centre), "–"
		if c.Kind == "start" {
			centre = "–"
		} else if list := c.Profile.Corners; len(list) > 0 {
			corner = "R" + figure(radius(c.Profile, list[0])/mm)
		}
		t.rows = append(t.rows, []string{c.Name.Text, shapeOf(c), centre, corner, aside(figure(c.Profile.Path.Perimeter() / mm)), word})
	}
	return t
}

// shapeOf is what a cutout is and how large.
func shapeOf(c *board.Cutout) string {
	box := c.Profile.Path.Box()
	switch c.Kind {
	case "circle":
		return "⌀" + length(c.Width)
	case "slot":
		s := "slot " + figure(c.SlotLength()/mm) + " × " + length(c.Width)
		if d := turned(c); d != 0 {
			s += ", turned " + figure(d) + "°"
		}
		return s
	case "rectangle":
		return figure((box.Max.X-box.Min.X)/mm) + " × " + figure((box.Max.Y-box.Min.Y)/mm)
	}
	return "drawn, see its table"
}

// turned is the angle of a slot's length against x, degrees from 0 to under 180.
func turned(c *board.Cutout) float64 {
	for _, s := range c.Profile.Path.Segments() {
		if !s.Arc {
			t := s.Tangent(0)
			d := math.Round(math.Mod(math.Atan2(t.Y, t.X)*180/math.Pi+360, 180)*1e3) / 1e3
			if d >= 180 {
				d = 0
			}
			return d
		}
	}
	return 0
}

// radius is that of a profile's rounded corner, nm.
func radius(p *board.Profile, c board.Corner) float64 {
	i, _ := p.Path.SegmentAt((c.From + c.To) / 2)
	return p.Path.Segments()[i].Radius()
}

// drawnPath is a drawn profile piece by piece as it is drawn: where each ends, the
// centre of an arc, and the radius that rounds its end. The ends are sharp points.
func drawnPath(what string, p *board.Profile) table {
	t := table{title: what + ", drawn: ends are sharp points (mm)", head: []string{"piece", "to x, y", "arc about x, y", "(arc R)", "corner R at its end"}}
	for i, e := range p.Edges {
		g := e.Piece
		if i == 0 {
			t.rows = append(t.rows, []string{"(start)", pair(g.A), "–", "–", "–"})
		}
		to, about, r, corner := pair(g.B), "–", "–", "–"
		if i == len(p.Edges)-1 {
			to = "the start"
		}
		if g.Arc {
			about, r = pair(g.C)+map[bool]string{true: ", clockwise", false: ", counterclockwise"}[g.Clockwise], aside("R"+figure(g.Radius()/mm))
		}
		for _, c := range p.Corners {
			if !e.Reversed && c.Before == e || e.Reversed && c.After == e {
				corner = "R" + figure(radius(p, c)/mm)
			}
		}
		t.rows = append(t.rows, []string{e.Name, to, about, r, corner})
	}
	return t
}

func (a *author) holes() table {
	t := table{title: "Holes (mm)", head: []string{"hole", "⌀ finished", "centre x, y", "wall", "net", "land ⌀"}}
	for _, h := range a.b.Holes() {
		t.rows = append(t.rows, []string{h.Name.Text, length(h.Diameter), pair(h.Centre), h.State(), named(h.Net), stated(h.Land)})
	}
	return t
}

// along says the parts of edges that something follows, with the places where a
// part ends.
func along(list []board.Along) string {
	var words []string
	for _, x := range list {
		switch {
		case x.All:
			if len(words) == 0 {
				words = append(words, "all round the outline")
			}
		case x.Edge.Closed && x.To-x.From >= x.Edge.Length-board.Tolerance, !x.Edge.Closed && x.From <= board.Tolerance && x.To >= x.Edge.Length-board.Tolerance:
			words = append(words, x.Edge.Name)
		default:
			words = append(words, fmt.Sprintf("%s from %s to %s", x.Edge.Name, pair(x.Edge.Point(x.From)), pair(x.Edge.Point(x.To))))
		}
	}
	return strings.Join(words, "; ")
}

func (a *author) openings() table {
	t := table{title: "Solder mask openings (mm)", head: []string{"opening", "over", "along", "faces", "reach from profile", "past the ends"}}
	for _, r := range a.b.Reliefs() {
		var reach []string // in the order of the faces, or of what it is over
		for _, o := range a.b.Openings(r, a.scene.MaskMargin) {
			if s := wording.Millimetres(o.Reach); !slices.Contains(reach, s) {
				reach = append(reach, s)
			}
		}
		t.rows = append(t.rows, []string{r.Name.Text, r.OverNames(), cmp.Or(along(r.Along), "all of it"), strings.Join(r.FaceNames(), " "), cmp.Or(strings.Join(reach, ", "), "–"), wording.Millimetres(r.Beyond(a.scene.MaskMargin))})
	}
	return t
}

// features are the copper that the text states near the edge.
func (a *author) features() table {
	t := table{title: "Copper features (mm)", head: []string{"feature", "layer", "shape", "centre x, y", "net"}}
	for _, f := range a.b.Features() {
		if f.Shape == nil {
			continue
		}
		box := f.Shape.Box()
		shape := figure((box.Max.X-box.Min.X)/mm) + " × " + figure((box.Max.Y-box.Min.Y)/mm)
		if f.Shape.Segments()[0].Arc {
			shape = "⌀" + figure((box.Max.X-box.Min.X)/mm)
		}
		t.rows = append(t.rows, []string{f.Name.Text, f.Layer.Text, shape, pair(f.Centre), named(f.Net)})
	}
	return t
}

func (a *author) fences() table {
	t := table{title: "Via fences (mm)", head: []string{"fence", "along", "vias", "hole", "land ⌀", "pitch", "inset", "net"}}
	for _, f := range a.b.Fences() {
		pitch := length(f.Pitch)
		if f.Even {
			pitch = "≤ " + pitch + ", even"
		}
		vias := fmt.Sprint(len(f.Vias))
		if f.LeftOut > 0 {
			vias += fmt.Sprintf(", %d left out", f.LeftOut)
		}
		if f.Added {
			vias += ", to add"
		}
		t.rows = append(t.rows, []string{f.Name.Text, along(f.Along), vias, length(f.Hole), stated(f.Land), pitch, length(f.Inset), named(f.Net)})
	}
	return t
}
