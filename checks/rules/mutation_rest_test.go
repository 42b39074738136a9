package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

var halfHoleMistakes = []kind{
	{rule: "castellation_hole", mistake: "half holes are too small", seed: rows(func(s *subject, c *board.Castellation) string {
		return s.put(c.Hole.At, s.short(s.min("castellation_hole")))
	})},
	{rule: "castellation_spacing", mistake: "half holes are too near each other", seed: rows(func(s *subject, c *board.Castellation) string {
		if len(c.Centres) < 2 || len(c.Nets) > 1 {
			return s.text
		}
		return s.put(c.Pitch.At, inMM(c.Hole.Value+s.less(s.min("castellation_spacing"))))
	})},
	{rule: "castellation_spacing", mistake: "half holes are drilled larger at the same pitch", seed: rows(func(s *subject, c *board.Castellation) string {
		if len(c.Centres) < 2 {
			return s.text
		}
		return s.put(c.Hole.At, inMM(c.Pitch.Value-s.less(s.min("castellation_spacing"))))
	})},
	{rule: "castellation_spacing", mistake: "a second row starts where the first ends", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Castellations(), func(c *board.Castellation) (mutant, bool) {
			where := c.To + c.Hole.Value/2 + s.less(s.min("castellation_spacing")) + 5e5
			return s.edit(s.add(fmt.Sprintf("castellation more on %s at %s hole 1 mm land 1.6 mm by 1.2 mm net GND", c.Edge.Name, inMM(where))), c.Name.Text)
		})
	}},
	{rule: "castellation_land", mistake: "the land beside half holes is too narrow", seed: rows(func(s *subject, c *board.Castellation) string {
		return s.put(c.LandWidth.At, inMM(c.Hole.Value+2*s.less(s.min("castellation_ring"))))
	})},
	{rule: "castellation_land", mistake: "the land behind half holes is too short", seed: rows(func(s *subject, c *board.Castellation) string {
		return s.put(c.LandLength.At, inMM(c.Hole.Value/2+s.less(s.min("castellation_ring"))))
	})},
	{rule: "castellation_corner", mistake: "half holes reach into the corner", seed: rows(func(s *subject, c *board.Castellation) string {
		from := s.less(s.min("castellation_corner")) + c.Hole.Value/2
		if len(c.Nets) > 1 {
			return s.text
		}
		if len(c.Centres) > 1 {
			return s.put(c.Stretch, fmt.Sprintf("from %s to %s", inMM(from), inMM(c.To)))
		}
		return s.put(c.Stretch, "at "+inMM(from))
	})},
	{rule: "castellation_on_plating", mistake: "a half hole of another net is put on the wall", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.runs(s.outlineEdges(true), false), func(x runOf) (mutant, bool) {
			return s.edit(s.add(fmt.Sprintf("castellation stray on %s at %s hole 1 mm land 1.6 mm by 1.2 mm net V9", x.edge.Name, inMM((x.from+x.to)/2))), "stray")
		})
	}},
	{rule: "castellation_on_plating", mistake: "a half hole without a net is put on the wall", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.runs(s.outlineEdges(true), false), func(x runOf) (mutant, bool) {
			return s.edit(s.add(fmt.Sprintf("castellation stray on %s at %s hole 1 mm land 1.6 mm by 1.2 mm", x.edge.Name, inMM((x.from+x.to)/2))), "stray")
		})
	}},
	{rule: "castellation_on_plating", mistake: "plating comes nearer to half holes than the bit is wide", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Castellations(), func(c *board.Castellation) (mutant, bool) {
			from := c.To + c.Hole.Value/2 + s.less(s.min("gap_width"))
			if from+3e6 > c.Edge.Length {
				return none, false
			}
			return s.edit(s.add(otherPlating(c.Edge.Name, from, from+3e6, "V9")), c.Name.Text)
		})
	}},
	{rule: "fence_inset", mistake: "a fence's vias are too near the edge", seed: fences(func(s *subject, f *board.Fence) string {
		return s.put(f.Inset.At, inMM(f.Hole.Value/2+s.less(s.min("fence_inset"))))
	})},
	{rule: "fence_inset", mistake: "a fence's vias are drilled larger", seed: fences(func(s *subject, f *board.Fence) string {
		if f.Land.Given() {
			return s.text // the pads would be smaller than their holes
		}
		return s.put(f.Hole.At, inMM(math.Ceil(2*(f.Inset.Value-s.less(s.min("fence_inset"))))))
	})},
	{rule: "fence_pitch", mistake: "a fence's vias are too far apart for its frequency", seed: fences(func(s *subject, f *board.Fence) string {
		if s.openTo() == 0 {
			return s.text
		}
		return s.put(f.Pitch.At, inMM(math.Ceil(s.openTo()*(1.001+s.r.Float64()))))
	})},
	{rule: "fence_empty", mistake: "a fence's vias are farther inside than its edge is long", seed: fences(func(s *subject, f *board.Fence) string {
		if e := f.Along[0].Edge; !e.Closed {
			return s.put(f.Inset.At, inMM(math.Ceil(e.Length*0.5001)))
		}
		return s.text
	})},
}

// rows edits any row of half holes.
func rows(text func(*subject, *board.Castellation) string) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Castellations(), func(c *board.Castellation) (mutant, bool) { return s.edit(text(s, c), c.Name.Text) })
	}
}

func fences(text func(*subject, *board.Fence) string) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Fences(), func(f *board.Fence) (mutant, bool) { return s.edit(text(s, f), f.Name.Text) })
	}
}

var physicsMistakes = []kind{
	{rule: "opening_long", mistake: "the board's frequency goes up", seed: info(func(s *subject) string {
		if !slices.ContainsFunc(s.b.Gaps(), func(g *board.Gap) bool { return !g.Bridged }) {
			return s.text
		}
		return s.put(s.b.Info().Frequency.At, fmt.Sprintf("%.6g GHz", 20+s.r.Float64()*10))
	})},
	{rule: "fence_pitch", mistake: "the board's frequency goes up", seed: info(func(s *subject) string {
		if len(s.b.Fences()) == 0 {
			return s.text
		}
		return s.put(s.b.Info().Frequency.At, fmt.Sprintf("%.6g GHz", 20+s.r.Float64()*10))
	})},
	{rule: "shielding_short", mistake: "the wall is to hold back more than it can", seed: info(func(s *subject) string {
		if !s.b.Info().Frequency.Given() {
			return s.text
		}
		if s.b.Info().Shielding.Given() {
			return s.put(s.b.Info().Shielding.At, fmt.Sprintf("%d dB", 2000+s.r.IntN(1000)))
		}
		return s.put(s.b.Info().Class.At, s.slice(s.b.Info().Class.At)+"\n  shielding 2000 dB")
	})},
	{rule: "cavity_resonance", mistake: "the board's frequency goes up past its cavity's", seed: info(func(s *subject) string {
		layers := map[string]bool{}
		for _, p := range s.b.Planes() {
			layers[p.Layer.Text] = true
		}
		if s.b.Outline().Kind != "rectangle" || len(layers) < 2 || !s.wallOnOutline() {
			return s.text
		}
		return s.put(s.b.Info().Frequency.At, fmt.Sprintf("%.6g GHz", 12+s.r.Float64()*10))
	})},
	{rule: "wall_current", mistake: "the wall is to carry more than it can", seed: info(func(s *subject) string {
		if !s.b.Info().Current.Given() || !s.b.Info().Rise.Given() {
			return s.text
		}
		return s.put(s.b.Info().Current.At, fmt.Sprintf("%.4g A", s.carries()*(1.001+s.r.Float64())))
	})},
	{rule: "wall_current", mistake: "the wall may grow warm by less", seed: info(func(s *subject) string {
		if !s.b.Info().Current.Given() || !s.b.Info().Rise.Given() {
			return s.text
		}
		// I grows with the 0.44th power of the rise.
		rise := s.b.Info().Rise.Value * math.Pow(0.999*s.b.Info().Current.Value/s.carries(), 1/0.44)
		if rise < 10 {
			return s.text
		}
		return s.put(s.b.Info().Rise.At, fmt.Sprintf("%.5g K", math.Max(10, rise*0.95)))
	})},
	{rule: "not_verified", mistake: "shielding is asked for, and nobody says up to which frequency", seed: without("shielding", `frequency [^\n;}]*`)},
	{rule: "not_verified", mistake: "a current is asked for, and nobody says how warm the wall may grow", seed: without("current", `rise [^\n;}]*`)},
	{rule: "not_verified", mistake: "a rise is left of a current", seed: func(s *subject) (mutant, bool) {
		m, ok := without("current", `current [^\n;}]*`)(s)
		m.on = "board.rise"
		return m, ok && s.b.Info().Rise.Given()
	}},
	{rule: "not_verified", mistake: "a wall may grow warmer than the formula reaches", seed: func(s *subject) (mutant, bool) {
		if !s.b.Info().Current.Given() || !s.b.Info().Rise.Given() {
			return none, false
		}
		return s.edit(s.put(s.b.Info().Rise.At, fmt.Sprintf("%d K", 101+s.r.IntN(300))), "board.current")
	}},
	{rule: "not_verified", mistake: "the wall is to stand more than 60 V, in kV for V", seed: asking("voltage", "1.2 kV")},
	{rule: "not_verified", mistake: "the wall becomes the product's protective earth", seed: asking("hazard", "protective_earth")},
	{rule: "not_verified", mistake: "a class is asked for, and nobody says how thick a wall's copper is", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
			return s.edit(s.within(p.Base(), `copper [^\n;}]*?(?:oz|um|µm|mil|mm)`, ""), "board.class")
		})
	}},
	{rule: "wall_absorption", mistake: "a band starts in kHz that was meant in MHz", seed: info(func(s *subject) string {
		if s.b.Info().FrequencyLow.Given() {
			return s.put(s.b.Info().FrequencyLow.At, fmt.Sprintf("%g kHz", s.b.Info().FrequencyLow.Value/1e6))
		}
		return s.put(s.b.Info().Frequency.At, fmt.Sprintf("%d kHz to %s", 10+s.r.IntN(500), s.slice(s.b.Info().Frequency.At)))
	})},
}

func info(text func(*subject) string) seeder {
	return func(s *subject) (mutant, bool) { return s.edit(text(s), "") }
}

// asking has a board that says nothing of voltages ask for more.
func asking(clause, value string) seeder {
	return func(s *subject) (mutant, bool) {
		if s.b.Info().Voltage.Given() || s.b.Info().Hazard.Given() {
			return none, false
		}
		return s.edit(s.put(s.b.Info().Class.At, s.slice(s.b.Info().Class.At)+"\n  "+clause+" "+value), "board."+clause)
	}
}

// without takes a clause from a board statement that asks for something.
func without(clause, condition string) seeder {
	return func(s *subject) (mutant, bool) {
		i := slices.IndexFunc(s.b.Requests(), func(r board.Request) bool { return r.Clause == clause })
		accepted := slices.ContainsFunc(s.b.Acceptances(), func(a *board.Acceptance) bool { return a.On[0].Text == "board."+clause })
		if i < 0 || accepted {
			return none, false
		}
		return s.edit(s.within(s.b.Info().Base(), condition, ""), "board."+clause)
	}
}

func (s *subject) wallOnOutline() bool {
	return slices.ContainsFunc(s.b.Platings(), func(p *board.Plating) bool {
		return slices.ContainsFunc(p.Along, func(a board.Along) bool { return !a.Edge.Profile.Cutout })
	})
}

// carries is what the weakest wall carries with its wraps, A: I = 0.048·ΔT^0.44·A^0.725,
// A in square mils, as IPC-2221's curves are commonly fitted.
func (s *subject) carries() float64 {
	thick, _ := s.b.Thickness()
	section := math.Inf(1)
	for _, p := range s.b.Platings() {
		sum := thick.Value * p.Copper.Value
		for _, f := range board.Faces {
			foil := p.Copper.Value
			for _, l := range s.b.Stack().Layered() {
				if l.Name.Text == s.b.OuterLayer(f) {
					if foil = max(l.Thickness.Value, foil); l.Base.Given() {
						foil = max(l.Thickness.Value, l.Base.Value+p.Copper.Value)
					}
				}
			}
			sum += p.Wrap[f].Value * foil
		}
		section = math.Min(section, sum)
	}
	return 0.048 * math.Pow(s.b.Info().Rise.Value, 0.44) * math.Pow(section/25400/25400, 0.725)
}

// slip writes a length's number in one unit with another behind it.
func (s *subject) slip(i *board.Item, v board.Value, meant *quantity.Unit, unit string) (mutant, bool) {
	number, ok := v.Exact(meant, 6)
	if !v.Given() || !ok {
		return none, false
	}
	return s.edit(s.put(v.At, strings.Fields(number)[0]+" "+unit), i.Name.Text)
}

var houseMistakes = []kind{
	{rule: "unit_unlikely", mistake: "copper in millimetres", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) { return s.slip(&p.Item, p.Copper, quantity.Micrometre, "mm") })
	}},
	{rule: "unit_unlikely", mistake: "an opening in micrometres", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Reliefs(), func(x *board.Relief) (mutant, bool) { return s.slip(&x.Item, x.Reach, quantity.Millimetre, "um") })
	}},
	{rule: "unit_unlikely", mistake: "half holes in metres", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Castellations(), func(c *board.Castellation) (mutant, bool) { return s.slip(&c.Item, c.Hole, quantity.Millimetre, "m") })
	}},
	{rule: "leave_idle", mistake: "what the outline says is left to the shop", seed: adding("leave outline to shop because \"so\"", "leave")},
	{rule: "leave_idle", mistake: "what the stack or the board says is left to the shop", seed: adding("leave thickness to shop because \"so\"", "leave")},
	{rule: "name_unused", mistake: "a let that nothing reads", seed: adding("let spare = 3 mm", "spare")},
	{rule: "name_unused", mistake: "a connector that no gap is for", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.runs(s.outlineEdges(true), false), func(x runOf) (mutant, bool) {
			return s.edit(s.add(fmt.Sprintf("connector spare on %s at %s body 2 mm", x.edge.Name, inMM((x.from+x.to)/2))), "spare")
		})
	}},
	{rule: "name_unused", mistake: "a second fabricator takes the first one's place", seed: func(s *subject) (mutant, bool) {
		if !strings.Contains(s.text, "fabricator house") {
			return none, false
		}
		return s.edit(s.add("fabricator elsewhere { finishes ENIG }"), "house")
	}},
	{rule: "acceptance_unused", mistake: "a finding is accepted that is not there", seed: func(s *subject) (mutant, bool) {
		p := s.b.Platings()[s.r.IntN(len(s.b.Platings()))]
		return s.edit(s.add(fmt.Sprintf("accept %s on %s because \"agreed\"", pickOf(s, "wrap_land", "plated_share", "span_short"), p.Name.Text)), p.Name.Text)
	}},
	{rule: "acceptance_unused", mistake: "what was accepted is mended, the acceptance stays", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Acceptances(), func(a *board.Acceptance) (mutant, bool) {
			for _, t := range s.b.Tabs() {
				if t.Name.Text == a.On[0].Text {
					return s.edit(s.put(t.Width.At, inMM(s.max("tab_width_solid"))), t.Name.Text)
				}
			}
			return none, false
		})
	}},
	{rule: "acceptance_expired", mistake: "an acceptance is past its date", seed: func(s *subject) (mutant, bool) {
		p := s.b.Platings()[s.r.IntN(len(s.b.Platings()))]
		return s.edit(s.add(fmt.Sprintf("accept wrap_land on %s because \"agreed\" until \"20%02d-12-31\"", p.Name.Text, s.r.IntN(27))), p.Name.Text)
	}},
	{rule: "fabricator_outdated", mistake: "the shop's limits are past their date", seed: func(s *subject) (mutant, bool) {
		return s.edit(s.add(fmt.Sprintf("fabricator aged { until \"20%02d-12-31\" }", s.r.IntN(27))), "aged")
	}},
	{rule: "fabricator_outdated", mistake: "the year of the shop's last day is mistyped", seed: func(s *subject) (mutant, bool) {
		return s.edit(s.add(fmt.Sprintf("fabricator aged { version \"2\"; until \"1%d26-%02d-01\"; checked \"2026-12-31\" }", s.r.IntN(10), 1+s.r.IntN(12))), "aged")
	}},
	{rule: "tab_width", mistake: "the acceptance of a wide tab ran out", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Acceptances(), func(a *board.Acceptance) (mutant, bool) {
			return s.edit(s.put(a.Until.At, `"2027-01-14"`), a.On[0].Text)
		})
	}},
}

// Some of what a shop would have to ask about is no matter for a rule: the
// text itself says too little, and that is found when it is read.
var languageMistakes = []kind{
	{rule: syntax.RuleWrongValue, mistake: "two corners of a drawn rectangle are swapped", seed: func(s *subject) (mutant, bool) {
		if s.b.Outline().Kind != "start" || len(s.b.Outline().Edges) != 4 {
			return none, false
		}
		m, ok := swapped(s)
		m.on = ""
		return m, ok
	}, broken: true},
	{rule: syntax.RuleMissingClause, mistake: "the net of a wall is not given", seed: nameless(func(s *subject, p *board.Plating) string { return s.within(&p.Item, `net [^\n;}]*`, "") })},
	{rule: syntax.RuleMissingClause, mistake: "it is not said which edges are plated", seed: nameless(func(s *subject, p *board.Plating) string {
		whole := s.slice(p.Whole)
		for strings.Contains(whole, "along ") {
			from := strings.Index(whole, "along ")
			whole = whole[:from] + whole[from+strings.IndexAny(whole[from:], "\n;}"):]
		}
		return s.put(p.Whole, whole)
	}), broken: true},
	{rule: syntax.RuleWrongValue, mistake: "a length has no unit", seed: nameless(func(s *subject, p *board.Plating) string { return s.put(p.Copper.At, "25") })},
	{rule: board.RuleOffEdge, mistake: "a gap reaches past its edge", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.StatedGaps(), func(g *board.Gap) (mutant, bool) {
			if g.Edge.Closed {
				return none, false // a rim has no end
			}
			return s.edit(s.put(g.Stretch, s.stretch(g, g.Edge.Length, g.To-g.From)), "")
		})
	}},
	{rule: board.RuleUnknownName, mistake: "a tab is on an edge that is not there", seed: func(s *subject) (mutant, bool) {
		m, ok := s.tabs(func(t *board.Tab) string { return s.within(&t.Item, `on (\w+)`, "soutn") })
		m.on = ""
		return m, ok
	}},
	{rule: board.RuleUnknownName, mistake: "a plane is on a layer that is not there", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Planes(), func(p *board.Plane) (mutant, bool) { return s.edit(s.put(p.Layer.At, "gruond"), "") })
	}},
	{rule: syntax.RuleMissingClause, mistake: "a finding is accepted without a reason", seed: adding("accept wrap_land on wall", "")},
	{rule: syntax.RuleWrongValue, mistake: "a class that there is not", seed: info(func(s *subject) string { return s.put(s.b.Info().Class.At, "4") })},
}

// nameless edits a plating; findings of the text are on nothing.
func nameless(text func(*subject, *board.Plating) string) seeder {
	return func(s *subject) (mutant, bool) {
		m, ok := platings(text)(s)
		m.on = ""
		return m, ok
	}
}
