package quantity

import (
	"fmt"
	"strings"
)

// Dimension is the kind of a quantity as exponents of the base dimensions.
// Angles and levels are kept apart from plain numbers on purpose: sin(3) and
// 3 dB + 2 are slips, not sums. A temperature, counted from where its scale
// starts, is another thing than a difference of two.
type Dimension struct{ length, time, mass, current, temperature, celsius, angle, level int8 }

// The dimensions that have units or that clauses ask for.
var (
	None        = Dimension{}
	Length      = Dimension{length: 1}
	Area        = Dimension{length: 2}
	Frequency   = Dimension{time: -1}
	Mass        = Dimension{mass: 1}
	Current     = Dimension{current: 1}
	Difference  = Dimension{temperature: 1} // of two temperatures
	Temperature = Dimension{celsius: 1}
	Angle       = Dimension{angle: 1}
	Level       = Dimension{level: 1}
	Force       = Dimension{length: 1, mass: 1, time: -2}
	Moment      = Dimension{length: 2, mass: 1, time: -2}
	Power       = Dimension{length: 2, mass: 1, time: -3}
	Voltage     = Dimension{length: 2, mass: 1, time: -3, current: -1}
	Resistance  = Dimension{length: 2, mass: 1, time: -3, current: -2}
)

var dimensionNames = map[Dimension]string{
	None: "a plain number", Length: "a length", Area: "an area", Frequency: "a frequency", Mass: "a mass",
	Current: "a current", Difference: "a difference of temperature", Temperature: "a temperature", Angle: "an angle", Level: "a level", Force: "a force",
	Moment: "a moment", Power: "a power", Voltage: "a voltage", Resistance: "a resistance",
}

// String names the dimension with its article: "a length", "a frequency",
// and for one without a name its base units: "a quantity in m²·s⁻¹".
func (d Dimension) String() string {
	if name, ok := dimensionNames[d]; ok {
		return name
	}
	var b strings.Builder
	for _, f := range []struct {
		unit string
		exp  int8
	}{{"kg", d.mass}, {"m", d.length}, {"s", d.time}, {"A", d.current}, {"K", d.temperature}, {"degC", d.celsius}, {"deg", d.angle}, {"dB", d.level}} {
		if f.exp == 0 {
			continue
		}
		if b.Len() > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(f.unit)
		if f.exp != 1 {
			fmt.Fprintf(&b, "^%d", f.exp)
		}
	}
	return "a quantity in " + b.String()
}

// Example is a spelling of a quantity of this dimension, for messages that
// say what was expected; empty for one without a unit.
func (d Dimension) Example() string {
	for i := range units {
		u := &units[i]
		if u.Dim != d || u.Name == "nm" || u.Name == "um" || u.Name == "µm" || u.Name == "μm" || u.Name == "%" {
			continue
		}
		return "1.5 " + u.Name
	}
	return ""
}

func (d Dimension) combine(e Dimension, sign int8) (Dimension, bool) {
	ok := true
	add := func(a, b int8) int8 {
		sum := int(a) + int(sign)*int(b)
		if sum < -100 || sum > 100 {
			ok = false
		}
		return int8(sum)
	}
	return Dimension{
		add(d.length, e.length), add(d.time, e.time), add(d.mass, e.mass), add(d.current, e.current),
		add(d.temperature, e.temperature), add(d.celsius, e.celsius), add(d.angle, e.angle), add(d.level, e.level),
	}, ok
}

// halve is the dimension of a square root.
func (d Dimension) halve() (Dimension, bool) {
	for _, e := range []int8{d.length, d.time, d.mass, d.current, d.temperature, d.celsius, d.angle, d.level} {
		if e%2 != 0 {
			return d, false
		}
	}
	return Dimension{d.length / 2, d.time / 2, d.mass / 2, d.current / 2, d.temperature / 2, d.celsius / 2, d.angle / 2, d.level / 2}, true
}
