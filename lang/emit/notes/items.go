package notes

import (
	"fmt"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

// group is tabs that differ in their places alone.
type group struct {
	kind       string
	names      []string
	from       []source.Place
	perforated bool
}

// tabs says where tabs stand and how they come away, those of one kind together.
func (m *maker) tabs() {
	var groups []*group
	for _, t := range m.b.Tabs() {
		if t.Edge == nil {
			continue
		}
		kind := kindOf(t)
		var g *group
		for _, x := range groups {
			if x.kind == kind {
				g = x
			}
		}
		if g == nil {
			g = &group{kind: kind, perforated: t.Perforated}
			groups = append(groups, g)
		}
		g.names = append(g.names, t.Name.Text+" "+point(t.Edge.Point(t.Position)))
		g.from = append(g.from, t.Keyword)
	}
	var perforated []source.Place
	for _, g := range groups {
		m.say(Tabs, g.from, "%s, centred at: %s; %s.", plural(len(g.names), "Tab", "Tabs"), listed(g.names), g.kind)
		if g.perforated {
			perforated = append(perforated, g.from...)
		}
	}
	if len(perforated) > 0 {
		m.say(Tabs, perforated, "Drill the perforations of tabs after plating; leave their holes unplated.")
	}
}

// kindOf says all of a tab but its place.
func kindOf(t *board.Tab) string {
	s := length(t.Width) + " wide at the root"
	if t.Length.Given() {
		s += ", " + length(t.Length) + " from the profile to the frame"
	}
	if t.Perforated {
		s += fmt.Sprintf(", perforated, %d holes ⌀%s, pitch %s", t.HoleCount(), length(t.Hole), length(t.Pitch))
		if t.Inset.Given() {
			s += ", " + length(t.Inset) + " inside the profile"
		}
	} else if t.Solid {
		s += ", routed"
	}
	if t.Premetallised {
		s += ", premetallised"
	}
	return s + removal(t.Removal)
}

// removal says how a tab is taken off, as far as the text does.
func removal(r board.Removal) string {
	if !r.How.Given() {
		return ""
	}
	s := map[string]string{"rout": ", routed off", "hand": ", broken off by hand"}[r.How.Text]
	if r.By.Given() {
		s += " by the " + r.By.Text
	}
	if r.Within.Given() {
		s += ", to within " + length(r.Within) + " of the profile"
	}
	return s
}

// zones is the trade's rule: copper under a tab tears when it is cut.
func (m *maker) zones() {
	var names []string
	var from []source.Place
	for _, t := range m.b.Tabs() {
		if !t.Premetallised {
			names, from = append(names, t.Name.Text), append(from, t.Keyword)
		}
	}
	if len(names) > 0 {
		m.say(Zones, from, "Keep every layer free of copper at %s %s.", plural(len(names), "tab", "tabs"), listed(names))
	}
}

func (m *maker) halfHoles() {
	var from []source.Place
	for _, c := range m.b.Castellations() {
		if c.Edge == nil || len(c.Centres) == 0 {
			continue
		}
		from = append(from, c.Keyword)
		n := len(c.Centres)
		first := point(c.Edge.Point(c.Centres[0]))
		if n == 1 {
			m.say(HalfHoles, at(c.Keyword), "Half hole %s on %s: ⌀%s finished, centre on the profile at %s%s.", c.Name.Text, c.Edge.Name, length(c.Hole), first, m.lands(c))
		} else if !c.Pitch.Given() {
			var places []string
			for _, p := range c.Centres {
				places = append(places, point(c.Edge.Point(p)))
			}
			m.say(HalfHoles, at(c.Keyword), "Half holes %s on %s: %d of ⌀%s finished, centres on the profile at %s%s.",
				c.Name.Text, c.Edge.Name, n, length(c.Hole), strings.Join(places, ", "), m.lands(c))
		} else {
			m.say(HalfHoles, at(c.Keyword), "Half holes %s on %s: %d of ⌀%s finished, pitch %s, centres on the profile from %s to %s%s%s.",
				c.Name.Text, c.Edge.Name, n, length(c.Hole), length(c.Pitch), first, point(c.Edge.Point(c.Centres[n-1])), ended(c), m.lands(c))
		}
		word := plural(n, "Half hole", "Half holes") + " " + c.Name.Text
		if f := m.b.FinishOfHalfHoles(c); f.Answers() {
			m.say(HalfHoles, at(f.At), "%s: finish %s in %s.", word, plural(n, "it", "them"), f.Text)
		}
		switch c.Burrs.Text {
		case "":
		case "either":
			m.say(HalfHoles, at(c.Burrs.At), "%s: burrs of the cut may stand on either face.", word)
		default:
			m.say(HalfHoles, at(c.Burrs.At), "%s: let burrs of the cut stand on the %s face alone.", word, c.Burrs.Text)
		}
		if len(c.Nets) > 0 {
			var nets []string
			for _, x := range c.Nets {
				nets = append(nets, x.Text)
			}
			m.say(HalfHoles, at(c.Keyword), "%s %s: %s %s.", plural(n, "Half hole", "Half holes"), c.Name.Text, plural(len(nets), "net", "nets in turn"), strings.Join(nets, " "))
		}
	}
	if len(from) > 0 {
		m.say(HalfHoles, from, "Drill and plate half holes whole; cut them in half with the final rout.")
	}
}

// ended says which holes of a row are left out, and where it ends short.
func ended(c *board.Castellation) string {
	s := ""
	for _, x := range c.Excepted() {
		from, to := point(c.Edge.Point(x[0])), point(c.Edge.Point(x[1]))
		if x[1]-x[0] < c.Pitch.Value/2 {
			s += ", none at " + from
		} else {
			s += ", none from " + from + " to " + to
		}
	}
	if d := c.Short(); d > 0 {
		s += fmt.Sprintf(", %s mm short of where the row may end, %s", wording.Millimetres(d), point(c.Edge.Point(c.Row[2])))
	}
	return s
}

func (m *maker) lands(c *board.Castellation) string {
	if !c.LandWidth.Given() || !c.LandLength.Given() {
		return ""
	}
	where := "both faces"
	if len(c.Layers) > 0 {
		where = plural(len(c.Layers), "layer ", "layers ") + listed(c.LandLayers())
	}
	return fmt.Sprintf(", land on %s %s along the edge by %s inward", where, length(c.LandWidth), length(c.LandLength))
}

// cutouts says of each whether it is plated.
func (m *maker) cutouts() {
	for _, c := range m.b.Cutouts() {
		if c.Profile == nil {
			continue
		}
		wall := m.b.Finished(c.Profile)
		state, finished := "leave it unplated", ""
		if len(wall.Plated) > 0 {
			state, finished = "plate it in part, as listed above", " finished"
			if wall.Whole() {
				state = "plate it all round"
			}
		}
		m.say(Cutouts, at(c.Keyword), "Cutout %s, %s%s, centre %s: %s.", c.Name.Text, sizeOf(c), finished, point(c.Profile.Path.Centroid()), state)
	}
}

// sizeOf says how large a cutout is; over all is along x and y.
func sizeOf(c *board.Cutout) string {
	box := c.Profile.Path.Box()
	over := fmt.Sprintf("%s by %s mm", wording.Millimetres(box.Max.X-box.Min.X), wording.Millimetres(box.Max.Y-box.Min.Y))
	switch c.Kind {
	case "circle":
		return "⌀" + length(c.Width)
	case "slot":
		return fmt.Sprintf("slot %s wide, %s over all", length(c.Width), over)
	case "start":
		return "drawn, " + over + " over all"
	}
	return over
}

// holes says of each how large it is and whether it is plated.
func (m *maker) holes() {
	var plated, unplated []source.Place
	for _, h := range m.b.Holes() {
		if h.Plated {
			plated = append(plated, h.Keyword)
		} else {
			unplated = append(unplated, h.Keyword)
		}
		land := ""
		if h.Land.Given() {
			land = ", land ⌀" + length(h.Land) + " on both faces"
		}
		m.say(Holes, at(h.Keyword), "Hole %s: ⌀%s finished, centre %s, %s%s.", h.Name.Text, length(h.Diameter), point(h.Centre), h.Wall(), land)
	}
	if len(plated) > 0 {
		m.say(Holes, plated, "Drill plated holes before plating.")
	}
	if len(unplated) > 0 {
		m.say(Holes, unplated, "Drill unplated holes after plating; leave no copper in them.")
	}
}

func (m *maker) fences() {
	for _, f := range m.b.Fences() {
		if len(f.Vias) == 0 {
			continue
		}
		net := ""
		if f.Net.Given() {
			net = ", net " + f.Net.Text
		}
		land, pitch := "", length(f.Pitch)
		if f.Land.Given() {
			land = ", pads ⌀" + length(f.Land)
		}
		if f.Even {
			pitch = "at most " + pitch + ", evenly all round the rim"
		}
		if f.LeftOut > 0 {
			net += fmt.Sprintf("; %s left out so that none comes nearer than %s to what they may not meet", wording.Plural(f.LeftOut, "via"), length(f.Clearance))
		}
		if f.Added {
			net += "; the artwork does not have them yet: drill them and add their pads, as the layer files have them"
		}
		m.say(Fences, at(f.Keyword), "Via fence %s: %d vias ⌀%s%s, pitch %s, centres %s inside the profile%s.", f.Name.Text, len(f.Vias), length(f.Hole), land, pitch, length(f.Inset), net)
	}
}
