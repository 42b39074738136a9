package notes

import (
	"strings"

	"hemline/lang/emit/wording"
	"hemline/lang/quantity"
)

// exact is what each clause of `tolerance` is of.
var exact = []struct{ clause, of string }{
	{"outline", "the outline"}, {"thickness", "the finished thickness"}, {"gaps", "each end of a plated stretch, along the edge"},
	{"cutouts", "cutouts"}, {"holes", "the diameter of holes"}, {"half_holes", "the diameter of half holes"},
	{"position", "the place of holes, half holes and cutouts"}, {"mask", "the openings of the solder mask"},
}

func (m *maker) tolerances() {
	for _, x := range exact {
		v := m.b.ToleranceOf(x.clause)
		if !v.Given() {
			continue
		}
		how := v.Quantity.String()
		if v.Quantity.Dim == quantity.Length {
			how = wording.Millimetres(v.Value) + " mm"
		}
		m.say(Tolerances, at(v.At), "Tolerance of %s: %s either way.", x.of, how)
	}
}

// accepted is what each clause of `criteria` is of, but `continuity`, which is
// measured along each plating.
var accepted = []struct{ clause, none, most, says string }{
	{"voids", "Accept no void in plated copper.", "Accept voids in plated copper of at most %s.", ""},
	{"blisters", "Accept no blister of plated copper.", "Accept blisters of plated copper of at most %s.", ""},
	{"burrs", "Accept no burr and no nodule on plated copper.", "Accept burrs and nodules of at most %s.", ""},
	{"adhesion", "", "", "Adhesion of the wall: %s."},
	{"microsection", "", "", "Microsections: %s."},
	{"coupon", "Make no coupon of the plated edge.", "", "Make a coupon of the plated edge."},
	{"electrical_test", "Boards are not tested electrically.", "", "Electrical test: %s."},
	{"bow", "", "Bow and twist: at most %s.", ""},
	{"sample", "", "", "Boards to measure: %s."},
}

func (m *maker) criteria() {
	for _, x := range accepted {
		c := m.b.CriterionOf(x.clause)
		switch {
		case !c.Answers():
		case c.Is("none"):
			m.say(Criteria, at(c.Clause), "%s", x.none)
		case c.Maximum.Given() && c.Maximum.Quantity.Dim == quantity.Length:
			m.say(Criteria, at(c.Clause), x.most, length(c.Maximum))
		case c.Maximum.Given():
			m.say(Criteria, at(c.Clause), x.most, c.Maximum.Quantity.As(quantity.Percent))
		case x.clause == "coupon":
			m.say(Criteria, at(c.Clause), "%s", x.says)
		case c.Is("all"):
			m.say(Criteria, at(c.Clause), x.says, "every board")
		default:
			m.say(Criteria, at(c.Clause), x.says, strings.TrimSuffix(c.Text, "."))
		}
	}
}
