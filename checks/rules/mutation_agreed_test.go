package rules

import (
	"fmt"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/quantity"
)

// Mistakes with what two items were agreed to do, with gaps for tabs, bodies
// that reach over the board, pads of fences, and slips of units.
var agreedMistakes = []kind{
	{rule: "copper_clearance", mistake: "what was agreed of two features is said of another", seed: agreed(func(s *subject, x *board.Acceptance) (string, string) {
		return s.put(x.With.At, s.b.Platings()[0].Name.Text), x.On[0].Text
	})},
	{rule: "copper_clearance", mistake: "what was agreed of two features is said of one alone", seed: agreed(func(s *subject, x *board.Acceptance) (string, string) {
		return s.within(&x.Item, `with \w+`, ""), x.With.Text
	})},
	{rule: "copper_clearance", mistake: "what was agreed of two features has run out", seed: agreed(func(s *subject, x *board.Acceptance) (string, string) {
		return s.put(x.With.At, x.With.Text+` until "2027-01-14"`), x.On[0].Text
	})},
	{rule: "acceptance_expired", mistake: "what was agreed of two features has run out", seed: agreed(func(s *subject, x *board.Acceptance) (string, string) {
		return s.put(x.With.At, x.With.Text+` until "2026-01-14"`), x.On[0].Text
	})},
	{rule: "copper_clearance", mistake: "a third feature comes near two of which it was agreed", seed: agreed(func(s *subject, x *board.Acceptance) (string, string) {
		f := s.featureNamed(x.On[0].Text)
		p := f.Centre
		return s.add("feature third on top circle 0.4 mm at " + at(p.X+7e5+s.less(s.min("copper_clearance")), p.Y) + " net V9"), "third"
	})},
	{rule: "acceptance_unused", mistake: "two features are moved apart, what was agreed of them stays", seed: agreed(func(s *subject, x *board.Acceptance) (string, string) {
		f := s.featureNamed(x.On[0].Text)
		return s.within(&f.Item, `(rectangle .*?)\s*;?\s*at \(`, "circle 0.5 mm"), x.On[0].Text
	})},
	{rule: "gap_astray", mistake: "a gap for one tab is where another stands", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.StatedGaps(), func(g *board.Gap) (mutant, bool) {
			t := g.ForTab(s.b)
			if i := slices.IndexFunc(s.b.Tabs(), func(other *board.Tab) bool { return other != t }); t != nil && i >= 0 {
				return s.edit(s.put(g.For.At, s.b.Tabs()[i].Name.Text), g.Name.Text)
			}
			return none, false
		})
	}},
	{rule: "gap_astray", mistake: "a tab is moved, the gap for it stays", seed: tabInGap(func(s *subject, t *board.Tab, g *board.Gap) string {
		away := t.Position + (g.To - g.From) + t.Width.Value
		if g.For.Text != t.Name.Text || away > t.Edge.Length-5e6 {
			return s.text
		}
		return s.put(t.PositionAt, "at "+inMM(away))
	})},
	{rule: "connectors_meet", mistake: "a body that reaches over the board is said to reach over another net's part", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Connectors(), func(c *board.Connector) (mutant, bool) {
			if !c.BodyReach.Given() || c.BodyReach.Value < 8e5 {
				return none, false
			}
			where := off(c.Edge, c.Position+c.Body.Value/2-4e5, c.BodyReach.Value+2e5)
			return s.edit(s.add("feature under on top circle 0.6 mm at "+where+" net V9"), "under")
		})
	}},
	{rule: "body_clearance", mistake: "a second connector is put beside the first", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Connectors(), func(c *board.Connector) (mutant, bool) {
			where := c.Position + c.Body.Value/2 + 1e6 + s.less(s.min("body_clearance"))
			return s.edit(s.add(fmt.Sprintf("connector beside on %s at %s body 2 mm", c.Edge.Name, inMM(where))), "beside")
		})
	}},
	{rule: "copper_clearance", mistake: "a fence's pads grow up to another net's part", seed: fences(func(s *subject, f *board.Fence) string {
		if !f.Land.Given() {
			return s.text
		}
		v := f.Vias[len(f.Vias)/2]
		return s.add("feature under on top circle 0.3 mm at " + at(v.X+f.Land.Value/2+1.5e5+s.less(s.min("copper_clearance")), v.Y) + " net V9")
	})},
	slipped("wraps in micrometres", func(s *subject, p *board.Plating) board.Value { return p.Wrap[board.Top] }, quantity.Millimetre, "um"),
	slipped("copper past the profile in metres", func(s *subject, p *board.Plating) board.Value { return p.Extend }, quantity.Millimetre, "m"),
	{rule: "unit_unlikely", mistake: "a tab in mils that was meant in mm", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Tabs(), func(t *board.Tab) (mutant, bool) { return s.slip(&t.Item, t.Width, quantity.Millimetre, "mil") })
	}},
	{rule: "unit_unlikely", mistake: "a gap in micrometres", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Gaps(), func(g *board.Gap) (mutant, bool) { return s.slip(&g.Item, g.Width, quantity.Millimetre, "um") })
	}},
	{rule: "unit_unlikely", mistake: "a hole in micrometres", seed: holes(func(s *subject, h *board.Hole) string {
		m, _ := s.slip(&h.Item, h.Diameter, quantity.Millimetre, "um")
		return m.text
	})},
	{rule: "unit_unlikely", mistake: "a fence's vias in metres", seed: fences(func(s *subject, f *board.Fence) string {
		if f.Land.Given() {
			return s.text
		}
		m, _ := s.slip(&f.Item, f.Hole, quantity.Millimetre, "m")
		return m.text
	})},
	{rule: "unit_unlikely", mistake: "a plane's pullback in nanometres", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Planes(), func(p *board.Plane) (mutant, bool) { return s.slip(&p.Item, p.Pullback, quantity.Millimetre, "um") })
	}},
	{rule: "unit_unlikely", mistake: "a body in metres", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Connectors(), func(c *board.Connector) (mutant, bool) { return s.slip(&c.Item, c.Body, quantity.Millimetre, "m") })
	}},
}

// agreed edits a board on which two features are nearer than they may be, which
// was agreed.
func agreed(text func(*subject, *board.Acceptance) (string, string)) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Acceptances(), func(x *board.Acceptance) (mutant, bool) {
			if !x.With.Given() || s.featureNamed(x.On[0].Text) == nil || !strings.HasPrefix(x.On[0].Text, "part") {
				return none, false
			}
			t, on := text(s, x)
			return s.edit(t, on)
		})
	}
}

func (s *subject) featureNamed(name string) *board.Feature {
	for _, f := range s.b.Features() {
		if f.Name.Text == name {
			return f
		}
	}
	return nil
}

// slipped writes a length of a plating in a wrong unit.
func slipped(mistake string, of func(*subject, *board.Plating) board.Value, meant *quantity.Unit, unit string) kind {
	return kind{rule: "unit_unlikely", mistake: mistake, seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
			v := of(s, p)
			number, ok := v.Exact(meant, 6)
			if !v.Given() || !ok {
				return none, false
			}
			old := s.slice(v.At)
			at := strings.LastIndexAny(old, "0123456789")
			start := strings.LastIndex(old[:at+1], " ") + 1
			return s.edit(s.put(v.At, old[:start]+strings.Fields(number)[0]+" "+unit), p.Name.Text)
		})
	}}
}
