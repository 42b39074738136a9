package board

import (
	"hemline/lang/geom"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Feature is other copper.
type Feature struct {
	Item
	Layer  Name
	Net    Name
	Centre geom.Point
	Shape  *geom.Loop
	// ShapeAt is the place of the clauses that give the shape.
	ShapeAt source.Place
}

func (m *meaning) feature(r *syntax.Reading, base Item) *Feature {
	on := r.Get("on")
	f := &Feature{Item: base, Layer: nameOf(on, 0), Net: nameOf(r.Get("net"), 0)}
	known := on != nil && m.layer(on.Values[0])
	at := r.Get("at")
	if at == nil {
		return nil
	}
	centre, ok := m.point(at.Values[0])
	f.Centre = centre
	if rect := r.Get("rectangle"); rect != nil {
		w, h := m.quantity(rect, 0, positive), m.quantity(rect.Get("by"), 0, positive)
		f.ShapeAt = rect.Place().Cover(at.Place())
		if ok && w.Given() && h.Given() {
			f.Shape = geom.RectangleAt(geom.Point{X: grid(centre.X - w.Value/2), Y: grid(centre.Y - h.Value/2)}, w.Value, h.Value, 0)
		}
	} else if circle := r.Get("circle"); circle != nil {
		d := m.quantity(circle, 0, positive)
		f.ShapeAt = circle.Place().Cover(at.Place())
		if ok && d.Given() {
			f.Shape = geom.Circle(centre, d.Value)
		}
	}
	if !known || f.Shape == nil {
		return nil
	}
	return f
}

func (f *Feature) nets() []Name { return []Name{f.Net} }
