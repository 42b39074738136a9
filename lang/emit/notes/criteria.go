package notes

import (
	"strings"

	"hemline/lang/board"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// faults are the clauses of `criteria` on faults of plated copper, which one
// sentence has.
var faults = []struct{ clause, none, some string }{
	{"voids", "no void", "voids of at most "}, {"blisters", "no blister", "blisters of at most "}, {"burrs", "no burr and no nodule", "burrs and nodules of at most "},
}

// accepted is what each further clause of `criteria` is of, but `continuity`, which
// is measured along each plating.
var accepted = []struct{ clause, none, says string }{
	{"adhesion", "", "Wall adhesion: %s."},
	{"microsection", "", "Microsections: %s."},
	{"coupon", "Make no coupon of the plated edge.", "Make a coupon of the plated edge."},
	{"electrical_test", "Boards are not tested electrically.", "Electrical test: %s."},
	{"bow", "", "Bow and twist: at most %s."},
	{"sample", "", "Boards to measure: %s."},
}

func (m *maker) criteria() {
	m.faults()
	for _, x := range accepted {
		c := m.b.CriterionOf(x.clause)
		switch {
		case !c.Answers():
		case c.Is("none"):
			m.say(Criteria, at(c.Clause), "%s", x.none)
		case c.Maximum.Given():
			m.say(Criteria, at(c.Clause), x.says, most(c.Maximum))
		case x.clause == "coupon":
			m.say(Criteria, at(c.Clause), "%s", x.says)
		case c.Is("all"):
			m.say(Criteria, at(c.Clause), x.says, "every board")
		default:
			m.say(Criteria, at(c.Clause), x.says, ended(c.Text))
		}
	}
}

// faults says which faults of plated copper are accepted.
func (m *maker) faults() {
	var list []string
	var from []source.Place
	for _, x := range faults {
		c := m.b.CriterionOf(x.clause)
		switch {
		case !c.Answers():
			continue
		case c.Is("none"):
			list = append(list, x.none)
		default:
			list = append(list, x.some+most(c.Maximum))
		}
		from = append(from, c.Clause)
	}
	if len(list) > 0 {
		m.say(Criteria, from, "Accept in plated copper: %s.", strings.Join(list, ", "))
	}
}

// most is a maximum as a length, or as a share.
func most(v board.Value) string {
	if v.Quantity.Dim == quantity.Length {
		return length(v)
	}
	return v.Quantity.As(quantity.Percent).String()
}
