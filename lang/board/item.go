package board

import (
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
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

// AsNet says which net a name makes: "net GND", or "no net" where none is stated.
func (n Name) AsNet() string {
	if !n.Given() {
		return "no net"
	}
	return "net " + n.Text
}

// Item is what every statement's meaning has in common.
type Item struct {
	Name    Name
	Keyword source.Place
	Whole   source.Place // the statement
	// Unlikely are its lengths that are not plausible, in the order in which they are read.
	Unlikely []Unlikely
	// Faulty tells that part of the statement could not be read, so that what
	// it lacks may only be what was not understood.
	Faulty bool
}

// Unlikely is a length that is not plausible for its clause.
type Unlikely struct {
	Clause string // its keyword
	Range  *syntax.Likely
	Value  Value
	// Plain tells that it is written as a number with its unit, and no more.
	Plain bool
}

// Base gives access to the common part of any item.
func (i *Item) Base() *Item { return i }

type item interface{ Base() *Item }

func named[T item](list []T, name string) (found T) {
	for _, x := range list {
		if x.Base().Name.Text == name {
			return x
		}
	}
	return found
}
