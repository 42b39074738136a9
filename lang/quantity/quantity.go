// Package quantity holds numbers with dimensions and the table of units.
//
// Lengths compare exactly: a number is kept in base units in which every
// decimal of a millimetre or a mil down to a nanometre is a whole number.
package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Quantity is a number with a dimension. Value is in base units: nanometres,
// kilograms, seconds, amperes, kelvins, degrees of arc, decibels, and products
// of these (a frequency is in hertz, a force in kg·nm/s²). Unit is how its
// author wrote it, or nil; it says only how to show the value again.
type Quantity struct {
	Value float64
	Dim   Dimension
	Unit  *Unit
}

// Of makes a quantity of n units.
func Of(n float64, u *Unit) Quantity {
	return Quantity{n*u.scale() + u.Offset, u.Dim, u}
}

// Number is a plain number.
func Number(n float64) Quantity { return Quantity{Value: n} }

// Nanometres is a length that shows itself in millimetres.
func Nanometres(n float64) Quantity { return Quantity{n, Length, Millimetre} }

func (u *Unit) scale() float64 {
	if u.Exponent < 0 {
		return u.Mantissa / pow10(-u.Exponent)
	}
	return u.Mantissa * pow10(u.Exponent)
}

func pow10(n int) float64 { return math.Pow(10, float64(n)) }

// Parse reads a decimal number and gives it a unit (nil for none), without a
// rounding error of the unit's own: the unit's power of ten is joined to the
// number before it is rounded, once, to the nearest float64.
func Parse(number string, u *Unit) (Quantity, error) {
	exponent := 0
	if u != nil {
		exponent = u.Exponent
	}
	mantissa := number
	if i := strings.IndexAny(number, "eE"); i >= 0 {
		e, err := strconv.Atoi(number[i+1:])
		if err != nil {
			return Quantity{}, fmt.Errorf("%s is not a number", number)
		}
		// Past every float64, and before the sum of exponents could overflow.
		e = min(max(e, -10_000), 10_000)
		mantissa, exponent = number[:i], exponent+e
	}
	value, err := strconv.ParseFloat(mantissa+"e"+strconv.Itoa(exponent), 64)
	if err != nil || math.IsInf(value, 0) {
		return Quantity{}, fmt.Errorf("%s is too large a number", number)
	}
	if u == nil {
		return Number(value), nil
	}
	value = value*u.Mantissa + u.Offset
	if math.IsInf(value, 0) {
		return Quantity{}, fmt.Errorf("%s %s is too large", number, u.Name)
	}
	return Quantity{value, u.Dim, u}, nil
}

// In is the quantity as a number of units; they must be of its dimension.
func (q Quantity) In(u *Unit) float64 {
	v := q.Value - u.Offset
	if u.Exponent < 0 {
		return v / u.Mantissa * pow10(-u.Exponent)
	}
	return v / (u.Mantissa * pow10(u.Exponent))
}

// Same tells whether two quantities are equal in value and dimension.
func (q Quantity) Same(r Quantity) bool { return q.Value == r.Value && q.Dim == r.Dim }

// As is the same quantity, shown in u from now on if u fits it.
func (q Quantity) As(u *Unit) Quantity {
	if u != nil && u.Dim == q.Dim {
		q.Unit = u
	}
	return q
}

// String shows the quantity in its author's unit: "0.30 mm", "15 mil", "2.45 GHz".
func (q Quantity) String() string { return q.Text(0) }

// Text is String with at least so many decimals more than usual, for a
// sentence in which two different values must not look the same.
func (q Quantity) Text(more int) string {
	return q.written(func(x float64, u *Unit) string { return decimal(x, decimals(u)+more, least(u)) })
}

// Brief is the quantity in its author's unit to four significant digits, one in mm to
// 0.01 mm at the least: for what is worked out and set beside its margin.
func (q Quantity) Brief() string {
	return q.written(func(x float64, u *Unit) string {
		places := 3
		for v := math.Abs(x); v >= 10 && places > 0; v /= 10 {
			places--
		}
		for v := math.Abs(x); v > 0 && v < 1 && places < decimals(u); v *= 10 {
			places++
		}
		return decimal(x, max(least(u), min(places, decimals(u))), least(u))
	})
}

// Rough is the quantity, 0 or more, to a hundredth of its author's unit, where it is under
// a tenth to two significant digits; it is rounded up or down, as is safe.
func (q Quantity) Rough(up bool) string {
	return q.written(func(x float64, u *Unit) string {
		places := 2
		for v := x; v > 0 && v < 0.1 && places < 9; v *= 10 {
			places++
		}
		step := pow10(places)
		n := x * step
		switch whole := math.Round(n); { // what binary fractions are off is no remainder
		case math.Abs(n-whole) < 1e-6:
			n = whole
		case up:
			n = math.Ceil(n)
		default:
			n = math.Floor(n)
		}
		return decimal(n/step, places, least(u))
	})
}

// plain stands for no unit.
var plain = &Unit{}

// written is the quantity in its author's unit, else in the main one of its dimension.
func (q Quantity) written(number func(float64, *Unit) string) string {
	u := q.Unit
	if u == nil || u.Dim != q.Dim {
		if u = mainUnit(q.Dim); u == nil {
			if q.Dim == None {
				return number(q.Value, plain)
			}
			return number(q.Value, plain) + " (" + strings.TrimPrefix(q.Dim.String(), "a quantity in ") + ", base units)"
		}
	}
	shown := number(q.In(u), u)
	if u == Percent {
		return shown + " %"
	}
	return shown + " " + u.Name
}

// readily are the steps by which a length is stated, by its unit, in it.
var readily = map[string]float64{"mm": 0.01, "um": 1, "mil": 0.5, "in": 0.0005}

// Readily is a length rounded up to what is readily stated in a unit: as it is where it comes out exact
// with so many decimals at most, and where it is no length or the unit has no such steps.
func (q Quantity) Readily(unit *Unit, most int) Quantity {
	step, ok := readily[unit.Name]
	if _, exact := q.Exact(unit, most); exact || !ok || q.Dim != unit.Dim {
		return q
	}
	// A millionth of a step counts as none: what is left of binary fractions is far less.
	up := math.Round(math.Ceil(q.In(unit)/step-1e-6)*step*1e6) / 1e6
	r, err := Parse(strconv.FormatFloat(up, 'f', -1, 64), unit)
	if err != nil {
		return q
	}
	return r
}

// Exact writes the quantity in a unit of its dimension with as few decimals as
// mean the very same value; ok is false where so many do not.
func (q Quantity) Exact(unit *Unit, most int) (text string, ok bool) {
	for decimals := 0; decimals <= most; decimals++ {
		s := strconv.FormatFloat(q.In(unit), 'f', decimals, 64)
		if r, err := Parse(s, unit); err == nil && r.Value == q.Value {
			return s + " " + unit.Name, true
		}
	}
	return "", false
}

func mainUnit(d Dimension) *Unit {
	switch d {
	case Length:
		return Millimetre
	case Frequency:
		return Gigahertz
	case Moment:
		return NewtonMillimetre
	case Resistance:
		return Milliohm
	case None:
		return nil
	}
	for i := range units {
		if units[i].Dim == d {
			return &units[i]
		}
	}
	return nil
}

// decimals is how many places a unit is shown to at the most: a length to
// 0.1 µm, which is finer than anything a shop holds.
func decimals(u *Unit) int {
	switch u.Name {
	case "nm", "deg":
		return 2
	case "um", "µm", "μm":
		return 2
	case "m":
		return 6
	case "in":
		return 5
	case "mil", "%", "dB", "degC", "K", "Nmm":
		return 2
	}
	return 4
}

// least is how many places a unit is shown to at the least.
func least(u *Unit) int {
	if u.Name == "mm" {
		return 2
	}
	return 0
}

// decimal writes v with at most most decimals, and no trailing zeros past least.
func decimal(v float64, most, least int) string {
	if v == 0 {
		v = 0 // no minus sign on a zero
	}
	s := strconv.FormatFloat(v, 'f', most, 64)
	if !strings.Contains(s, ".") {
		return s
	}
	keep := strings.IndexByte(s, '.') + 1 + least
	for len(s) > keep && s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	return strings.TrimSuffix(s, ".")
}

// Pair shows two quantities of one dimension in a sentence that sets one
// against the other: in the first one's unit, with as many decimals as it
// takes for different values to look different.
func Pair(measured, needed Quantity) (string, string) {
	needed = needed.As(measured.Unit)
	for more := 0; ; more++ {
		a, b := measured.Text(more), needed.Text(more)
		if a != b || measured.Value == needed.Value || more == 9 {
			return a, b
		}
	}
}
