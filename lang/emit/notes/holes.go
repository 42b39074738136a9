package notes

import (
	"fmt"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

func (m *maker) halfHoles() {
	var rows []*board.Castellation
	var from []source.Place
	holes := 0
	for _, c := range m.b.Castellations() {
		if c.Edge != nil && len(c.Centres) > 0 {
			rows, from, holes = append(rows, c), append(from, c.Keyword), holes+len(c.Centres)
		}
	}
	if len(rows) == 0 {
		return
	}
	m.say(HalfHoles, from, "Half holes: %s; finished diameters, centres on the profile, lands along the edge by inward, on both faces where it names no layer.", table("Half holes"))
	m.say(HalfHoles, from, "Drill and plate half holes whole; cut them in half with the final rout.")
	m.finishes(rows)
	m.burrs(rows)
	m.flanks(rows)
	var list []entry
	for _, c := range rows {
		if s := short(c); s != "" {
			list = append(list, entry{c.Name.Text + " " + s, at(c.Keyword)})
		}
	}
	m.series(HalfHoles, "Rows of half holes:", list)
}

// finishes says what half holes are finished in, rows of one finish together.
func (m *maker) finishes(rows []*board.Castellation) {
	m.alike(rows, func(c *board.Castellation) (string, source.Place) {
		f := m.b.FinishOfHalfHoles(c)
		if !f.Answers() {
			return "", f.At
		}
		return "finished in " + f.Text, f.At
	})
}

// burrs says where burrs of the cut may stand, rows of one answer together.
func (m *maker) burrs(rows []*board.Castellation) {
	m.alike(rows, func(c *board.Castellation) (string, source.Place) {
		switch c.Burrs.Text {
		case "":
			return "", c.Burrs.At
		case "either":
			return "burrs of the cut may stand on either face", c.Burrs.At
		}
		return "let burrs of the cut stand on the " + c.Burrs.Text + " face alone", c.Burrs.At
	})
}

// alike says something of half holes, of those of which it is the same together.
func (m *maker) alike(rows []*board.Castellation, says func(*board.Castellation) (string, source.Place)) {
	done := map[string]bool{"": true}
	for i, c := range rows {
		what, _ := says(c)
		if done[what] {
			continue
		}
		done[what] = true
		var names []string
		var from []source.Place
		holes := 0
		for _, x := range rows[i:] {
			if same, at := says(x); same == what {
				names, from, holes = append(names, x.Name.Text), with(from, at), holes+len(x.Centres)
			}
		}
		which := plural(holes, "Half hole ", "Half holes ") + listed(names)
		if len(names) == len(rows) {
			which = plural(holes, "The half hole", "All half holes")
		}
		m.say(HalfHoles, from, "%s: %s.", which, what)
	}
}

// short says which holes of a row are left out, and where it ends short.
func short(c *board.Castellation) string {
	var list []string
	for _, x := range c.Excepted() {
		from, to := point(c.Edge.Point(x[0])), point(c.Edge.Point(x[1]))
		if x[1]-x[0] < c.Pitch.Value/2 {
			list = append(list, "has none at "+from)
		} else {
			list = append(list, "has none from "+from+" to "+to)
		}
	}
	if d := c.Short(); d > 0 {
		list = append(list, fmt.Sprintf("ends %s mm short of where it may, %s", wording.Millimetres(d), point(c.Edge.Point(c.Row[2]))))
	}
	return strings.Join(list, ", ")
}

// cutouts says how the table's cutouts are to be read.
func (m *maker) cutouts() {
	var from []source.Place
	var plated, part bool
	for _, c := range m.b.Cutouts() {
		if c.Profile == nil {
			continue
		}
		from = append(from, c.Keyword)
		wall := m.b.Finished(c.Profile)
		plated, part = plated || len(wall.Plated) > 0, part || len(wall.Plated) > 0 && !wall.Whole()
	}
	if len(from) == 0 {
		return
	}
	n := len(from)
	how := plural(n, "; it stays unplated", "; all stay unplated")
	if plated {
		how = plural(n, "; its size is the finished one", "; sizes of plated ones are finished sizes")
	}
	if part {
		how += plural(n, "; it is plated where ", "; those plated in part are so where ") + table("Plated stretches") + " says"
	}
	m.say(Cutouts, from, "%s: %s%s.", plural(n, "Cutout", "Cutouts"), table("Cutouts"), how)
}

// holes says how the table's holes are to be read, and when they are drilled.
func (m *maker) holes() {
	var all, plated, unplated []source.Place
	lands := ""
	for _, h := range m.b.Holes() {
		all = append(all, h.Keyword)
		if h.Plated {
			plated = append(plated, h.Keyword)
		} else {
			unplated = append(unplated, h.Keyword)
		}
		if h.Land.Given() {
			lands = ", with " + plural(len(m.b.Holes()), "its land", "lands") + " on both faces"
		}
	}
	if len(all) > 0 {
		m.say(Holes, all, "%s: %s, %s%s.", plural(len(all), "Hole", "Holes"), table("Holes"), plural(len(all), "finished diameter", "finished diameters"), lands)
	}
	if len(plated) > 0 {
		m.say(Holes, plated, "Drill plated holes before plating.")
	}
	if len(unplated) > 0 {
		m.say(Holes, unplated, "Drill unplated holes after plating; leave no copper in them.")
	}
}

// fences says how the table's fences are to be read, and what it does not say of them.
func (m *maker) fences() {
	var all, added, even []source.Place
	var names []string
	for _, f := range m.b.Fences() {
		if len(f.Vias) == 0 {
			continue
		}
		all = append(all, f.Keyword)
		if f.Added {
			names, added = append(names, f.Name.Text), append(added, f.Keyword)
		}
		if f.Even {
			even = append(even, f.Keyword)
		}
	}
	if len(all) == 0 {
		return
	}
	evenly := ""
	if len(even) > 0 {
		evenly = "; even: evenly all round the rim, at most the pitch apart"
	}
	if len(added) == 0 {
		evenly += "; the artwork has their vias"
	}
	m.say(Fences, all, "%s: %s; centres inside the profile by the inset%s.", plural(len(all), "Via fence", "Via fences"), table("Via fences"), evenly)
	for _, f := range m.b.Fences() {
		if f.LeftOut > 0 && len(f.Vias) > 0 {
			m.say(Fences, at(f.Keyword), "Via fence %s: %s left out so that none comes nearer than %s to what they may not meet.", f.Name.Text, wording.Plural(f.LeftOut, "via"), length(f.Clearance))
		}
	}
	if len(added) > 0 {
		others := ""
		if len(added) < len(all) {
			others = " (it has the others')"
		}
		m.say(Fences, added, "The artwork does not have the vias of %s yet%s: drill them and add their pads, as the layer files have them.", counted("fence", "fences", names), others)
	}
}
