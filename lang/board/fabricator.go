package board

import (
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Limit is one line of a fabricator.
type Limit struct {
	Parameter Name
	Minimum   Value
	Maximum   Value
	Because   Name
	Source    Name
	At        source.Place
}

// Fabricator is what a shop can build.
type Fabricator struct {
	Item
	Offers   []Name
	Finishes []Name
	Limits   []Limit
	// Version is that of what the shop states, Checked the day on which somebody
	// looked whether it still holds, Until the last day on which it does.
	Version, Checked, Until Name
}

func (m *meaning) fabricator(r *syntax.Reading, base Item) *Fabricator {
	f := &Fabricator{Item: base, Version: nameOf(r.Get("version"), 0), Checked: m.date(r.Get("checked")), Until: m.date(r.Get("until"))}
	for _, c := range r.Clauses {
		if c.Broken {
			continue
		}
		switch c.Spec.Word {
		case "offers":
			f.Offers = append(f.Offers, namesOf(c)...)
		case "finishes":
			f.Finishes = append(f.Finishes, namesOf(c)...)
		case "limit":
			f.Limits = append(f.Limits, m.limit(c)...)
		}
	}
	return f
}

// limit reads one limit; it has a minimum, a maximum or both.
func (m *meaning) limit(c *syntax.Clause) []Limit {
	l := Limit{Parameter: nameOf(c, 0), Because: nameOf(c.Get("because"), 0), Source: nameOf(c.Get("source"), 0), At: c.Place()}
	bound := func(word string) (v Value) {
		k := c.Get(word)
		if k == nil {
			return v
		}
		if q, ok := m.eval(k.Values[0]); ok {
			v = Value{q, k.Values[0].Place()}
		}
		return v
	}
	if !c.Stands("minimum") && !c.Stands("maximum") {
		m.report(RuleMissing, c.Place(), "expected minimum or maximum: what the limit is")
		return nil
	}
	l.Minimum, l.Maximum = bound("minimum"), bound("maximum")
	if !l.Minimum.Given() && !l.Maximum.Given() {
		return nil
	}
	return []Limit{l}
}
