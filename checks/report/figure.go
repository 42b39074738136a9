package report

import (
	"math"

	"hemline/checks/figures"
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
	// Margin holds it against what is asked for, where something is.
	Margin *Margin `json:"margin,omitempty"`
	told   bool    // that there is no value is what there is to tell: Note says it all
}

// Margin is a figure at its worst against what is asked of it.
type Margin struct {
	Asked  float64 `json:"asked"`            // in the figure's unit
	AtMost bool    `json:"atMost,omitempty"` // what is asked may not be passed; otherwise it is to be reached
	Worst  float64 `json:"worst"`            // what is held against it: the value, or the worse end of its range
	Spare  float64 `json:"sparePercent"`     // what is left over, of what is asked; below 0 it is short
}

func is(name string, value float64, unit string) Figure {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return none(name, "has no finite value")
	}
	if math.Abs(value) < 1e-9 {
		value = 0 // what is left of rounding
	}
	f := Figure{Name: name, Value: &value, Unit: unit}
	if unit == "dB" && value > mostLevel {
		f.Note = "not what limits the shielding"
	}
	return f
}

// mostLevel, dB, is as far as a level is shown as a number: beyond it something that no
// formula here knows limits what a board's edge holds back.
const mostLevel = figures.MostTold

func none(name, why string) Figure { return Figure{Name: name, Note: why} }

// told is what there is to tell where no number is.
func told(name, what string) Figure { return Figure{Name: name, Note: what, told: true} }

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

// toReach holds the figure's worst against what it is asked to reach.
func (f Figure) toReach(asked float64) Figure { return f.against(asked, false) }

// toKeep holds the figure's worst against what it is asked not to pass.
func (f Figure) toKeep(asked float64) Figure { return f.against(asked, true) }

func (f Figure) against(asked float64, atMost bool) Figure {
	if f.Value == nil || asked == 0 {
		return f
	}
	worse := math.Min
	if atMost {
		worse = math.Max
	}
	m := Margin{Asked: asked, AtMost: atMost, Worst: *f.Value}
	for _, v := range []*float64{f.Least, f.Most, f.Worst} {
		if v != nil {
			m.Worst = worse(m.Worst, *v)
		}
	}
	m.Spare = (m.Worst/asked - 1) * 100
	if atMost {
		m.Spare = -m.Spare
	}
	f.Margin = &m
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
