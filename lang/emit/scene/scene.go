// Package scene turns a board into plain shapes: what lies where, what it is
// called, how big it is and which statement says so. It is what every drawing
// starts from and knows nothing of pages, screens or protocols.
//
// Lengths are in millimetres, x grows east and y north, both faces are seen
// from the top. Arcs stay arcs. Nothing is rounded, and nothing is cut: what
// ends at the board's edge is marked Clipped, and what is taken away from a
// shape is listed beside it, so that every shape is as exact as the model.
package scene

import (
	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// Point is a place or a direction; a place is in mm.
type Point struct{ X, Y float64 }

// Step is one piece of a path: a straight line to a point, or an arc about Centre.
type Step struct {
	To             Point
	Arc, Clockwise bool
	Centre         Point
}

// Path is a run of lines and arcs. An arc that ends where it starts is a full circle.
type Path struct {
	Start  Point
	Steps  []Step
	Closed bool
}

// Side is where a part lies in the board's thickness.
type Side int

// The sides.
const (
	Through Side = iota // from face to face
	Top
	Bottom
	Inside // on an inner copper layer
)

// Role says what a part is of.
type Role string

// The roles of parts.
const (
	Profile  Role = "profile"   // the outline's or a cutout's edge
	Unclosed Role = "unclosed"  // what is missing of a path that does not close
	Plated   Role = "plated"    // metal on the edge; Width is its copper's thickness
	Wrap     Role = "wrap"      // copper turned over a face
	Bare     Role = "bare"      // where a gap interrupts the plating
	Tab      Role = "tab"       // the bridge to the panel
	Hole     Role = "hole"      // drilled, not plated
	HalfHole Role = "half hole" // plated, cut through by the edge
	Land     Role = "land"      // copper round a half hole, a hole or a via
	Opening  Role = "opening"   // solder mask taken off
	Body     Role = "body"      // a connector's body
	Pin      Role = "pin"       // the land of a connector's pin
	Copper   Role = "copper"    // a feature
	Plane    Role = "plane"     // a copper area
	Via      Role = "via"       // a plated hole, of a fence or on its own
)

// Part is shapes of one item that are drawn alike. The shape is the union of
// the closed Paths, less that of Less.
type Part struct {
	Role  Role
	Side  Side
	Layer string // the copper layer's name, for a part that lies on one
	Paths []Path
	Less  []Path
	// Clipped tells that the shape ends at the board's edge and at cutouts.
	Clipped bool
	// Width is what a line stands for, mm; 0 for a line without thickness.
	Width float64
	// Nominal tells that how far the shape reaches out of the board is not
	// stated, and that it is drawn with a length of the trade's custom.
	Nominal bool
	// Rise is how far a body stands above the top face and below the bottom one, mm:
	// nothing that the text states, so a share of its width.
	Rise float64
}

// Fact is a dimension or a property: a number with a unit (mm, a share in %,
// or none for a count), or a text.
type Fact struct {
	Label string
	Value float64
	Unit  string
	Text  string
}

// Item is what one statement puts on the board.
type Item struct {
	// ID names the item for as long as its keyword and name stay: "gap g1".
	ID    string
	Kind  string // the statement's keyword
	Name  string
	Of    string // in a few words, what kind of it: "perforated, premetallised"
	Parts []Part
	Facts []Fact
	// At is where it can be pointed at; Out is the unit direction away from the
	// board there, zero for an item inside it.
	At, Out Point
	// Ends are, for an item that is a run of an edge, its two ends and the
	// unit direction into the board at each.
	Ends  []End
	Place source.Place // the statement
}

// End is an end of a run along an edge.
type End struct{ At, In Point }

// Edge is a named edge: its middle, the way out of the board there, and the
// way its positions run.
type Edge struct {
	Name             string
	Middle, Out, Way Point
	Length           float64 // mm
	Cutout           bool
	Closed           bool // it is all of its profile
}

// Scene is a board as shapes.
type Scene struct {
	Name, Title, Revision string
	Thickness             float64 // mm; 0 where the text states none
	Levels                []Level // in the thickness, or in the nominal one
	MaskMargin            float64 // nm, of reliefs that state none
	// Outline and Cutouts bound the board: it lies inside the one and outside
	// the others, which may overlap or leave it. Empty without an outline.
	Outline, Cutouts []Path
	// Min and Max are the corners of the box round everything; both zero where
	// there is nothing.
	Min, Max Point
	Items    []Item // in the order of the text
	Edges    []Edge
	Inner    []string // the inner copper layers that something lies on, top first
}

// Drawn is the thickness that the board is drawn with as a solid, mm.
func (s *Scene) Drawn() float64 {
	if s.Thickness > 0 {
		return s.Thickness
	}
	return NominalThickness
}

// On lists the items, by number, whose statement a place lies in.
func (s *Scene) On(p source.Place) []int {
	if p.Anchor == nil {
		return nil
	}
	var list []int
	for i := range s.Items {
		if s.Items[i].Place.Anchor == p.Anchor {
			list = append(list, i)
		}
	}
	return list
}

const mm = quantity.NmPerMillimetre

func at(p geom.Point) Point { return Point{p.X / mm, p.Y / mm} }

func way(p geom.Point) Point { return Point(p) }

// chain turns segments, each starting where the one before ends, into a path.
func chain(segs []geom.Segment, closed bool) Path {
	if len(segs) == 0 {
		return Path{}
	}
	p := Path{Start: at(segs[0].A), Closed: closed, Steps: make([]Step, len(segs))}
	for i, g := range segs {
		p.Steps[i] = Step{To: at(g.B)}
		if g.Arc {
			p.Steps[i] = Step{To: at(g.B), Arc: true, Clockwise: g.Clockwise, Centre: at(g.C)}
		}
	}
	return p
}

func loops(list ...*geom.Loop) []Path {
	out := make([]Path, 0, len(list))
	for _, l := range list {
		out = append(out, chain(l.Segments(), true))
	}
	return out
}

func sideOf(f board.Face) Side {
	if f == board.Top {
		return Top
	}
	return Bottom
}

// onLayer is the side that a copper layer lies on.
func onLayer(b *board.Board, layer string) Side {
	if f, ok := b.FaceOf(layer); ok {
		return sideOf(f)
	}
	return Inside
}
