package board

import (
	"slices"

	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

// Face is one of the board's two faces.
type Face int

// The faces.
const (
	Top Face = iota
	Bottom
)

var faceNames = [...]string{"top", "bottom"}

// String is the face's word in the language.
func (f Face) String() string { return faceNames[f] }

// Faces lists both.
var Faces = [...]Face{Top, Bottom}

// Layer is one layer of the stack.
type Layer struct {
	Name         Name
	Copper       bool
	Thickness    Value
	Base         Value // the foil's thickness
	Permittivity Value
	Loss         Value
	Material     Name // of a dielectric
}

// Stack is the layers, top first.
type Stack struct {
	Item
	Layers []Layer
}

func (m *meaning) stack(r *syntax.Reading, base Item) *Stack {
	s := &Stack{Item: base}
	seen := map[string]bool{}
	for _, c := range r.Clauses {
		if c.Broken {
			continue
		}
		l := Layer{Name: nameOf(c, 0), Copper: c.Spec.Word == "copper", Thickness: m.quantity(c, 1, positive)}
		l.Permittivity = m.quantity(c.Get("permittivity"), 0, positive)
		if e := l.Permittivity; e.Given() && e.Value < 1 {
			m.report(RuleWrongValue, e.At, "relative permittivity is 1 or more, found %s", e.Quantity)
			l.Permittivity = Value{}
		}
		l.Base, l.Material = m.quantity(c.Get("base"), 0, positive), nameOf(c.Get("material"), 0)
		l.Loss = m.quantity(c.Get("loss"), 0, notNegative)
		if seen[l.Name.Text] {
			m.report(RuleDuplicate, l.Name.At, "the stack has a layer named %s already", syntax.Quote(l.Name.Text))
			continue
		}
		seen[l.Name.Text] = true
		s.Layers = append(s.Layers, l)
	}
	return s
}

func (s *Stack) copper() []string {
	if s == nil {
		return nil
	}
	var names []string
	for _, l := range s.Layers {
		if l.Copper {
			names = append(names, l.Name.Text)
		}
	}
	return names
}

// alias reads top and bottom as the outer layers where no layer is named so.
func (s *Stack) alias(layer string) (Face, bool) {
	for _, name := range s.copper() {
		if name == layer {
			return 0, false
		}
	}
	for _, f := range Faces {
		if layer == f.String() {
			return f, true
		}
	}
	return 0, false
}

// Layered lists the layers of a stack that may be nil.
func (s *Stack) Layered() []Layer {
	if s == nil {
		return nil
	}
	return s.Layers
}

// layer holds a layer's name to the stack.
func (m *meaning) layer(v syntax.Value) bool {
	m.reads.stack = true
	name, _ := v.Word()
	stack := m.env.stack()
	for _, k := range stack.copper() {
		if k == name {
			return true
		}
	}
	if _, ok := stack.alias(name); ok {
		return true
	}
	if stack == nil && m.ofTypical {
		return false
	}
	if stack == nil || !stack.Faulty { // a faulty one may lack just this layer
		m.unknown(v.Place(), layerNames, name)
	}
	return false
}

func (m *meaning) face(v syntax.Value) (Face, bool) {
	word, _ := v.Word()
	if i := slices.Index(faceNames[:], word); i >= 0 {
		return Face(i), true
	}
	m.report(RuleUnknownName, v.Place(), "expected top or bottom, found %s", v.Source())
	return 0, false
}

// Thickness is the finished board's: the stack summed, or what the board
// statement says; ok is false where the text says neither.
func (b *Board) Thickness() (Value, bool) { return thickness(b.Stack(), b.Info()) }

func thickness(s *Stack, i *Info) (Value, bool) {
	if s != nil {
		sum := 0.0
		for _, l := range s.Layers {
			sum += l.Thickness.Value
		}
		return Value{quantity.Nanometres(sum), s.Keyword}, true
	}
	if i != nil && i.Thickness.Given() {
		return i.Thickness, true
	}
	return Value{}, false
}

// OuterLayer is the name of the copper layer on a face: the stack's first or
// last, or the face's own word where there is no stack.
func (b *Board) OuterLayer(f Face) string {
	if names := b.CopperLayers(); len(names) > 0 {
		if f == Top {
			return names[0]
		}
		return names[len(names)-1]
	}
	return f.String()
}

// CopperLayers lists the stack's copper layers, top first.
func (b *Board) CopperLayers() []string { return b.Stack().copper() }

// Layers lists the copper layers, top first: the stack's, or the two faces'
// where there is none.
func (b *Board) Layers() []string {
	if names := b.CopperLayers(); len(names) > 0 {
		return names
	}
	return []string{Top.String(), Bottom.String()}
}

// FaceOf tells on which face a copper layer lies; ok is false for an inner one.
// Where no layer has the name, top and bottom stand for the outer layers.
func (b *Board) FaceOf(layer string) (Face, bool) {
	for _, f := range Faces {
		if layer == b.OuterLayer(f) {
			return f, true
		}
	}
	return b.Stack().alias(layer)
}

// SameLayer compares two layer names, top and bottom standing for the outer layers.
func (b *Board) SameLayer(x, y string) bool {
	if x == y {
		return true
	}
	f, ok := b.FaceOf(x)
	g, also := b.FaceOf(y)
	return ok && also && f == g
}
