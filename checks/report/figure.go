package report

import (
	"math"
)

// Figure is one value with its unit, or none with the reason.
type Figure struct {
	Name  string   `json:"name"`
	Value *float64 `json:"value"`
	// Least and Most are the range that the value lies in, where one is stated.
	Least *float64 `json:"least,omitempty"`
	Most  *float64 `json:"most,omitempty"`
	// Bound is "at most" or "at least" where the value is the end of what may be:
	// what is shown is a bound, not the value itself.
	Bound string   `json:"bound,omitempty"`
	Worst *float64 `json:"worst,omitempty"` // with the tolerances that count, where it then differs
	Unit  string   `json:"unit,omitempty"`
	Note  string   `json:"note,omitempty"` // what it holds for, or why there is no value
}

func is(name string, value float64, unit string) Figure {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return none(name, "has no finite value")
	}
	if math.Abs(value) < 1e-9 {
		value = 0 // what is left of rounding
	}
	return Figure{Name: name, Value: &value, Unit: unit}
}

func none(name, why string) Figure { return Figure{Name: name, Note: why} }

// of is a figure that a formula may not apply to.
func of(name string, value float64, ok bool, unit, why string) Figure {
	if !ok {
		return none(name, why)
	}
	return is(name, value, unit)
}

// atWorst adds the figure's worst case, where it differs.
func (f Figure) atWorst(v float64) Figure {
	if f.Value != nil && v != *f.Value {
		f.Worst = &v
	}
	return f
}

// within says the range that the value lies in.
func (f Figure) within(least, most float64) Figure {
	if f.Value != nil {
		f.Least, f.Most = &least, &most
	}
	return f
}

// bound says that the value is the end of what may be.
func (f Figure) bound(word string) Figure {
	if f.Value != nil {
		f.Bound = word
	}
	return f
}

// The words of a bound.
const (
	atMost  = "at most"
	atLeast = "at least"
)

func (f Figure) with(note string) Figure { f.Note = note; return f }

const noThickness = "the board's thickness is not stated"
const noFrequency = "the board states no frequency"
const noCopper = "the wall's copper is not stated"
