package rules

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/rout"
)

var tabMistakes = []kind{
	{rule: "tab_on_plating", mistake: "the gap under a tab is forgotten", seed: tabInGap(func(s *subject, t *board.Tab, g *board.Gap) string { return s.drop(&g.Item) })},
	{rule: "tab_on_plating", mistake: "a tab is no longer premetallised", seed: func(s *subject) (mutant, bool) {
		return s.tabs(func(t *board.Tab) string {
			if !t.Premetallised {
				return s.text
			}
			return s.within(&t.Item, `premetallised`, "")
		})
	}},
	{rule: "tab_on_plating", mistake: "a tab is put on a plated stretch", seed: tabOnto},
	{rule: "tab_on_plating", mistake: "an edge is plated on which a tab stands", seed: platedUnderTab},
	{rule: "tab_gap_tight", mistake: "a gap is hardly wider than its tab", seed: tabInGap(func(s *subject, t *board.Tab, g *board.Gap) string {
		return s.put(g.Stretch, s.stretch(g, t.Position, math.Floor(t.Width.Value+2*s.less(s.min("tab_gap")))))
	})},
	{rule: "tab_gap_tight", mistake: "a tab is hardly narrower than its gap", seed: tabInGap(func(s *subject, t *board.Tab, g *board.Gap) string {
		return s.put(t.Width.At, inMM(g.To-g.From-2*math.Abs(t.Position-middleOfGap(g))-2*s.less(s.min("tab_gap"))))
	})},
	{rule: "tab_gap_tight", mistake: "a tab is off its gap's middle", seed: tabInGap(func(s *subject, t *board.Tab, g *board.Gap) string {
		return s.put(t.PositionAt, "at "+inMM(g.To-t.Width.Value/2-s.less(s.min("tab_gap"))))
	})},
	{rule: "tab_missing", mistake: "no tab is stated, and no word on them", seed: noTabs},
	{rule: "tab_missing", mistake: "what leaves tabs to the shop is forgotten", seed: func(s *subject) (mutant, bool) {
		for _, l := range s.b.Leaves() {
			if l.Names("tab_places") {
				return s.edit(s.drop(&l.Item), "")
			}
		}
		return none, false
	}},
	{rule: "tab_count", mistake: "a tab is forgotten where there are just enough", seed: func(s *subject) (mutant, bool) {
		if float64(len(s.b.Tabs())) != s.min("tab_count") {
			return none, false
		}
		return s.edit(s.forgotten(s.b.Tabs()[s.r.IntN(len(s.b.Tabs()))]), "")
	}},
	{rule: "tab_missing", mistake: "the one tab that is left stands in a cutout", seed: func(s *subject) (mutant, bool) {
		if len(s.b.Tabs()) == 0 {
			return none, false
		}
		out := *s
		for _, t := range slices.Backward(s.b.Tabs()) { // what stands before a place keeps its own
			out.text = out.drop(&t.Item)
		}
		return out.inCutout("")
	}},
	{rule: "tab_count", mistake: "of just enough tabs one stands in a cutout", seed: func(s *subject) (mutant, bool) {
		if float64(len(s.b.Tabs())) != s.min("tab_count") {
			return none, false
		}
		out := *s
		out.text = s.drop(&s.b.Tabs()[s.r.IntN(len(s.b.Tabs()))].Item)
		return out.inCutout("")
	}},
	{rule: "tab_count", mistake: "the order goes to a shop that wants more tabs", seed: func(s *subject) (mutant, bool) {
		if len(s.b.Tabs()) == 0 {
			return none, false
		}
		return s.edit(s.add(fmt.Sprintf("fabricator elsewhere { limit tab_count minimum %d }", len(s.b.Tabs())+1+s.r.IntN(3))), "")
	}},
	{rule: "tab_spacing", mistake: "a tab is forgotten, and its neighbours are far apart", seed: tabBetweenFar},
	{rule: "tab_corner", mistake: "a tab is put near its edge's end", seed: tabNearEnd},
	{rule: "tab_corner", mistake: "a tab is put on an arc", seed: tabOnArc},
	{rule: "tab_near_connector", mistake: "a tab is put beside a connector", seed: tabBesideConnector},
	{rule: "tab_near_connector", mistake: "a connector's body grows up to a tab", seed: bodyUpToTab},
	{rule: "tab_width", mistake: "a routed tab is too narrow", seed: tabSized(false, func(s *subject) string { return s.short(s.min("tab_width_solid")) })},
	{rule: "tab_width", mistake: "a routed tab is too wide", seed: tabSized(false, func(s *subject) string { return s.long(s.max("tab_width_solid")) })},
	{rule: "tab_width", mistake: "a perforated tab is too narrow", seed: tabSized(true, func(s *subject) string { return s.short(s.min("tab_width_perforated")) })},
	{rule: "tab_width", mistake: "a perforated tab is too wide", seed: tabSized(true, func(s *subject) string { return s.long(s.max("tab_width_perforated")) })},
	{rule: "tab_unbalanced", mistake: "a tab is on the wrong edge, and all are on one", seed: allOnOneEdge},
	{rule: "tab_unbalanced", mistake: "a round board's tabs are all on one side", seed: allOnOneSide},
	{rule: "tab_unbalanced", mistake: "the tab across from the others is forgotten", seed: loneTab},
}

// tabs edits any tab.
func (s *subject) tabs(text func(*board.Tab) string) (mutant, bool) {
	return anyOf(s, s.b.Tabs(), func(t *board.Tab) (mutant, bool) { return s.edit(text(t), t.Name.Text) })
}

// forTab is what a gap says that is for a tab.
var forTab = regexp.MustCompile(`[ ;]*\bfor (t\d+)\b`)

// loose takes out of gaps that they are for tabs that are not there.
func loose(text string) string {
	return forTab.ReplaceAllStringFunc(text, func(m string) string {
		if name := forTab.FindStringSubmatch(m)[1]; strings.Contains(text, "tab "+name+" ") {
			return m
		}
		return ""
	})
}

// forgotten leaves a tab out, and the word in its gap that the gap is for it.
func (s *subject) forgotten(t *board.Tab) string { return loose(s.drop(&t.Item)) }

// tabInGap edits a tab, or the gap that it stands in.
func tabInGap(text func(*subject, *board.Tab, *board.Gap) string) seeder {
	return func(s *subject) (mutant, bool) {
		return s.tabs(func(t *board.Tab) string {
			for _, g := range s.b.StatedGaps() {
				if g.Edge == t.Edge && g.From < t.Position && t.Position < g.To && !t.Premetallised {
					return text(s, t, g)
				}
			}
			return s.text
		})
	}
}

func tabOnto(s *subject) (mutant, bool) {
	return s.tabs(func(t *board.Tab) string {
		for _, x := range s.runs([]*board.Edge{t.Edge}, false) {
			if x.to-x.from > t.Width.Value && !t.Premetallised && t.Opens == nil {
				return s.put(t.PositionAt, "at "+inMM((x.from+x.to)/2))
			}
		}
		return s.text
	})
}

func platedUnderTab(s *subject) (mutant, bool) {
	return s.tabs(func(t *board.Tab) string {
		p := s.b.Platings()[0]
		plated := len(s.runs([]*board.Edge{t.Edge}, false)) > 0
		if t.Premetallised || plated {
			return s.text
		}
		return s.within(&p.Item, `net `, "along "+t.Edge.Name+"\n  net ")
	})
}

func noTabs(s *subject) (mutant, bool) {
	if len(s.b.Tabs()) == 0 {
		return none, false
	}
	text := s.text
	for _, t := range slices.Backward(s.b.Tabs()) {
		_, span, _ := s.a.Locate(t.Whole)
		text = text[:span.Start] + text[span.End:]
	}
	return s.edit(loose(text), "")
}

// around is a tab's place along the outline.
func around(t *board.Tab) float64 { return t.Edge.Along(t.Position) }

func tabBetweenFar(s *subject) (mutant, bool) {
	list := slices.DeleteFunc(slices.Clone(s.b.Tabs()), func(t *board.Tab) bool { return t.Edge.Profile.Cutout })
	slices.SortFunc(list, func(a, b *board.Tab) int { return cmp.Compare(around(a), around(b)) })
	if len(list) < 3 || len(s.b.Wall(s.b.Outline()).Plated) == 0 {
		return none, false
	}
	l := s.b.Outline().Path.Perimeter()
	return anyOf(s, list, func(t *board.Tab) (mutant, bool) {
		i := slices.Index(list, t)
		before, after := list[(i+len(list)-1)%len(list)], list[(i+1)%len(list)]
		apart := math.Mod(around(after)-around(before)+l, l)
		thickness, _ := s.b.Thickness()
		if apart <= s.l.TabSpacing(thickness, false).Value {
			return none, false
		}
		return s.edit(s.forgotten(t), before.Name.Text)
	})
}

func tabNearEnd(s *subject) (mutant, bool) {
	return s.tabs(func(t *board.Tab) string {
		if t.Edge.Closed {
			return s.text
		}
		position := s.less(s.min("tab_corner")) + t.Width.Value/2
		if s.r.IntN(2) == 0 {
			position = t.Edge.Length - position
		}
		return s.put(t.PositionAt, "at "+inMM(position))
	})
}

func tabOnArc(s *subject) (mutant, bool) {
	straight := s.outlineEdges(true)
	return anyOf(s, s.outlineEdges(false), func(e *board.Edge) (mutant, bool) {
		if e.Closed || slices.Contains(straight, e) || e.Length < 5e6 {
			return none, false
		}
		return s.edit(s.add("tab bent on "+e.Name+" at middle width 2 mm solid"), "bent")
	})
}

func tabBesideConnector(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Connectors(), func(c *board.Connector) (mutant, bool) {
		return s.edit(s.add(fmt.Sprintf("tab near on %s at %s width 2 mm solid", c.Edge.Name, inMM(c.Position+c.Body.Value/2+s.less(s.min("tab_connector"))+1e6))), "near")
	})
}

func bodyUpToTab(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Connectors(), func(c *board.Connector) (mutant, bool) {
		return anyOf(s, s.b.Tabs(), func(t *board.Tab) (mutant, bool) {
			if t.Edge != c.Edge {
				return none, false
			}
			room := math.Abs(t.Position-c.Position) - t.Width.Value/2
			return s.edit(s.put(c.Body.At, inMM(2*(room-s.less(s.min("tab_connector"))))), t.Name.Text)
		})
	})
}

func tabSized(perforated bool, size func(*subject) string) seeder {
	return func(s *subject) (mutant, bool) {
		return s.tabs(func(t *board.Tab) string {
			if t.Perforated != perforated || slices.ContainsFunc(s.b.Acceptances(), func(a *board.Acceptance) bool { return a.On[0].Text == t.Name.Text }) {
				return s.text
			}
			return s.put(t.Width.At, size(s))
		})
	}
}

// inCutout adds a tab in a cutout.
func (s *subject) inCutout(on string) (mutant, bool) {
	return anyOf(s, s.b.Cutouts(), func(c *board.Cutout) (mutant, bool) {
		return anyOf(s, c.Profile.Edges, func(e *board.Edge) (mutant, bool) {
			if e.Length < 3e6 {
				return none, false
			}
			return s.edit(loose(s.add(fmt.Sprintf("tab stray on %s at middle width 2 mm solid", e.Name))), on)
		})
	})
}

// loneTabs lists tabs that stand alone on their edge while all others are on another.
func (s *subject) loneTabs() (list []*board.Tab, others *board.Edge) {
	on := map[*board.Edge][]*board.Tab{}
	for _, t := range s.b.Tabs() {
		on[t.Edge] = append(on[t.Edge], t)
	}
	if len(on) != 2 {
		return nil, nil
	}
	for e, tabs := range on {
		if len(tabs) == 1 {
			list = tabs
		} else {
			others = e
		}
	}
	return list, others
}

func allOnOneEdge(s *subject) (mutant, bool) {
	list, others := s.loneTabs()
	if len(list) == 0 || others == nil {
		return none, false
	}
	return s.edit(s.within(&list[0].Item, `on (\w+)`, others.Name), "")
}

func loneTab(s *subject) (mutant, bool) {
	list, others := s.loneTabs()
	if len(list) == 0 || others == nil {
		return none, false
	}
	return s.edit(s.forgotten(list[0]), "")
}

// allOnOneSide puts a tab of three on a rim between the two others.
func allOnOneSide(s *subject) (mutant, bool) {
	if s.b.Outline().Kind != "circle" || len(s.b.Tabs()) != 3 {
		return none, false
	}
	between := (s.b.Tabs()[1].Position + s.b.Tabs()[2].Position) / 2
	return s.edit(s.put(s.b.Tabs()[0].PositionAt, "at "+inMM(between)), "")
}

var perforationMistakes = []kind{
	{rule: "tab_short", mistake: "a tab is shorter than the finest bit is wide", seed: func(s *subject) (mutant, bool) {
		return s.tabs(func(t *board.Tab) string {
			if !t.Length.Given() {
				return s.text
			}
			return s.put(t.Length.At, s.short(s.min("router_bit")))
		})
	}},
	{rule: "tab_faces_board", mistake: "a tab is put into a slot that is hardly wider than itself", seed: func(s *subject) (mutant, bool) {
		across := s.less(3e6 + s.min("router_bit"))
		return s.edit(s.add("cutout slit slot 9 mm by "+inMM(across)+" at (10 mm, 9 mm)", "tab stray on slit.rim at 2 mm width 3 mm solid"), "stray")
	}},
	{rule: "tab_waist", mistake: "a tab is hardly wider than the finest bit", seed: func(s *subject) (mutant, bool) {
		return s.tabs(func(t *board.Tab) string {
			least := s.min("tab_width_solid")
			if t.Perforated {
				least = s.min("tab_width_perforated")
			}
			if width := s.less(s.min("router_bit") * 5 / 3); width > least && !onArc(t) { // round the outside bits fan out
				return s.put(t.Width.At, inMM(width))
			}
			return s.text
		})
	}},
	{rule: "tab_weak", mistake: "a perforation's holes meet and leave nothing", seed: nothingLeft},
	{rule: "tab_stubborn", mistake: "a perforation of one hole does not break", seed: oneHole},
	{rule: "perforation_hole", mistake: "a perforation's holes are too small to drill", seed: perforated(func(s *subject, t *board.Tab) string {
		return s.put(t.Hole.At, s.short(s.min("perforation_hole")))
	})},
	{rule: "perforation_web", mistake: "a perforation's holes nearly meet", seed: perforated(func(s *subject, t *board.Tab) string {
		return s.put(t.Pitch.At, inMM(t.Hole.Value+s.less(s.min("perforation_web"))))
	})},
	{rule: "perforation_web", mistake: "a perforation's holes are drilled larger at the same pitch", seed: perforated(func(s *subject, t *board.Tab) string {
		return s.put(t.Hole.At, inMM(t.Pitch.Value-s.less(s.min("perforation_web"))))
	})},
	{rule: "perforation_offset", mistake: "a perforation lies inside the board", seed: perforated(func(s *subject, t *board.Tab) string { return s.inset(t, s.long(t.Hole.Value/2)) })},
	{rule: "perforation_offset", mistake: "a perforation lies off the board", seed: perforated(func(s *subject, t *board.Tab) string { return s.inset(t, "-"+s.long(t.Hole.Value/2)) })},
}

func perforated(text func(*subject, *board.Tab) string) seeder {
	return func(s *subject) (mutant, bool) {
		return s.tabs(func(t *board.Tab) string {
			if !t.Perforated {
				return s.text
			}
			return text(s, t)
		})
	}
}

func (s *subject) inset(t *board.Tab, inset string) string {
	if t.Inset.Given() {
		return s.put(t.Inset.At, inset)
	}
	return s.put(t.Pitch.At, s.slice(t.Pitch.At)+" inset "+inset)
}

func nothingLeft(s *subject) (mutant, bool) {
	return perforated(func(s *subject, t *board.Tab) string {
		for n := 4.0; n < 12; n++ {
			if math.Mod(t.Width.Value, n) == 0 {
				return s.within(&t.Item, `hole .*? pitch [\d.]+ ?[a-z]+`, fmt.Sprintf("hole %s pitch %s", inMM(t.Width.Value/n), inMM(t.Width.Value/n)))
			}
		}
		return s.text
	})(s)
}

func oneHole(s *subject) (mutant, bool) {
	thick, ok := s.b.Thickness()
	if !ok {
		return none, false
	}
	return perforated(func(s *subject, t *board.Tab) string {
		// M = σ·b·h²/6 with 689 N/mm², in mm.
		waist := rout.BitsOf(s.b, s.min("router_bit")).Tab(t).Waist
		b, h := min(waist, t.Width.Value-t.Hole.Value)/1e6, thick.Value/1e6
		if 689*b*h*h/6 <= 1000 {
			return s.text
		}
		return s.put(t.Pitch.At, inMM(t.Width.Value))
	})(s)
}
