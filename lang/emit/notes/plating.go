package notes

import (
	"fmt"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

// copper states the average and the thinnest spot that the author asks for, else
// the class's.
func (m *maker) copper() {
	average, thinnest, classed := m.b.ClassCopper()
	if classed && !slices.ContainsFunc(m.b.Platings(), func(p *board.Plating) bool { return p.Copper.Given() || p.Least.Given() }) {
		if from := m.platings(); len(from) > 0 {
			m.say(Copper, append(from, m.b.Info().Class.At), "Put %s of copper on each wall, on average, and no less than %s on any spot (class %g of IPC-6012).",
				wording.Micrometres(average), wording.Micrometres(thinnest), m.b.Info().Class.Value)
		}
		return
	}
	m.onWalls(func(p *board.Plating) board.Value { return p.Copper }, average,
		wordings{"Put on each wall, on average, the copper that TABLE states.", "Put FIGURE of copper on each wall, on average (CLASS).", "Put on each wall, on average, the copper that TABLE states, and where it states none FIGURE (CLASS)."})
	m.onWalls(func(p *board.Plating) board.Value { return p.Least }, thinnest,
		wordings{"Leave no spot of a wall with less than the least that TABLE states.", "Leave no spot of a wall with less than FIGURE of copper (CLASS).", "Leave no spot of a wall with less than the least that TABLE states, or where it states none FIGURE (CLASS)."})
}

// wordings are what is said where the platings state a figure, where the class does
// alone, and where the class does for those that state none.
type wordings struct{ stated, classed, both string }

// onWalls says what the table states of the platings' copper, and where it does
// not what the class asks, nm.
func (m *maker) onWalls(of func(*board.Plating) board.Value, class float64, w wordings) {
	var by, silent []source.Place
	for _, p := range m.b.Platings() {
		if v := of(p); v.Given() {
			by = append(by, v.At)
		} else {
			silent = append(silent, p.Keyword)
		}
	}
	if _, _, classed := m.b.ClassCopper(); !classed || len(silent) == 0 {
		if len(by) > 0 {
			m.say(Copper, by, "%s", strings.ReplaceAll(w.stated, "TABLE", table("Platings")))
		}
		return
	}
	says := w.both
	if len(by) == 0 {
		says = w.classed
	}
	says = strings.NewReplacer("TABLE", table("Platings"), "FIGURE", wording.Micrometres(class), "CLASS", fmt.Sprintf("class %g of IPC-6012", m.b.Info().Class.Value)).Replace(says)
	m.say(Copper, append(append(by, silent...), m.b.Info().Class.At), "%s", says)
}

// wraps says that the table has wraps and finishes, and how to read them.
func (m *maker) wraps() {
	var wraps, none, finishes []source.Place
	var thick bool
	for _, p := range m.b.Platings() {
		for _, f := range board.Faces {
			if w := p.Wrap[f]; w.Given() {
				wraps = append(wraps, w.At)
				if w.Value == 0 {
					none = append(none, w.At)
				}
			}
		}
		if f := m.b.FinishOf(p); f.Answers() {
			finishes, thick = with(with(finishes, p.Keyword), f.At), thick || len(p.FinishLayers) > 0
		}
	}
	if len(wraps) > 0 {
		zero := ""
		if len(none) > 0 {
			zero = "; 0 is no wrap"
		}
		m.say(Wrap, wraps, "Wrap the copper over the faces as far as %s states, from the profile inward%s.", table("Platings"), zero)
	}
	if len(finishes) > 0 {
		how := ""
		if thick {
			how = ", thicknesses from the copper outward"
		}
		m.say(Wrap, finishes, "Finish the walls and their wraps as %s states%s.", table("Platings"), how)
	}
}

func (m *maker) extensions() {
	var from []source.Place
	for _, p := range m.b.Platings() {
		if p.Extend.Value > 0 {
			from = append(from, p.Extend.At)
		}
	}
	if len(from) > 0 {
		m.say(Extension, from, "The artwork's copper runs past the profile on purpose, as far as %s states; do not clip it.", table("Platings"))
	}
}

// stretches says what of the profiles is plated and what stays bare.
func (m *maker) stretches() {
	var plated []source.Place
	for _, p := range m.b.Profiles() {
		for _, s := range m.b.Finished(p).Plated {
			plated = with(plated, s.Plating.Keyword)
		}
	}
	if len(plated) > 0 {
		m.say(Stretches, plated, "Plate the stretches of %s.", table("Plated stretches"))
	}
	m.bare()
}

func edges(s board.Stretch) string {
	list := s.Edges()
	if len(list) == 0 {
		return "rounded corner"
	}
	return strings.Join(list, " ")
}

func ends(s board.Stretch) string {
	path := s.Profile.Path
	return fmt.Sprintf("from %s to %s, %s mm long", point(path.At(s.From)), point(path.At(s.To)), wording.Millimetres(s.Length()))
}

// bare says which stretches stay bare on profiles that have plated ones: those that
// a table has by it, each of the others with what the spec says stands there.
func (m *maker) bare() {
	var roots []source.Place
	var others []board.Stretch
	for _, p := range m.b.Profiles() {
		wall := m.b.Finished(p)
		if len(wall.Plated) == 0 {
			if !p.Cutout && m.b.Plated() {
				m.say(Stretches, at(p.At), "Leave the outline bare all round.")
			}
			continue // a cutout that is not plated says so among the cutouts
		}
		for _, s := range wall.Bare {
			switch root := m.rootAt(s); {
			case m.isGap(s):
			case root != nil:
				roots = with(roots, root.Keyword)
			default:
				others = append(others, s)
			}
		}
	}
	var gaps []source.Place
	for _, g := range m.b.Gaps() {
		if g.Edge != nil {
			gaps = with(gaps, g.Keyword)
		}
	}
	if len(gaps) > 0 {
		m.say(Stretches, gaps, "Leave the gaps of %s bare.", table("Gaps"))
	}
	if len(roots) > 0 {
		m.say(Stretches, roots, "The roots of premetallised tabs (%s) are bare once these are cut.", table("Tabs"))
	}
	for _, s := range others {
		why, from := m.reasons(s)
		if len(from) == 0 {
			from = at(s.Profile.At)
		}
		m.say(Stretches, from, "Leave bare: %s, %s%s.", edges(s), ends(s), why)
	}
}

// isGap tells whether a gap is all of a bare stretch.
func (m *maker) isGap(s board.Stretch) bool {
	return slices.ContainsFunc(m.b.GapsIn(s), func(g *board.Gap) bool { return covers(s, g.Edge, g.From, g.To) })
}

// rootAt is the premetallised tab whose root is all of a bare stretch; nil for none.
func (m *maker) rootAt(s board.Stretch) *board.Tab {
	for _, t := range m.b.TabsIn(s) {
		if m.b.Rooted(t) && covers(s, t.Edge, t.From(), t.To()) {
			return t
		}
	}
	return nil
}

// covers tells whether a stretch is what lies between two positions on an edge.
func covers(s board.Stretch, e *board.Edge, from, to float64) bool {
	a, b := e.Range(from, to)
	path := s.Profile.Path
	same := func(x, y float64) bool { return path.At(x).Dist(path.At(y)) <= board.Tolerance }
	return same(s.From, a) && same(s.To, b)
}

// reasons says what a bare stretch is for, as far as the spec does.
func (m *maker) reasons(s board.Stretch) (text string, from []source.Place) {
	var list []string
	gaps := m.b.GapsIn(s)
	for _, g := range gaps {
		from = append(from, g.Keyword)
		what := g.Title()
		switch {
		case g.Opened():
			// Its title says what it is for.
		case g.ForTab(m.b) != nil:
			what += ", for tab " + g.For.Text
		case g.For.Given():
			what += ", where connector " + g.For.Text + " launches"
		}
		switch {
		case g.BridgedBy(m.b) == nil:
		case g.Opened():
			what += ", whose metal closes the opening"
		default:
			what += " and its metal closes the opening"
		}
		if g.Opened() && slices.Contains(list, what) {
			continue // of another plating, by the same tab or connector
		}
		list = append(list, what)
	}
	var names []string
	for _, t := range m.b.TabsIn(s) {
		if from = append(from, t.Keyword); m.b.Rooted(t) {
			list = append(list, fmt.Sprintf("the root of premetallised tab %s, which is bare once the tab is cut", t.Name.Text))
			continue
		}
		if !slices.ContainsFunc(gaps, func(g *board.Gap) bool { return g.ForTab(m.b) == t }) { // its gap names it
			names = append(names, t.Name.Text)
		}
	}
	if n := len(names); n > 0 {
		list = append(list, fmt.Sprintf("%s %s here", counted("tab", "tabs", names), plural(n, "stands", "stand")))
	}
	var rows []string
	holes := 0
	for _, c := range m.b.CastellationsIn(s) {
		from = append(from, c.Keyword)
		rows, holes = append(rows, c.Name.Text), holes+len(c.Centres)
	}
	if len(rows) > 0 {
		list = append(list, fmt.Sprintf("%s %s %s plated", plural(holes, "half hole", "half holes"), listed(rows), plural(holes, "is", "are")))
	}
	if len(list) == 0 {
		return "", nil
	}
	return " (" + strings.Join(list, "; ") + ")", from
}
