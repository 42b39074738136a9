package checks

import (
	"math"
	"slices"

	"hemline/lang"
	"hemline/lang/quantity"
)

// Measure is how far a board goes towards one side of a limit.
type Measure struct {
	Parameter *Parameter
	IsMinimum bool
	// Value is the board's: the greatest minimum, or the least maximum, that it
	// still meets.
	Value quantity.Quantity
	// Never tells that the board fails whatever the limit is (its class asks for more).
	Never bool
}

// MostMeasured is how far apart two things are that a measure still looks at, in nm.
const MostMeasured = 5e6

// Measures finds, for every limit that the board touches, the board's own
// value: by asking the rules that read the limit, with every other limit out
// of the way, at which value they begin to fire. So it is the rules' own
// measure, whatever they measure. Pairs farther apart than MostMeasured do not
// count.
func (c Catalogue) Measures(a *lang.Analysis) []Measure {
	var list []Measure
	for i := range parameters {
		p := &parameters[i]
		var readers []*Rule
		for _, r := range c {
			for _, l := range r.Limits {
				if l == p.Name {
					readers = append(readers, r)
				}
			}
		}
		for _, minimum := range []bool{true, false} {
			if minimum && p.Minimum == "" || !minimum && p.Maximum == "" || len(readers) == 0 {
				continue
			}
			if m, touched := c.measure(a, p, readers, minimum); touched {
				list = append(list, m)
			}
		}
	}
	return list
}

func (c Catalogue) measure(a *lang.Analysis, p *Parameter, readers []*Rule, minimum bool) (Measure, bool) {
	m := Measure{Parameter: p, IsMinimum: minimum}
	unit := builtIn(p.Minimum + p.Maximum).Unit
	if p.Dim == quantity.Length {
		unit = quantity.Millimetre
	}
	least := math.Inf(1)
	if minimum {
		least = c.nearest(a, p, readers)
	}
	if least < 0 {
		m.Never = true
		return m, true
	}
	value, touched := c.turn(a, p, readers, minimum, &m.Never)
	if !touched || minimum && !m.Never && least < value {
		value = least
	}
	if math.IsInf(value, 1) {
		return m, false
	}
	m.Value = quantity.Quantity{Value: value, Dim: p.Dim, Unit: unit}
	return m, true
}

// nearest is how near the pairs come that a limit holds, +Inf for none within
// MostMeasured, under 0 where a pair fails whatever the limit is. It looks
// farther and farther out, as what is near is found soon.
func (c Catalogue) nearest(a *lang.Analysis, p *Parameter, readers []*Rule) float64 {
	readers = slices.DeleteFunc(slices.Clone(readers), func(r *Rule) bool { return r.Least == nil })
	if len(readers) == 0 {
		return math.Inf(1)
	}
	shared := &record{handed: map[any]any{}}
	for reach := builtIn(p.Minimum).Value; ; reach = min(4*reach, MostMeasured) {
		limits := openLimits()
		limits.stated.minimum[p.Name] = Limit{Parameter: p, Quantity: quantity.Quantity{Value: reach, Dim: p.Dim}}
		pass := c.pass(a, Options{Limits: limits})
		pass.before, pass.note = shared, shared
		least := math.Inf(1)
		for _, r := range readers {
			pass.rule = r
			least = min(least, r.Least(pass, p.Name))
		}
		if !math.IsInf(least, 1) || reach >= MostMeasured {
			return least
		}
	}
}

// turn is the value of a limit at which rules begin to fire, pairs held by a
// distance left out; touched is false where they never do.
func (c Catalogue) turn(a *lang.Analysis, p *Parameter, readers []*Rule, minimum bool, never *bool) (value float64, touched bool) {
	limits, shared := openLimits(), &record{handed: map[any]any{}}
	fires := func(v float64) bool {
		l := Limit{Parameter: p, Quantity: quantity.Quantity{Value: v, Dim: p.Dim}}
		if minimum {
			limits.stated.minimum[p.Name] = l
		} else {
			limits.stated.maximum[p.Name] = l
		}
		pass := c.pass(a, Options{Limits: limits})
		pass.measures, pass.before, pass.note = true, shared, shared
		for i, r := range readers {
			if pass.finds(r) {
				readers = readers[i:] // those before do not fire at a laxer value either
				return true
			}
		}
		return false
	}
	const most = 1e18 // more than any length in nm, share, count or moment in base units
	strict, lax := 0.0, float64(most)
	if minimum {
		strict, lax = most, 0
	}
	switch {
	case !fires(strict):
		return math.Inf(1), false
	case fires(lax):
		*never = true
		return lax, true
	}
	usual := p.Maximum
	if minimum {
		usual = p.Minimum
	}
	fires = bracketed(fires, builtIn(usual).Value, lax, strict)
	// lax never fires, strict does: the value is where that changes.
	for range 200 {
		middle := lax + (strict-lax)/2
		if p.Dim == quantity.Length {
			middle = math.Round(middle)
		}
		if middle == lax || middle == strict || math.Abs(strict-lax) <= 1e-12*math.Abs(strict) {
			break
		}
		if fires(middle) {
			strict = middle
		} else {
			lax = middle
		}
	}
	return lax, true
}

// bracketed is fires, which is false at lax and true at strict, with what is
// known of it remembered: a value as lax as one at which nothing fires, or as
// strict as one at which something does, is not tried. The value looked for is
// mostly near the usual one, so that is where to begin.
func bracketed(fires func(float64) bool, usual, lax, strict float64) func(float64) bool {
	try := func(v float64) bool {
		between := lax < v && v < strict || strict < v && v < lax
		if !between {
			return (v-lax)*(strict-lax) > 0
		}
		if fires(v) {
			strict = v
			return true
		}
		lax = v
		return false
	}
	if !(usual > 0) {
		return try
	}
	// Outward from the usual value until one fires and one does not.
	first := try(usual)
	for factor := 4.0; factor < 1e12; factor *= factor {
		v := usual * factor
		if first == (strict > lax) {
			v = usual / factor
		}
		if try(v) != first {
			break
		}
	}
	return try
}

// openLimits are limits that nothing fails.
func openLimits() *Limits {
	l := &Limits{stated: bounds{map[string]Limit{}, map[string]Limit{}}}
	for i := range parameters {
		p := &parameters[i]
		if p.Minimum != "" {
			l.stated.minimum[p.Name] = Limit{Parameter: p, Quantity: quantity.Quantity{Dim: p.Dim}}
		}
		if p.Maximum != "" {
			l.stated.maximum[p.Name] = Limit{Parameter: p, Quantity: quantity.Quantity{Value: math.MaxFloat64, Dim: p.Dim}}
		}
	}
	return l
}
