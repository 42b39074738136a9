package board

import (
	"slices"
	"strings"

	"hemline/lang/quantity"
)

// shapes are the shapes that an entry states: one, or a row's members.
func (x *entry) shapes() (list []*shape) {
	for _, i := range x.all() {
		if s, ok := i.(*shape); ok && s != nil {
			list = append(list, s)
		}
	}
	return list
}

// shapeOf is the entry of the shape that a dotted name without its last part
// reaches into: board is the outline, the name of a cutout or of a row's member
// that cutout, and an edge's name its outline or cutout.
func (e *env) shapeOf(of string) *entry {
	if of == "board" {
		return e.shapes[""]
	}
	for name := of; name != ""; {
		if x := e.shapes[name]; x != nil {
			return x
		}
		dot := strings.LastIndexByte(name, '.')
		if dot < 0 {
			break
		}
		name = name[:dot]
	}
	if strings.Contains(of, ".") {
		return nil
	}
	return e.shapes[""]
}

// shapeValue reads EDGE.length, CUTOUT.EDGE.length, and a cutout's or the
// board's own values.
func (e *env) shapeValue(of, what string) (quantity.Quantity, found) {
	x := e.shapeOf(of)
	profiles, f := e.profiles(x)
	if f != good {
		if of == "board" && !slices.Contains(shapeValues, what) {
			f = unknown
		}
		return quantity.Quantity{}, f
	}
	for _, p := range profiles {
		// A row's own name stands for its first member, as all are alike.
		if of == "board" || p.Cutout && of == p.Name || of == x.name && of != "" {
			return profileValue(p, what)
		}
		for _, edge := range p.Edges {
			if what == "length" && (edge.Name == of || x.name+"."+edge.own() == of) {
				return quantity.Nanometres(edge.Length), good
			}
		}
	}
	return quantity.Quantity{}, unknown
}

func (e *env) profiles(x *entry) (list []*Profile, f found) {
	if x == nil {
		return nil, unknown
	}
	if x.state != done {
		return nil, circular
	}
	for _, s := range x.shapes() {
		if s.Profile != nil {
			list = append(list, s.Profile)
		}
	}
	if len(list) == 0 {
		return nil, bad
	}
	return list, good
}

// Values of shapes that expressions may read.
var shapeValues = []string{"width", "height", "perimeter", "area"}

func profileValue(p *Profile, what string) (quantity.Quantity, found) {
	if !slices.Contains(shapeValues, what) {
		return quantity.Quantity{}, unknown
	}
	box := p.Path.Box()
	switch what {
	case "width":
		return quantity.Nanometres(grid(box.Max.X - box.Min.X)), good
	case "height":
		return quantity.Nanometres(grid(box.Max.Y - box.Min.Y)), good
	case "perimeter":
		return quantity.Nanometres(grid(p.Path.Perimeter())), good
	}
	return quantity.Quantity{Value: p.Path.SignedArea(), Dim: quantity.Area}, good
}
