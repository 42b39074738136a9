package report

import (
	"math"
	"strconv"
)

// Show is a figure as people read it: three significant digits and its unit, as a
// bound or with the range that it lies in.
func (f Figure) Show() string {
	switch {
	case f.told:
		return f.Note
	case f.Value == nil:
		return "does not apply: " + f.Note
	}
	s := f.Bound
	if s != "" {
		s += " "
	}
	s += measure(*f.Value, f.Unit)
	if f.ranged() {
		s += ", between " + number(*f.Least, f.Unit) + " and " + measure(*f.Most, f.Unit)
	}
	if f.worseThanShown() {
		s += ", at worst " + measure(*f.Worst, f.Unit)
	}
	return s
}

// Line is a figure with its name and, where it has a value, its note.
func (f Figure) Line() string { return f.after(": ") }

// said is Line within a sentence.
func (f Figure) said() string { return f.after(" ") }

func (f Figure) after(name string) string {
	s := f.Name + name + f.Show()
	if f.Value != nil && f.Note != "" {
		s += " (" + f.Note + ")"
	}
	return s
}

// cell is a figure in a table, whose head says its unit; a dash where it has no value.
func (f Figure) cell() string {
	if f.Value == nil {
		if f.Worst != nil {
			return "at worst " + number(*f.Worst, f.Unit)
		}
		return "—"
	}
	s := map[string]string{atMost: "≤ ", atLeast: "≥ "}[f.Bound] + number(*f.Value, f.Unit)
	if f.ranged() {
		s += " (" + number(*f.Least, f.Unit) + " to " + number(*f.Most, f.Unit) + ")"
	}
	if f.worseThanShown() {
		s += ", at worst " + number(*f.Worst, f.Unit)
	}
	return s
}

// ranged tells that the range reads otherwise than the value.
func (f Figure) ranged() bool {
	return f.Least != nil && f.Most != nil && (number(*f.Least, f.Unit) != number(*f.Value, f.Unit) || number(*f.Most, f.Unit) != number(*f.Value, f.Unit))
}

// worseThanShown tells that the worst case reads otherwise than the value.
func (f Figure) worseThanShown() bool {
	return f.Worst != nil && number(*f.Worst, f.Unit) != number(*f.Value, f.Unit)
}

// Area is an area in mm² as people read it.
func Area(mm2 float64) string { return measure(mm2, "mm²") }

// measure is a number with its unit.
func measure(v float64, unit string) string {
	if unit == "" {
		return number(v, unit)
	}
	return number(v, unit) + " " + unit
}

// number is a value to three significant digits. A level past mostLevel is no number.
func number(v float64, unit string) string {
	if unit == "dB" && v > mostLevel {
		return "over " + strconv.Itoa(mostLevel)
	}
	return digits(v, unit)
}

// digits is a value to three significant digits, without an exponent; a count,
// which has no unit, is whole.
func digits(v float64, unit string) string {
	if unit != "" || v != math.Trunc(v) {
		// Parsing what was formatted cannot fail.
		v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 3, 64), 64)
	}
	return strconv.FormatFloat(v+0, 'f', -1, 64)
}
