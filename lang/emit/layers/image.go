package layers

import (
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// image is what one Gerber file shows: shapes laid on one another in order.
type image struct {
	name, function, about string
	ops                   []op
}

// op lays shapes on the image, or takes them away.
type op struct {
	clear    bool
	yields   bool // gives way to copper of another net and to holes
	loops    []*geom.Loop
	aperture string // .AperFunction
	net      string // .N
	hasNet   bool   // what is taken away has none
}

func (i *image) dark(aperture string, net board.Name, loops ...*geom.Loop) {
	if len(loops) > 0 {
		i.ops = append(i.ops, op{loops: loops, aperture: aperture, net: net.Text, hasNet: net.Given()})
	}
}

func (i *image) erase(loops ...*geom.Loop) {
	if len(loops) > 0 {
		i.ops = append(i.ops, op{clear: true, loops: loops})
	}
}

// shapes are the loops laid on or taken away.
func (i *image) shapes(clear bool) (list []*geom.Loop) {
	for _, o := range i.ops {
		if o.clear == clear {
			list = append(list, o.loops...)
		}
	}
	return list
}

// fast are the loops laid on that give way to nothing, yielding those that do.
func (i *image) fast() []*geom.Loop     { return i.laid(false) }
func (i *image) yielding() []*geom.Loop { return i.laid(true) }

func (i *image) laid(yields bool) (list []*geom.Loop) {
	for _, o := range i.ops {
		if !o.clear && o.yields == yields {
			list = append(list, o.loops...)
		}
	}
	return list
}

// trim takes away what lies off the board, if anything does: strips along an
// edge may leave the board at a sharp corner or a narrow place.
func (m *maker) trim(i *image) {
	if m.looks {
		return
	}
	shapes := i.shapes(false)
	// Each shape alone: where many lie on one another, what they cover together
	// takes far longer to say.
	reach := func(in *geom.Shapes, keep func(cover []int) bool) bool {
		return slices.ContainsFunc(shapes, func(l *geom.Loop) bool {
			return geom.AreaOf([]*geom.Loop{l}, []*geom.Shapes{in}, keep) > speck
		})
	}
	if reach(m.outline, func(c []int) bool { return c[0] == 0 }) {
		i.erase(around(m.b.Outline().Path, shapes)...)
	}
	if reach(m.cut, func(c []int) bool { return c[0] > 0 }) {
		i.erase(m.cutouts()...)
	}
}

// strays is the area of shapes past the profile that reach over an opening
// onto the board beyond, where nothing of what is drawn lies already, nm².
func (m *maker) strays(drawn *geom.Shapes, past []*geom.Loop) float64 {
	return geom.AreaOf(past, []*geom.Shapes{m.outline, m.cut, drawn}, func(c []int) bool { return c[0] > 0 && c[1] == 0 && c[2] == 0 })
}

func (m *maker) cutouts() (list []*geom.Loop) {
	for _, p := range m.b.Profiles() {
		if p.Cutout {
			list = append(list, p.Path)
		}
	}
	return list
}

// around is the plane outside a loop as far as shapes reach, as two simple
// loops: the frame is parted at the loop's westmost and eastmost points, from
// which a level line outward meets the loop no more.
func around(l *geom.Loop, shapes []*geom.Loop) []*geom.Loop {
	box := l.Box()
	for _, s := range shapes {
		box = box.Union(s.Box())
	}
	box = box.Grow(mm)
	west, east := extreme(l, -1), extreme(l, 1)
	half := func(from, to geom.Point, sFrom, sTo, farX, nearX, y float64) *geom.Loop {
		chain := l.Stretch(sFrom, sTo)
		chain[0].A, chain[len(chain)-1].B = from, to
		corners := []geom.Point{to, {X: farX, Y: to.Y}, {X: farX, Y: y}, {X: nearX, Y: y}, {X: nearX, Y: from.Y}, from}
		for k := range len(corners) - 1 {
			chain = append(chain, geom.Line(corners[k], corners[k+1]))
		}
		return geom.NewLoop(chain)
	}
	_, sw, _ := l.Nearest(west)
	_, se, _ := l.Nearest(east)
	return []*geom.Loop{
		half(west, east, sw, se, box.Max.X, box.Min.X, box.Min.Y),
		half(east, west, se, sw, box.Min.X, box.Max.X, box.Max.Y),
	}
}

// extreme is a westmost (side -1) or eastmost (side 1) point of a loop.
func extreme(l *geom.Loop, side float64) geom.Point {
	best := l.At(0)
	try := func(p geom.Point) {
		if p.X*side > best.X*side {
			best = p
		}
	}
	for _, g := range l.Segments() {
		try(g.A)
		if g.Arc {
			p := geom.Point{X: g.C.X + side*g.Radius(), Y: g.C.Y}
			if box := g.Box(); math.Abs(p.X-box.Min.X) <= board.Tolerance || math.Abs(p.X-box.Max.X) <= board.Tolerance {
				try(p)
			}
		}
	}
	return best
}

// between is the stretch of an edge between two positions, widened at both
// ends; ok is false where nothing of it is on the edge.
func between(e *board.Edge, from, to, wider float64) (board.Stretch, bool) {
	a, b := e.Range(from, to)
	return board.Stretch{Profile: e.Profile, From: a, To: b}.Widened(wider), b-a > board.Tolerance
}
