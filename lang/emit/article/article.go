// Package article lists what is measured on the first boards of an order: what,
// where, the limit and whose it is. There is a line for what the text states or
// the fabrication notes give a limit for, and for nothing else.
//
// The list of what is looked at, and in which order, is common practice, no
// source: no ready criterion for plated edges is known to us.
package article

import (
	"fmt"
	"slices"
	"strings"

	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

// Line is one thing to measure.
type Line struct {
	What, Where, Limit string
	By                 string // whose the limit is
	// Readings are what is written down, each with its word; none for one reading.
	Readings []string
}

// Options are what the model does not hold.
type Options struct {
	// Continuity is as the notes have it.
	Continuity []figures.Continuity
	// MaskMargin, nm, is how far mask openings go past the copper where their
	// reliefs do not say, and MaskMarginBy whose it is.
	MaskMargin   float64
	MaskMarginBy string
}

// TheText is who gives a limit that the board's text states.
const TheText = "the text"

type maker struct {
	b      *board.Board
	o      Options
	labels map[board.Stretch]string
	list   []Line
}

// Make lists what is measured on a board. A board without an outline has no lines.
func Make(b *board.Board, o Options) []Line {
	if b.Outline() == nil {
		return nil
	}
	m := &maker{b: b, o: o, labels: b.StretchNames()}
	for _, part := range []func(){
		m.class, m.copper, m.wraps, m.surface, m.finish, m.ties, m.ends, m.tabs, m.halfHoles, m.mask, m.continuity, m.outline, m.openings, m.places, m.samples,
	} {
		part()
	}
	return m.list
}

func (m *maker) say(what, where, limit, by string, readings ...string) {
	m.list = append(m.list, Line{what, where, limit, by, readings})
}

const everywhere = "the board"

func length(v board.Value) string { return wording.Millimetres(v.Value) + " mm" }

func point(p geom.Point) string { return "(" + wording.Pair(p) + ")" }

// off is a tolerance that the text states, as " ± 0.1 mm"; "" where it states none.
func (m *maker) off(clause string) string {
	switch v := m.b.ToleranceOf(clause); {
	case !v.Given():
		return ""
	case v.Dim == quantity.Length:
		return " ± " + length(v)
	default:
		return " ± " + v.Quantity.String()
	}
}

func (m *maker) class() {
	if i := m.b.Info(); i != nil && i.Class.Given() {
		m.say("Class", everywhere, classOf(i), TheText)
	}
}

func classOf(i *board.Info) string { return fmt.Sprintf("class %g of IPC-6012", i.Class.Value) }

// copper has a line for each edge that a plating runs on: the average and the
// thinnest spot that the text states, else the class's.
func (m *maker) copper() {
	average, thinnest, classed := m.b.ClassCopper()
	for _, p := range m.b.Platings() {
		var parts, by []string
		add := func(v board.Value, class float64, says string) {
			switch {
			case v.Given():
				parts, by = append(parts, fmt.Sprintf(says, wording.Micrometres(v.Value))), append(by, TheText)
			case classed:
				parts, by = append(parts, fmt.Sprintf(says, wording.Micrometres(class))), append(by, classOf(m.b.Info()))
			}
		}
		add(p.Copper, average, "average %s")
		add(p.Least, thinnest, "no spot under %s")
		if len(parts) == 0 {
			continue
		}
		for _, e := range m.edgesOf(p) {
			m.say("Copper on the wall, at three heights", p.Name.Text+", "+e, strings.Join(parts, ", "), strings.Join(slices.Compact(by), ", "), "top", "middle", "bottom")
		}
	}
}

// edgesOf are the edges that a plating's finished wall lies on, each once.
func (m *maker) edgesOf(p *board.Plating) (list []string) {
	for s := range m.b.FinishedBy(p) {
		names := s.Edges()
		if len(names) == 0 {
			names = []string{"rounded corner"}
		}
		for _, e := range names {
			if !slices.Contains(list, e) {
				list = append(list, e)
			}
		}
	}
	return list
}

func (m *maker) wraps() {
	for _, p := range m.b.Platings() {
		for _, f := range board.Faces {
			if w := p.Wrap[f]; w.Given() && w.Value > 0 && m.b.Runs(p) {
				m.say("Wrap on the "+f.String()+" face, from the profile inward", p.Name.Text, length(w), TheText)
			}
		}
	}
}

// surface is what is looked for on plated copper.
func (m *maker) surface() {
	if !m.b.Plated() && len(m.b.Castellations()) == 0 {
		return
	}
	copper := "plated walls and wraps"
	switch {
	case !m.b.Plated():
		copper = "half holes"
	case len(m.b.Castellations()) > 0:
		copper += ", half holes"
	}
	for _, x := range []struct {
		clause, what string
		readings     []string
	}{
		{"voids", "Voids: count and largest", []string{"count", "largest"}},
		{"burrs", "Nodules and burrs: largest", nil},
		{"blisters", "Blisters: count and largest", []string{"count", "largest"}},
		{"adhesion", "Adhesion, on wall and wrap", []string{"wall", "wrap"}},
	} {
		c := m.b.CriterionOf(x.clause)
		switch {
		case !c.Answers():
		case c.Is("none"):
			m.say(x.what, copper, "none", TheText, x.readings...)
		case c.Maximum.Given():
			m.say(x.what, copper, "at most "+length(c.Maximum), TheText, x.readings...)
		default:
			m.say(x.what, copper, sentence(c.Text), TheText, x.readings...)
		}
	}
}

// sentence is a text without its end.
func sentence(s string) string { return strings.TrimSuffix(strings.TrimSpace(s), ".") }

func (m *maker) finish() {
	for _, p := range m.b.Platings() {
		f := m.b.FinishOf(p)
		if !f.Answers() || !m.b.Runs(p) {
			continue
		}
		thick := []string{f.Text}
		for _, v := range p.FinishLayers {
			thick = append(thick, wording.Micrometres(v.Value))
		}
		how := ""
		if len(thick) > 1 {
			how = " from the copper outward"
		}
		m.say("Finish on the wall", p.Name.Text, strings.Join(thick, ", ")+how, TheText)
	}
}

// ties are the layers that a wall joins, looked at in section.
func (m *maker) ties() {
	for _, p := range m.b.Platings() {
		if !m.b.Runs(p) {
			continue
		}
		for _, l := range m.b.Joined(p) {
			m.say("Tie to layer "+l+", in section", p.Name.Text, "joined", TheText)
		}
	}
}

// ends are where plated stretches start and end.
func (m *maker) ends() {
	for _, p := range m.b.Profiles() {
		path := p.Path
		for _, s := range m.b.Finished(p).Plated {
			if s.Round() {
				m.say("Plated all round", m.labels[s]+", "+p.Name, "no bare place", TheText)
				continue
			}
			m.say("Ends of a plated stretch", m.labels[s]+": "+point(path.At(s.From))+" and "+point(path.At(s.To)), m.along(), TheText, "start", "end")
		}
	}
}

func (m *maker) along() string {
	if off := m.off("gaps"); off != "" {
		return strings.TrimSpace(off) + " along the edge"
	}
	return "there; no tolerance is stated"
}

func (m *maker) tabs() {
	for _, t := range m.b.Tabs() {
		limit := length(t.Width) + " along the edge"
		if w := t.Removal.Within; w.Given() {
			limit += ", out or in by at most " + length(w)
		}
		m.say("Scar of a tab: length, and what stands out or is missing", t.Name.Text+", "+t.Edge.Name+" at "+point(t.Edge.Point(t.Position)), limit, TheText, "length", "out")
	}
}

func (m *maker) halfHoles() {
	for _, c := range m.b.Castellations() {
		first := point(c.Edge.Point(c.Centres[0]))
		where := c.Name.Text + ", " + c.Edge.Name + " at " + first
		if n := len(c.Centres); n > 1 {
			where = fmt.Sprintf("%s, %s, %d from %s to %s", c.Name.Text, c.Edge.Name, n, first, point(c.Edge.Point(c.Centres[n-1])))
		}
		m.say("Half holes: diameter", where, "⌀"+length(c.Hole)+m.off("half_holes"), TheText, "least", "most")
		var limit []string
		switch c.Burrs.Text {
		case "":
		case "either":
			limit = append(limit, "on either face")
		default:
			limit = append(limit, "on the "+c.Burrs.Text+" face alone")
		}
		switch k := m.b.CriterionOf("burrs"); {
		case k.Is("none"):
			limit = []string{"none"}
		case k.Maximum.Given():
			limit = append(limit, "at most "+length(k.Maximum))
		}
		if len(limit) > 0 {
			m.say("Half holes: burr of the cut", where, strings.Join(limit, ", "), TheText, "face", "height")
		}
		if f := m.b.FinishOfHalfHoles(c); f.Answers() {
			m.say("Half holes: finish", where, f.Text, TheText)
		}
	}
}

// mask is where the solder mask ends beside plated copper.
func (m *maker) mask() {
	for _, r := range m.b.Reliefs() {
		by := TheText
		if !r.Margin.Given() {
			by = m.o.MaskMarginBy
		}
		margin := wording.Millimetres(r.Beyond(m.o.MaskMargin)) + " mm"
		limit := margin + " past the copper, inward and past its ends"
		if r.Reach.Given() {
			limit = length(r.Reach) + " from the profile; " + margin + " past the copper's ends"
			if by != TheText {
				by = TheText + "; " + by
			}
		}
		for _, f := range r.FaceNames() {
			m.say("Mask edge on the "+f+" face", r.Name.Text+", over "+r.OverNames()+r.Where(), limit+strings.Replace(m.off("mask"), " ±", ", ±", 1), by)
		}
	}
}

// Computed is who gives the limit of a continuity that the text gives none for.
const Computed = "computed; agree it"

func (m *maker) continuity() {
	stated := m.b.CriterionOf("continuity")
	for _, l := range m.o.Continuity {
		where := fmt.Sprintf("%s, from %s to %s", m.labels[l.Stretch], point(l.From), point(l.To))
		const what = "Resistance along the wall, four-wire, at 20 °C"
		switch {
		case stated.Answers():
			m.say(what, where, "at most "+stated.Maximum.Quantity.String(), TheText)
		case l.Tells():
			m.say(what, where, "at most "+wording.Milliohms(l.Maximum()), Computed)
		}
	}
}
