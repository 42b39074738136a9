package notes

import (
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// class says what a board is accepted to and what it is made of: laminate,
// finish, mask and legend of the board as a whole, its layers as the table has them.
func (m *maker) class() {
	i := m.b.Info()
	if i != nil && i.Class.Given() {
		m.say(Class, at(i.Class.At), "Build and accept to class %g of IPC-6012.", i.Class.Value)
	}
	if len(m.b.Stack().Layered()) > 0 {
		m.say(Class, at(m.b.Stack().Keyword), "Layers from the top and finished thicknesses: %s.", table("Stack"))
	} else if t, ok := m.b.Thickness(); ok {
		m.say(Class, at(t.At), "Finished thickness: %s.", table("Stack"))
	}
	if i == nil {
		return
	}
	for _, x := range []struct {
		says string
		name board.Name
	}{
		{"Laminate: %s.", i.Material}, {"Finish of the board: %s.", i.Finish},
		{"Solder mask: %s.", i.Mask}, {"Legend: %s.", i.Legend},
	} {
		if x.name.Answers() {
			m.say(Class, at(x.name.At), x.says, ended(x.name.Text))
		}
	}
}

// ended is a text without the dot at its end, which the sentence has.
func ended(text string) string { return strings.TrimSuffix(text, ".") }

// exact is what each clause of `tolerance` is of.
var exact = []struct{ clause, of string }{
	{"outline", "outline"}, {"thickness", "finished thickness"}, {"gaps", "ends of plated stretches along the edge"},
	{"cutouts", "cutouts"}, {"holes", "diameters of holes"}, {"half_holes", "diameters of half holes"},
	{"position", "places of holes, half holes and cutouts"}, {"mask", "openings of the solder mask"},
}

func (m *maker) tolerances() {
	var list []entry
	for _, x := range exact {
		v := m.b.ToleranceOf(x.clause)
		if !v.Given() {
			continue
		}
		how := v.Quantity.String()
		if v.Quantity.Dim == quantity.Length {
			how = wording.Millimetres(v.Value) + " mm"
		}
		list = append(list, entry{x.of + " " + how, at(v.At)})
	}
	m.series(Tolerances, "Tolerances, either way:", list)
}

// datum says what coordinates count from, where any are given.
func (m *maker) datum() {
	if m.b.Outline() == nil {
		return
	}
	where := map[string]string{"rectangle": "the sharp southwest corner of the outline", "circle": "the centre of the outline", "start": "the origin of the drawn outline"}[m.b.Outline().Kind]
	m.say(Datum, at(m.b.Outline().At), "Coordinates are (x, y) in mm from %s, x to the east, y to the north, seen from the top.", where)
	if m.b.Plated() {
		m.say(Datum, m.platings(), "Stretches run counterclockwise.")
	}
}

func (m *maker) delivery() {
	if d := m.b.Delivery(); d != nil {
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
	m.marks()
}

func (m *maker) marks() {
	var marks []string
	var from []source.Place
	placed := false
	for _, x := range m.b.Markings() {
		switch {
		case x.Text.Is("none"):
			m.say(Delivery, at(x.Keyword), "Add no mark of your own and no date code.")
		case x.Text.Answers():
			marks, from, placed = append(marks, ended(x.Text.Text)), append(from, x.Keyword), placed || x.Placed()
		}
	}
	where := ""
	if placed {
		where = " (places: " + table("Marks by the shop") + ")"
	}
	if len(marks) > 0 {
		m.say(Delivery, from, "Mark the boards, on no wall, no wrap and no land: %s%s.", listed(marks), where)
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
		m.say(Delivery, at(l.Keyword), "Left to the shop%s: %s (%s).", where, listed(names), ended(l.Because.Text))
	}
}

// electrical states what stands between the wall and other copper, what the wall
// may carry, and which lines are controlled.
func (m *maker) electrical() {
	i := m.b.Info()
	if i == nil {
		return
	}
	if i.Voltage.Given() {
		m.say(Electrical, at(i.Voltage.At), "Voltage between the wall and other copper: at most %s.", i.Voltage.Quantity)
	}
	if i.Hazard.Given() {
		m.say(Electrical, at(i.Hazard.At), "Touching the wall: %s.", i.HazardText())
	}
	switch {
	case !i.Impedance.Answers():
	case i.Impedance.Is("none"):
		m.say(Electrical, at(i.Impedance.At), "No line is of controlled impedance.")
	default:
		m.say(Electrical, at(i.Impedance.At), "Controlled impedance: %s.", ended(i.Impedance.Text))
	}
}
