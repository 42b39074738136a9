// Package board is the model: what a text says of a board, resolved. Names
// have become things, expressions values, positions points of the profile.
// Nothing changes a board once it is built; every item keeps the place in the
// text that it came from.
//
// Lengths are in nanometres as float64: every decimal of a millimetre or a
// mil down to a nanometre is a whole number, so that limits compare exactly.
// The origin is the rectangle's southwest corner, a circle's centre, or what
// the drawn path says; x grows east, y north.
package board

import (
	"maps"
	"sync"

	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// Tolerance, in nanometres, is what computed lengths and points may be off
// by: far above the rounding of float64 on any board, far under a nanometre.
const Tolerance = 0.01

// Value is a quantity and where it stands. An absent one has a Place that is nowhere.
type Value struct {
	quantity.Quantity
	At source.Place
}

// Given tells whether the text states the value.
func (v Value) Given() bool { return v.At.Anchor != nil }

// Name is a name and where it stands.
type Name struct {
	Text string
	At   source.Place
}

// Given tells whether the text states the name.
func (n Name) Given() bool { return n.At.Anchor != nil }

// Item is what every statement's meaning has in common.
type Item struct {
	Name    Name
	Keyword source.Place
	Whole   source.Place // the statement
	// Faulty tells that part of the statement could not be read, so that what
	// it lacks may only be what was not understood.
	Faulty bool
}

// Base gives access to the common part of any item.
func (i *Item) Base() *Item { return i }

// Info is the board statement. Absent values are not Given.
type Info struct {
	Item
	Title, Revision Name
	Frequency       Value // the highest; hertz
	FrequencyLow    Value // the band's lower end; hertz
	Shielding       Value // dB
	Class           Value // 1, 2 or 3
	Thickness       Value // nm
	Current         Value // A
	Rise            Value // K
}

// Layer is one layer of the stack.
type Layer struct {
	Name         Name
	Copper       bool
	Thickness    Value
	Permittivity Value
	Loss         Value
}

// Stack is the layers, top first.
type Stack struct {
	Item
	Layers []Layer
}

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

// Cutout is an opening in the board.
type Cutout struct {
	Item
	Profile *Profile
	// Kind is the shape's keyword: rectangle, circle, slot, or start for a drawn path.
	Kind string
	// Width is the narrow side of a rectangle or slot, a circle's diameter; absent for a drawn path.
	Width Value
}

// Along is one stretch that a plating or fence follows: all of an edge, or a part.
type Along struct {
	Edge     *Edge
	From, To float64 // positions on the edge, nm
	At       source.Place
}

// Plating is a plated edge.
type Plating struct {
	Item
	Along     []Along
	Net       Name
	Wrap      [2]Value // by Face; not Given where the text states none
	Copper    Value
	Extend    Value
	Layers    []Name // layers as stated; none given means those with a plane of its net
	LayersAt  source.Place
	AllLayers bool
	Finish    Name
}

// Gap interrupts a plating.
type Gap struct {
	Item
	Of       Name
	Edge     *Edge
	EdgeAt   source.Place
	From, To float64      // positions on the edge, nm
	Stretch  source.Place // the clauses that say where
	Position Value        // of `at`; absent with `from`
	Width    Value        // of `at`; absent with `from`
	For      Name
	Closed   bool
}

// Pin is a connector's signal pin on one face.
type Pin struct {
	Face          Face
	Width, Length Value
	At            source.Place
}

// Connector launches over an edge.
type Connector struct {
	Item
	Edge       *Edge
	Position   float64 // of its middle, nm along the edge
	PositionAt source.Place
	Body       Value
	Pins       []Pin
	Clearance  Value
	Net        Name
}

// Relief is solder mask taken off.
type Relief struct {
	Item
	Over   Name
	Faces  []Face
	Reach  Value
	Margin Value
}

// FaceNames are the faces' words.
func (r *Relief) FaceNames() []string {
	var list []string
	for _, f := range r.Faces {
		list = append(list, f.String())
	}
	return list
}

// Tab holds the board in its panel.
type Tab struct {
	Item
	Edge          *Edge
	Position      float64 // of its middle, nm along the edge
	PositionAt    source.Place
	Width         Value
	Routed        bool
	Perforated    bool
	Hole, Pitch   Value // of the perforation
	Inset         Value
	Premetallised bool
	Length        Value
}

// From is the position where the tab starts, To where it ends, nm along its edge.
func (t *Tab) From() float64 { return t.Position - t.Width.Value/2 }

// To is the position where the tab ends.
func (t *Tab) To() float64 { return t.Position + t.Width.Value/2 }

// Castellation is a row of plated half holes, or a single one.
type Castellation struct {
	Item
	Edge       *Edge
	From, To   float64 // first and last centre, nm along the edge
	Stretch    source.Place
	Pitch      Value
	Hole       Value
	LandWidth  Value // along the edge
	LandLength Value // inward
	Nets       []Name
	Centres    []float64 // positions of the holes on the edge
}

// Plane is a copper area that follows the profile.
type Plane struct {
	Item
	Layer    Name
	Net      Name
	Pullback Value
}

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

// Fence is a row of stitching vias.
type Fence struct {
	Item
	Along []Along
	Inset Value
	Pitch Value
	Hole  Value
	Net   Name
	Vias  []geom.Point
}

// Limit is one line of a fabricator.
type Limit struct {
	Parameter Name
	Minimum   Value
	Maximum   Value
	Because   Name
	Source    Name
	At        source.Place
}

// Fabricator is what a shop can build.
type Fabricator struct {
	Item
	Offers   []Name
	Finishes []Name
	Limits   []Limit
}

// Acceptance is a finding that is agreed.
type Acceptance struct {
	Item    // Name is the rule's
	On      Name
	Because Name
	Until   Name
}

// Note is a line for the fabrication notes.
type Note struct {
	Item
	Text Name
}

// Let is a named value.
type Let struct {
	Item
	Value quantity.Quantity
	OK    bool // false where its expression has no value
}

// Contents are the items that a text states, each list in the order of the text.
type Contents struct {
	Info        *Info    // nil if the text has no board statement
	Stack       *Stack   // nil if it states none
	Outline     *Profile // nil if it states none, or none that closes
	OutlineItem *Item
	// Open are drawn paths, of the outline or a cutout, that do not come back
	// to their start.
	Open          []*OpenPath
	Cutouts       []*Cutout
	Platings      []*Plating
	Gaps          []*Gap
	Connectors    []*Connector
	Reliefs       []*Relief
	Tabs          []*Tab
	Castellations []*Castellation
	Planes        []*Plane
	Features      []*Feature
	Fences        []*Fence
	Fabricators   []*Fabricator
	Acceptances   []*Acceptance
	Notes         []*Note
	Lets          []*Let
}

// Board is everything a text says.
type Board struct {
	Contents

	geometry *geometry
	platings map[string]*Plating
	walls    []Wall // by Profile.Index
	decoded  []*decoded
	counts   map[string]int
	reads    *reading
	memo     sync.Map
	env      *env
	handed   *sync.Map // from version to version
}

// OpenPath is a drawn path whose end is not its start.
type OpenPath struct {
	Name       string // "outline" or the cutout's
	Start, End geom.Point
	At         source.Place // of the last piece
	Pieces     []geom.Segment
}

// Fabricator in use: the last one stated, counting used files where they are
// used; nil for none.
func (b *Board) Fabricator() *Fabricator {
	if len(b.Fabricators) == 0 {
		return nil
	}
	return b.Fabricators[len(b.Fabricators)-1]
}

// PlatingNamed finds a plating.
func (b *Board) PlatingNamed(name string) *Plating { return b.platings[name] }

// ConnectorNamed finds a connector.
func (b *Board) ConnectorNamed(name string) *Connector { return named(b.Connectors, name) }

// CastellationNamed finds a row of half holes.
func (b *Board) CastellationNamed(name string) *Castellation { return named(b.Castellations, name) }

type item interface{ Base() *Item }

func named[T item](list []T, name string) (found T) {
	for _, x := range list {
		if x.Base().Name.Text == name {
			return x
		}
	}
	return found
}

// Edge finds an edge by its name: south, window.rim.
func (b *Board) Edge(name string) *Edge { return b.geometry.edges[name] }

// Edges lists the edges of the outline and then of the cutouts.
func (b *Board) Edges() []*Edge {
	var list []*Edge
	for _, p := range b.Profiles() {
		list = append(list, p.Edges...)
	}
	return list
}

// Profiles lists the outline, if there is one, and then the cutouts' profiles.
func (b *Board) Profiles() []*Profile { return b.geometry.profiles }

// Wall is what is plated and what is bare on a profile.
func (b *Board) Wall(p *Profile) *Wall { return &b.walls[p.Index] }

// Plated tells whether any stretch of any edge is plated.
func (b *Board) Plated() bool {
	for i := range b.walls {
		if len(b.walls[i].Plated) > 0 {
			return true
		}
	}
	return false
}

// States counts the statements with a keyword, those included that could not
// be read: an absence is one only where nobody tried.
func (b *Board) States(word string) int { return b.counts[word] }

// ReadNames is the set of names that expressions anywhere read. It is shared;
// it must not be changed.
func (b *Board) ReadNames() map[string]bool {
	if b.reads == nil {
		return nil
	}
	b.reads.once.Do(func() {
		b.reads.names = make(map[string]bool, len(b.Lets))
		last := ""
		for _, d := range b.decoded {
			for _, r := range d.reads.names {
				if r.name != last { // neighbours often read the same
					last = r.name
					b.reads.names[last] = true
				}
			}
		}
	})
	return b.reads.names
}

// SameStatements tells whether two versions have as many statements of each
// kind, and whether their expressions read the same names.
func (b *Board) SameStatements(old *Board) (counts, names bool) {
	return maps.Equal(b.counts, old.counts), b.reads == old.reads
}

// Thickness is the finished board's: the stack summed, or what the board
// statement says; ok is false where the text says neither.
func (b *Board) Thickness() (Value, bool) {
	if b.Stack != nil {
		sum := 0.0
		for _, l := range b.Stack.Layers {
			sum += l.Thickness.Value
		}
		return Value{quantity.Nanometres(sum), b.Stack.Keyword}, true
	}
	if b.Info != nil && b.Info.Thickness.Given() {
		return b.Info.Thickness, true
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
func (b *Board) CopperLayers() []string { return b.Stack.copper() }

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

// FaceOf tells on which face a copper layer lies; ok is false for an inner one.
// Where no layer has the name, top and bottom stand for the outer layers.
func (b *Board) FaceOf(layer string) (Face, bool) {
	for _, f := range Faces {
		if layer == b.OuterLayer(f) {
			return f, true
		}
	}
	return b.Stack.alias(layer)
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

// Joins tells whether a plating connects to a copper layer: the layers it
// names, or without a word every layer with a plane of its net.
func (b *Board) Joins(p *Plating, layer string) bool {
	if p.AllLayers {
		return true
	}
	if len(p.Layers) > 0 {
		for _, l := range p.Layers {
			if b.SameLayer(l.Text, layer) {
				return true
			}
		}
		return false
	}
	for _, plane := range b.Planes {
		if plane.Net.Text == p.Net.Text && plane.Net.Given() && b.SameLayer(plane.Layer.Text, layer) {
			return true
		}
	}
	return false
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

// Value is what a name means in an expression: a let, board.thickness,
// south.length and the like; ok is false for one that has no value.
func (b *Board) Value(name string) (quantity.Quantity, bool) {
	q, f := b.env.value(name)
	return q, f == good
}

// Layered lists the layers of a stack that may be nil.
func (s *Stack) Layered() []Layer {
	if s == nil {
		return nil
	}
	return s.Layers
}

// NetOf is the net of half hole number i: the row's one net, or the one given
// in turn; not Given where the text gives none.
func (c *Castellation) NetOf(i int) Name {
	switch {
	case len(c.Nets) == 1:
		return c.Nets[0]
	case i < len(c.Nets):
		return c.Nets[i]
	}
	return Name{}
}

// Memo keeps what was computed of the board under a key, which is of a type of
// the caller's own. What is computed depends on the board alone.
func (b *Board) Memo(key any, compute func() any) any {
	if v, ok := b.memo.Load(key); ok {
		return v
	}
	v, _ := b.memo.LoadOrStore(key, compute())
	return v
}

// Handed keeps something under a key, which is of a type of the caller's own,
// that the versions of one text hand on from each to the next: what it learnt
// of one of them may spare work on another. It is safe for concurrent use if
// what fresh makes is.
func (b *Board) Handed(key any, fresh func() any) any {
	if b.handed == nil {
		return fresh()
	}
	v, ok := b.handed.Load(key)
	if !ok {
		v, _ = b.handed.LoadOrStore(key, fresh())
	}
	return v
}

// Nets lists every net that the text names, in order of first mention.
func (b *Board) Nets() []string {
	var list []string
	seen := map[string]bool{}
	add := func(names ...Name) {
		for _, n := range names {
			if n.Given() && !seen[n.Text] {
				seen[n.Text] = true
				list = append(list, n.Text)
			}
		}
	}
	for _, p := range b.Platings {
		add(p.Net)
	}
	for _, p := range b.Planes {
		add(p.Net)
	}
	for _, c := range b.Connectors {
		add(c.Net)
	}
	for _, c := range b.Castellations {
		add(c.Nets...)
	}
	for _, f := range b.Fences {
		add(f.Net)
	}
	for _, f := range b.Features {
		add(f.Net)
	}
	return list
}
