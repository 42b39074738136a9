package figures

import (
	"fmt"

	"hemline/lang/board"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// Tolerance is how far off a size or a place may be, either way, and who says so.
type Tolerance struct {
	Clause            string // of the statement `tolerance`
	quantity.Quantity        // of the thickness it may be a share
	// Who is the shop that holds it where the board's text states none, or
	// "common practice"; "" for one that the text states.
	Who string
	At  source.Place // where it is said; nowhere for common practice
}

// Tolerances gives the tolerance that counts for a clause of `tolerance`.
type Tolerances func(clause string) Tolerance

// whose says what a clause of `tolerance` is about.
var whose = map[string]string{"outline": "the outline's", "thickness": "the thickness's", "gaps": "the gaps'", "cutouts": "the cutouts'",
	"holes": "the holes'", "half_holes": "the half holes'", "position": "the positions'", "mask": "the mask's"}

// Says names a tolerance, the things that each are off by it ("at each end", or
// ""), and whose it is where the board's text does not state it.
func (t Tolerance) Says(each string) string {
	s := whose[t.Clause] + " tolerance of " + t.Quantity.String() + each
	switch t.Who {
	case "":
		return s
	case "common practice":
		return s + ", which is common practice"
	}
	return s + ", which is the shop's"
}

// Size is a length as it is drawn and at worst, nm.
type Size struct {
	Nominal, Worst float64
	// By is the tolerance that makes the worst case, and Each where it counts, as
	// " at each end".
	By   Tolerance
	Each string
}

// Because is what makes the worst case: "the gaps' tolerance of 0.2 mm at each end".
func (s Size) Because() string { return s.By.Says(s.Each) }

// AtWorst is the worst case, as it is written, and what makes it.
func (s Size) AtWorst(worst string) string {
	return fmt.Sprintf("at worst %s with %s", worst, s.Because())
}

// String is a size with its worst case, if that differs.
func (s Size) String() string {
	is := quantity.Nanometres(s.Nominal).String()
	if s.Worst-s.Nominal <= board.Tolerance {
		return is
	}
	return is + ", " + s.AtWorst(quantity.Nanometres(s.Worst).String())
}

// Bound is a level as drawn and at worst, dB.
type Bound struct{ Nominal, Worst float64 }

// PitchOf is how far apart neighbouring vias of a fence are: at worst each of
// two is off its place, away from the other.
func PitchOf(f *board.Fence, tolerances Tolerances) Size {
	return apart(f.Pitch.Value, tolerances)
}

// WayOf is the longest way from one via of a fence to the next, as PitchOf: the
// pitch, or that over vias that are left out or from one row to another.
func WayOf(f *board.Fence, tolerances Tolerances) Size { return apart(f.Widest(), tolerances) }

func apart(way float64, tolerances Tolerances) Size {
	by := tolerances("position")
	return Size{Nominal: way, Worst: way + 2*by.Value, By: by, Each: " at each via"}
}
