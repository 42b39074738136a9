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

func (m *maker) delivery() {
	d := m.b.Delivery()
	if d == nil {
		return
	}
	var files []string
	for _, p := range d.Panels {
		if p.Answers() {
			files = append(files, p.Text)
		}
	}
	switch {
	case d.Single:
		m.say(Delivery, at(d.Keyword), "Deliver the boards singly.")
	case len(files) > 0:
		m.say(Delivery, at(d.Keyword), "Deliver the boards in their %s: %s.", plural(len(files), "panel", "panels"), listed(files))
	}
}

func (m *maker) marks() {
	for _, x := range m.b.Markings() {
		switch {
		case x.Text.Is("none"):
			m.say(Marks, at(x.Keyword), "Add no mark of your own and no date code.")
		case x.Text.Answers() && x.Placed():
			m.say(Marks, at(x.Keyword), "Mark: %s, on the %s face at %s; on no wall, no wrap and no land.", x.Text.Text, x.Face, point(x.Centre))
		case x.Text.Answers():
			m.say(Marks, at(x.Keyword), "Mark: %s; on no wall, no wrap and no land.", x.Text.Text)
		}
	}
}

// left names what the shop decides, by the queries' names in words.
func (m *maker) left() {
	for _, l := range m.b.Leaves() {
		var names []string
		for _, q := range l.Queries {
			names = append(names, strings.ReplaceAll(q.Text, "_", " "))
		}
		where := ""
		if edges := l.Edges(); len(edges) > 0 {
			where = ", along " + listed(edges)
		}
		m.say(Left, at(l.Keyword), "Left to the shop%s: %s (%s).", where, listed(names), strings.TrimSuffix(l.Because.Text, "."))
	}
}
