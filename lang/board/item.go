package board

import (
	"slices"
	"strings"
	"unicode"

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

// Answers tells whether the text says something: one that is empty, has signs
// alone, says that it is to be decided or asks for the answer answers nothing.
func (n Name) Answers() bool {
	if !n.Given() {
		return false
	}
	said := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, n.Text)
	return said != "" && !slices.Contains(undecided, said) && !syntax.IsAskedWhy(n.Text)
}

// undecided are the words for what is to be decided, announced or confirmed.
var undecided = []string{"tbd", "tba", "tbc"}

// Choice is a text, or in its place one of a few words.
type Choice struct {
	Name
	Plain bool // a word without quotes
}

// Is tells whether the choice is a word.
func (c Choice) Is(word string) bool { return c.Plain && c.Text == word }

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
	// Row is the name of the row that the item is a member of; not Given where it is none.
	Row   Name
	Whole source.Place // the statement
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
