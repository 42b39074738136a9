// Package copper is the map of the metal: what of a board lies where, on each
// layer and face, of which net and of which statement. It is worked out once
// from the board; what comes nearer to what than the distances that it is
// handed is found there, and nowhere else. It knows no limits.
//
// Lengths are in nanometres, as in a board.
package copper

import (
	"strings"

	"hemline/lang/board"
)

// Kind is what a piece is. Walls, barrels, vias and holes go through the whole
// board.
type Kind uint8

// The kinds of pieces.
const (
	Wall        Kind = iota // a plated stretch of a profile: a line
	Wrap                    // the copper that it turns over a face
	Strip                   // the copper of a plating on a layer that it joins and where no plane of its net comes to its wall
	Run                     // the copper by which a plane runs to a wall of its net
	Barrel                  // a half hole
	Land                    // its land
	Via                     // a fence's hole
	Pad                     // its pad
	PlatedHole              // a plated hole
	Ring                    // the land of a plated hole
	Drilled                 // an unplated hole
	Pin                     // a connector's pin
	Body                    // its metal
	Feature                 // other copper
	Plane                   // a plane: its shape is worked out where it is asked for
	Tab                     // a tab's root on the profile: a line
	Perforation             // a hole of a tab's row
	Cutout                  // an opening in the board
	Edge                    // a bare stretch of a profile: a line
	Opening                 // where solder mask comes off
	Kinds                   // how many there are
)

var kindNames = [Kinds]string{"wall", "wrap", "strip", "run of a plane", "half hole", "land of a half hole", "via", "pad of a via",
	"plated hole", "land of a hole", "unplated hole", "pin", "body", "feature", "plane", "tab", "perforation", "cutout", "bare edge", "mask opening"}

// String is the kind's name in the trade.
func (k Kind) String() string { return kindNames[k] }

// Copper tells whether pieces of the kind are copper of a net.
func (k Kind) Copper() bool {
	switch k {
	case Wall, Wrap, Strip, Run, Barrel, Land, Via, Pad, PlatedHole, Ring, Pin, Feature, Plane:
		return true
	}
	return false
}

// line tells whether a piece of the kind has no area.
func (k Kind) line() bool { return k == Wall || k == Edge || k == Tab }

// Layers is a set of copper layers, the top one being bit 0. Layers past the
// sixty-fourth count as the sixty-fourth.
type Layers uint64

// Through is every layer.
const Through = ^Layers(0)

// Face is the face that the piece lies on; ok is false for one on an inner
// layer, or on more than one.
func (m *Map) Face(p *Piece) (board.Face, bool) {
	switch p.Layers {
	case m.faces[board.Top]:
		return board.Top, true
	case m.faces[board.Bottom]:
		return board.Bottom, true
	}
	return 0, false
}

// Outer tells whether a set holds an outer layer, and whether it holds an inner one.
func (m *Map) Outer(l Layers) (outer, inner bool) {
	both := m.faces[board.Top] | m.faces[board.Bottom]
	return l&both != 0, l&m.all&^both != 0
}

// Names lists the names of the layers in a set, top first.
func (m *Map) Names(l Layers) string {
	var list []string
	for i, n := range m.levels {
		if l&bit(i) != 0 {
			list = append(list, n)
		}
	}
	return strings.Join(list, ", ")
}

func bit(i int) Layers { return 1 << min(i, 63) }

// Layer is the layer with a name, top and bottom standing for the outer ones.
func (m *Map) Layer(name string) Layers {
	if l, ok := m.byName[name]; ok {
		return l
	}
	return 0
}
