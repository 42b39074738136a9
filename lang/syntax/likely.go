package syntax

import "hemline/lang/quantity"

// Likely is what is plausible for a length of a clause. It is no limit of a
// shop's, but what tells a slip of units: 25 mm of copper, a hole of 0.3 m.
type Likely struct {
	Least, Most quantity.Quantity
	// Foil tells that a copper weight may be meant.
	Foil   bool
	Source string
}

// Within is a range between two lengths as the language writes them.
func Within(least, most, source string) Likely {
	a, _ := Quantity(least)
	b, _ := Quantity(most)
	return Likely{Least: a, Most: b, Source: source}
}

// Holds tells whether a length, nm, is plausible, whichever way it points; none
// at all is everywhere.
func (l *Likely) Holds(nm float64) bool {
	nm = max(nm, -nm)
	return nm == 0 || l.Least.Value <= nm && nm <= l.Most.Value
}

// slips are the units that are meant where one is written, the likeliest first.
var slips = map[string][]string{
	"nm":  {"um", "mm"},
	"um":  {"mm", "mil"},
	"mm":  {"um", "mil"},
	"cm":  {"mm", "um"},
	"m":   {"mm", "um", "mil"},
	"mil": {"um", "mm", "in"},
	"in":  {"mil", "mm", "um"},
	"oz":  {"um", "mil", "mm"},
}

// Meant is the length that is likely meant by one that is not plausible: the
// same number in another unit; ok is false where none makes it plausible.
func (l *Likely) Meant(q quantity.Quantity) (meant quantity.Quantity, ok bool) {
	if q.Unit == nil {
		return q, false
	}
	written := q.Unit.Name
	if q.Unit.Mantissa == quantity.Micrometre.Mantissa && q.Unit.Exponent == quantity.Micrometre.Exponent {
		written = "um" // however it is spelt
	}
	next := slips[written]
	if l.Foil && written != "oz" {
		next = append([]string{"um", "oz"}, next...)
	}
	number, ok := q.Exact(q.Unit, 9)
	if !ok {
		return q, false
	}
	number = number[:len(number)-len(" "+q.Unit.Name)]
	for _, name := range next {
		if name == written {
			continue
		}
		unit, _ := quantity.UnitNamed(name)
		if m, err := quantity.Parse(number, unit); err == nil && l.Holds(m.Value) {
			return m, true
		}
	}
	return q, false
}

const (
	practice = "common practice, no source"
	boards   = "fabricators' capability tables and common panels of 584 mm by 431 mm, ten times either way"
	drills   = "fabricators' drill tables, 0.1 to 6.5 mm, and what is routed round"
	foils    = "copper foils and plated copper, a quarter of an ounce to 12 oz"
)

// likely is what is plausible for each clause of a length, by the words that
// lead to it. A test holds it to the vocabulary. The ranges are wide: what is
// within them is for the rules to judge.
var likely = map[string]Likely{
	"board thickness": Within("0.1 mm", "12 mm", "boards of 0.6 to 5.1 mm are plated on the edge, others down to a foil; "+practice),

	"stack copper":      foil(Within("4 um", "500 um", foils)),
	"stack copper base": foil(Within("4 um", "500 um", foils)),
	"stack dielectric":  Within("5 um", "10 mm", practice),

	"outline rectangle": Within("1.5 mm", "2 m", boards), "outline rectangle by": Within("1.5 mm", "2 m", boards),
	"outline rectangle corner": Within("0.02 mm", "500 mm", practice),
	"outline circle":           Within("1.5 mm", "2 m", boards),
	"cutout rectangle":         Within("0.1 mm", "1 m", boards), "cutout rectangle by": Within("0.1 mm", "1 m", boards),
	"cutout rectangle corner": Within("0.02 mm", "500 mm", practice),
	"outline line corner":     Within("0.02 mm", "500 mm", practice), "outline arc corner": Within("0.02 mm", "500 mm", practice), "outline close corner": Within("0.02 mm", "500 mm", practice),
	"cutout line corner": Within("0.02 mm", "500 mm", practice), "cutout arc corner": Within("0.02 mm", "500 mm", practice), "cutout close corner": Within("0.02 mm", "500 mm", practice),
	"cutout circle": Within("0.1 mm", "1 m", boards),
	"cutout slot":   Within("0.1 mm", "1 m", boards), "cutout slot by": Within("0.1 mm", "500 mm", boards),

	"hole diameter": Within("0.05 mm", "25 mm", drills),
	"hole land":     Within("0.1 mm", "50 mm", drills),

	"plating wrap":         Within("0.05 mm", "20 mm", "fabricators ask for 0.2 to 0.5 mm; a wrap of more than 20 mm is a plane's"),
	"plating copper":       Within("3 um", "200 um", "18 to 30 µm on walls; "+practice),
	"plating copper least": Within("3 um", "200 um", "18 to 20 µm on walls; "+practice),
	"plating extend":       Within("0.03 mm", "5 mm", "fabricators ask for up to 0.5 mm past the profile"),

	"gap width": Within("0.1 mm", "500 mm", "final router bits of 0.8 to 3 mm, up to a whole edge"),

	"connector body":          Within("0.2 mm", "200 mm", practice),
	"connector body reach":    Within("0.05 mm", "100 mm", practice),
	"connector body overhang": Within("0.05 mm", "200 mm", practice),
	"connector pin width":     Within("0.1 mm", "20 mm", practice),
	"connector pin length":    Within("0.1 mm", "50 mm", practice),
	"connector clearance":     Within("0.03 mm", "20 mm", practice),
	"connector legs width":    Within("0.05 mm", "50 mm", practice),
	"connector legs length":   Within("0.1 mm", "50 mm", practice),
	"connector legs spacing":  Within("0.2 mm", "200 mm", practice),
	"fence clearance":         Within("0.03 mm", "20 mm", practice),

	"connector opens margin": Within("0.05 mm", "100 mm", "as of connector clearance, up to a whole edge"),
	"connector opens span":   Within("0.1 mm", "500 mm", "as of gap width"),

	"relief reach":  Within("0.05 mm", "50 mm", practice),
	"relief margin": Within("0.01 mm", "20 mm", "fabricators' design rules, 0.025 to 0.1 mm beyond the copper"),

	"tab width":            Within("0.2 mm", "50 mm", "1.5 to 5 mm in published tab rules"),
	"tab perforated hole":  Within("0.05 mm", "5 mm", "0.38 to 0.7 mm in published tab rules"),
	"tab perforated pitch": Within("0.1 mm", "20 mm", "0.635 to 1 mm in published tab rules"),
	"tab perforated inset": Within("0.01 mm", "5 mm", "on the profile, or slightly inside it, in published tab rules"),
	"tab length":           Within("0.2 mm", "50 mm", "slots of 1.6 to 10 mm to the frame in published panel rules"),

	"tab opens margin":   Within("0.05 mm", "100 mm", "0.5 mm beside a tab; "+practice),
	"tab opens span":     Within("0.1 mm", "500 mm", "as of gap width"),
	"tab removal within": Within("0.005 mm", "5 mm", practice),

	"plating finish thickness": Within("10 nm", "50 um", "gold of 0.05 µm to nickel of 6 µm and tin of some tens; "+practice),

	"castellation pitch":   Within("0.2 mm", "100 mm", "0.8 to 2.54 mm in fabricators' guides, and a hole at each end"),
	"castellation hole":    Within("0.1 mm", "6.5 mm", "0.35 to 1.2 mm in fabricators' guides; drills end at 6.5 mm"),
	"castellation land":    Within("0.1 mm", "20 mm", practice),
	"castellation land by": Within("0.1 mm", "20 mm", practice),

	"plane pullback": Within("0.02 mm", "100 mm", "0.25 to 0.8 mm in fabricators' rules; "+practice),

	"feature rectangle": Within("0.02 mm", "1 m", practice), "feature rectangle by": Within("0.02 mm", "1 m", practice),
	"feature circle": Within("0.02 mm", "1 m", practice),

	"fence inset":          Within("0.1 mm", "100 mm", practice),
	"fence pitch":          Within("0.1 mm", "100 mm", "a twentieth of a wavelength; "+practice),
	"fence land":           Within("0.1 mm", "20 mm", practice),
	"tolerance outline":    Within("0.005 mm", "5 mm", practice),
	"tolerance thickness":  Within("0.005 mm", "2 mm", practice),
	"tolerance gaps":       Within("0.005 mm", "5 mm", practice),
	"tolerance cutouts":    Within("0.005 mm", "5 mm", practice),
	"tolerance holes":      Within("0.005 mm", "2 mm", practice),
	"tolerance half_holes": Within("0.005 mm", "2 mm", practice),
	"tolerance position":   Within("0.005 mm", "5 mm", practice),
	"tolerance mask":       Within("0.005 mm", "2 mm", practice),

	"criteria voids maximum":    Within("0.01 mm", "20 mm", practice),
	"criteria blisters maximum": Within("0.01 mm", "20 mm", practice),
	"criteria burrs maximum":    Within("0.005 mm", "5 mm", practice),

	"fence hole": Within("0.05 mm", "6.5 mm", "drilled vias; drills end at 6.5 mm"),
}

func foil(l Likely) Likely {
	l.Foil = true
	return l
}

func init() {
	var walk func(path string, s *Spec)
	walk = func(path string, s *Spec) {
		for i := range s.Args {
			if a := &s.Args[i]; a.Kind == VQuantity && a.Dim == quantity.Length {
				if l, ok := likely[path]; ok {
					a.Likely = &l
				}
			}
		}
		for _, c := range s.Clauses {
			walk(path+" "+c.Word, c)
		}
	}
	for _, s := range vocabulary {
		walk(s.Word, s)
	}
}
