package notes

import (
	"fmt"

	"hemline/lang/board"
	"hemline/lang/source"
)

// sequence is the trade's order where edges are plated: both routs are always
// named, since a note that names one alone contradicts the other.
func (m *maker) sequence() {
	if !m.b.Plated() {
		return
	}
	m.say(Sequence, m.platings(), "First rout, before plating (rout_plated.xnc): cut the plated stretches.")
	roots := ""
	if len(m.b.Tabs()) > 0 {
		roots = " up to the roots of tabs"
	}
	last := "free the board; nothing is left to cut but what holds it"
	for _, p := range m.b.Profiles() {
		if len(m.b.Wall(p).Bare) > 0 {
			last = "cut the bare stretches" + roots + ", and nothing of the plated ones"
		}
	}
	m.say(Sequence, m.platings(), "Final rout, after plating (rout_final.xnc): %s.", last)
	m.premetallised(false)
	m.premetallised(true)
}

// premetallised says how premetallised tabs are plated, those with rows of holes
// apart from the others.
func (m *maker) premetallised(perforated bool) {
	var names []string
	var from []source.Place
	for _, t := range m.b.Tabs() {
		if m.b.Rooted(t) && t.Perforated == perforated {
			names, from = append(names, t.Name.Text), append(from, t.Keyword)
		}
	}
	n := len(names)
	if n == 0 {
		return
	}
	through, them := "", plural(n, "it", "them")
	if perforated {
		through = fmt.Sprintf(" Drill %s perforations through the copper of the faces.", plural(n, "its", "their"))
	}
	m.say(Sequence, from, "%s, premetallised: plate the faces on over %s into the frame, with the panel.%s There is no wall under %s to plate.", counted("Tab", "Tabs", names), them, through, them)
}

// like is tabs that are taken off alike.
type like struct {
	how   string
	names []string
	from  []source.Place
}

// tabs says where the table has tabs, and how they come away, those of one kind together.
func (m *maker) tabs() {
	var kinds []*like
	var all, perforated []source.Place
	lengths, inset := "", false
	for _, t := range m.b.Tabs() {
		if t.Edge == nil {
			continue
		}
		all = append(all, t.Keyword)
		if t.Perforated {
			perforated = append(perforated, t.Keyword)
			inset = inset || t.Inset.Value != 0
		}
		if t.Length.Given() {
			lengths = ", lengths from the profile to the frame"
		}
		how := m.removal(t.Removal)
		if how == "" {
			continue
		}
		i := 0
		for i < len(kinds) && kinds[i].how != how {
			i++
		}
		if i == len(kinds) {
			kinds = append(kinds, &like{how: how})
		}
		kinds[i].names, kinds[i].from = append(kinds[i].names, t.Name.Text), append(kinds[i].from, t.Keyword)
	}
	if len(all) == 0 {
		return
	}
	m.say(Tabs, all, "Leave the %s of %s standing, %s at the root%s.", plural(len(all), "tab", "tabs"), table("Tabs"), plural(len(all), "width", "widths"), lengths)
	for _, k := range kinds {
		who := counted("Tab", "Tabs", k.names) + plural(len(k.names), " is ", " are ")
		if n := len(k.names); n > 1 && n == len(all) {
			who = "All tabs are "
		}
		m.say(Tabs, k.from, "%s%s.", who, k.how)
	}
	if m.routs != nil {
		m.say(Tabs, all, "As the bits leave %s: %s.", plural(len(all), "it", "them"), table("Tabs as routed"))
	}
	if len(perforated) > 0 {
		rows := "their rows on the profile"
		if inset {
			rows = "a row without an inset on the profile"
		}
		m.say(Tabs, perforated, "Drill the perforations of tabs after plating, %s; leave their holes unplated.", rows)
	}
}

// removal says how a tab is taken off, "" where the text does not.
func (m *maker) removal(r board.Removal) string {
	if !r.How.Given() {
		return ""
	}
	s := map[string]string{"rout": "routed off", "hand": "broken off by hand"}[r.How.Text]
	if r.How.Text == "rout" && m.routs != nil {
		s += " last (rout_tabs.xnc)"
	}
	if r.By.Given() {
		s += " by the " + r.By.Text
	}
	if r.Within.Given() {
		s += ", to within " + length(r.Within) + " of the profile"
	}
	return s
}

// score is the trade's rule: a score is cut last, and its wall is bare laminate.
func (m *maker) score() {
	if m.b.Plated() {
		m.say(Sequence, m.platings(), "Cut no score along or across a plated stretch.")
	}
}

func (m *maker) mask() {
	var from []source.Place
	for _, r := range m.b.Reliefs() {
		from = append(from, r.Keyword)
	}
	if len(from) > 0 {
		m.say(Mask, from, "Open the solder mask as %s states: from the profile inward, and past the ends of the copper.", table("Solder mask openings"))
	}
	if m.b.Plated() {
		m.say(Mask, m.platings(), "Put no solder mask on a plated wall.")
	}
}
