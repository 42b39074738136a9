package rules

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"hemline/checks/figures"
	"hemline/lang/board"
)

var gapMistakes = []kind{
	{rule: "gap_narrow", mistake: "a gap is narrower than the bit", seed: gapWidth(func(s *subject, g *board.Gap) float64 { return s.less(s.min("gap_width")) })},
	{rule: "gap_narrow", mistake: "a gap's width in mil that was meant in mm", seed: gapWidth(func(s *subject, g *board.Gap) float64 { return (g.To - g.From) * 0.0254 })},
	{rule: "gap_narrow", mistake: "two stretches of one plating nearly meet", seed: nearlyMeeting},
	{rule: "gap_idle", mistake: "a gap on an edge that is not plated", seed: gapOnBareEdge},
	{rule: "gap_idle", mistake: "a gap names the other plating", seed: gapOfOther},
	{rule: "gap_idle", mistake: "the plating no longer runs on its gap's edge", seed: edgeTakenAway},
	{rule: "opening_long", mistake: "a gap is far wider than its tab needs", seed: gapTooLong},
	{rule: "opening_long", mistake: "a premetallised tab as wide as a gap may not be", seed: wideRoot("new")},
	{rule: "shielding_short", mistake: "a wide gap in a wall that must shield", seed: leakingGap},
	{rule: "shielding_short", mistake: "a wide premetallised tab on a wall that must shield", seed: leakingRoot},
}

// stretch is a gap's place as text: about its middle, so wide.
func (s *subject) stretch(g *board.Gap, middle, width float64) string {
	if g.Opened() { // about what opens it
		return regexp.MustCompile(`(margin|span) [^;\n}]*?( bridged|$)`).ReplaceAllString(s.slice(g.Stretch), "span "+inMM(math.Round(width))+"$2")
	}
	if g.Width.Given() {
		return fmt.Sprintf("at %s width %s", inMM(middle), inMM(width))
	}
	from := math.Round(middle - width/2)
	return fmt.Sprintf("from %s to %s", inMM(from), inMM(from+math.Round(width)))
}

func middleOfGap(g *board.Gap) float64 { return (g.From + g.To) / 2 }

func gapWidth(width func(*subject, *board.Gap) float64) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Gaps(), func(g *board.Gap) (mutant, bool) {
			return s.edit(s.put(g.Stretch, s.stretch(g, middleOfGap(g), math.Floor(width(s, g)))), g.Name.Text)
		})
	}
}

func nearlyMeeting(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
		return anyOf(s, p.Along, func(a board.Along) (mutant, bool) {
			end := a.From - s.less(s.min("gap_width"))
			if a.From == 0 || end < 4e6 {
				return none, false
			}
			return s.edit(s.within(&p.Item, `net `, fmt.Sprintf("along %s from %s to %s\n  net ", a.Edge.Name, inMM(end-3e6), inMM(end))), p.Name.Text)
		})
	})
}

func gapOnBareEdge(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
		return anyOf(s, s.outlineEdges(true), func(e *board.Edge) (mutant, bool) {
			for _, a := range p.Along {
				if a.Edge == e || e.Length < 10e6 {
					return none, false
				}
			}
			return s.edit(s.add(fmt.Sprintf("gap idle of %s on %s at middle width 4 mm", p.Name.Text, e.Name)), "idle")
		})
	})
}

func gapOfOther(s *subject) (mutant, bool) {
	return anyOf(s, s.b.StatedGaps(), func(g *board.Gap) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
			for _, a := range p.Along {
				if a.Edge == g.Edge {
					return none, false
				}
			}
			return s.edit(s.put(g.Of.At, p.Name.Text), g.Name.Text)
		})
	})
}

func edgeTakenAway(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Gaps(), func(g *board.Gap) (mutant, bool) {
		p := s.b.PlatingNamed(g.Of.Text)
		if len(p.Along) < 2 {
			return none, false
		}
		for _, a := range p.Along {
			if a.Edge != g.Edge {
				continue
			}
			text := s.put(a.At, "")
			if a.From != 0 || a.To != a.Edge.Length {
				text = s.within(&p.Item, "along "+g.Edge.Name+` from[^\n;}]*`, "")
			} else if s.slice(a.At) != a.Edge.Name || !strings.Contains(s.slice(p.Whole), " "+a.Edge.Name+" ") && !strings.Contains(s.slice(p.Whole), "south "+a.Edge.Name) {
				return none, false // it stands alone, or is one of all
			}
			return s.edit(text, g.Name.Text)
		}
		return none, false
	})
}

// openTo is how long an opening may be at the board's frequency, or 0.
func (s *subject) openTo() float64 {
	lambda, ok := figures.WavelengthIn(s.b)
	if !ok {
		return 0
	}
	return s.max("opening_share") * lambda
}

// widened makes a gap that is not closed so wide.
func (s *subject) widened(width float64) (mutant, bool) {
	if width == 0 {
		return none, false
	}
	return anyOf(s, s.b.Gaps(), func(g *board.Gap) (mutant, bool) {
		middle := middleOfGap(g)
		if g.Bridged || width <= g.To-g.From || middle-width/2 < 0 || middle+width/2 > g.Edge.Length {
			return none, false
		}
		inside := func(a board.Along) bool {
			return a.Edge == g.Edge && (g.Edge.Closed || a.From+1e6 < middle-width/2 && middle+width/2 < a.To-1e6)
		}
		if !slices.ContainsFunc(s.b.PlatingNamed(g.Of.Text).Along, inside) {
			return none, false // nothing would be left of the wall on one side
		}
		for _, x := range s.b.Gaps() {
			if x != g && x.Edge == g.Edge && x.From < middle+width/2 && middle-width/2 < x.To {
				return none, false // another gap is part of the same opening, and may be closed
			}
		}
		return s.edit(s.put(g.Stretch, s.stretch(g, middle, math.Ceil(width))), g.Name.Text)
	})
}

// wideRoot puts a premetallised tab on a wall, wider than an opening may be.
func wideRoot(on string) seeder {
	return func(s *subject) (mutant, bool) { return s.root(s.openTo()*(1.01+s.r.Float64()/4), on) }
}

func (s *subject) root(width float64, on string) (mutant, bool) {
	if width == 0 {
		return none, false
	}
	return anyOf(s, s.runs(s.outlineEdges(false), false), func(r runOf) (mutant, bool) {
		for _, t := range s.b.Tabs() {
			if t.Edge == r.edge && t.Premetallised {
				return none, false // its root may be part of the same opening
			}
		}
		if r.to-r.from < width+1e6 {
			return none, false
		}
		return s.edit(s.add(fmt.Sprintf("tab new on %s at %s width %s solid premetallised", r.edge.Name, inMM((r.from+r.to)/2), inMM(math.Ceil(width)))), on)
	})
}

func leakingRoot(s *subject) (mutant, bool) {
	lambda, ok := figures.WavelengthIn(s.b)
	if !ok || !s.b.Info().Shielding.Given() {
		return none, false
	}
	// S = 20·log10(λ/2L) of the root alone is under what the board asks for.
	return s.root(lambda/2*math.Pow(10, -s.b.Info().Shielding.Value/20)*1.05, "new")
}

func gapTooLong(s *subject) (mutant, bool) { return s.widened(s.openTo() * (1.01 + s.r.Float64()/4)) }

func leakingGap(s *subject) (mutant, bool) {
	lambda, ok := figures.WavelengthIn(s.b)
	if !ok || !s.b.Info().Shielding.Given() {
		return none, false
	}
	return s.widened(1.01 * lambda / 2 / math.Pow(10, s.b.Info().Shielding.Value/20))
}

var launchMistakes = []kind{
	{rule: "launch_blocked", mistake: "the gap before a pin is forgotten", seed: launches(func(s *subject, c *board.Connector, g *board.Gap, pin board.Pin) string { return s.drop(&g.Item) })},
	{rule: "launch_blocked", mistake: "the gap before a pin is somewhere else", seed: launches(gapMoved)},
	{rule: "launch_blocked", mistake: "the pin is wider than its gap", seed: launches(func(s *subject, c *board.Connector, g *board.Gap, pin board.Pin) string {
		return s.within(&c.Item, `pin [a-z]+ width ([\d.]+ ?[a-z]+)`, inMM(g.To-g.From+2e5))
	})},
	{rule: "launch_clearance", mistake: "the gap leaves the pin too little room", seed: launches(func(s *subject, c *board.Connector, g *board.Gap, pin board.Pin) string {
		return s.put(g.Stretch, s.stretch(g, middleOfGap(g), math.Floor(pin.Width.Value+2*s.less(s.pinRoom(c)))))
	})},
	{rule: "launch_clearance", mistake: "the pin is almost as wide as its gap", seed: launches(func(s *subject, c *board.Connector, g *board.Gap, pin board.Pin) string {
		return s.within(&c.Item, `pin [a-z]+ width ([\d.]+ ?[a-z]+)`, inMM(math.Ceil(g.To-g.From-2*s.less(s.pinRoom(c)))))
	})},
	{rule: "launch_clearance", mistake: "the connector asks for more than its gap leaves", seed: launches(func(s *subject, c *board.Connector, g *board.Gap, pin board.Pin) string {
		asks := inMM((g.To-g.From-pin.Width.Value)/2 + 1 + 3e5*float64(s.r.IntN(2)))
		if c.Clearance.Given() {
			return s.put(c.Clearance.At, asks)
		}
		return s.put(c.Name.At, c.Name.Text+" clearance "+asks)
	})},
	{rule: "launch_clearance", mistake: "the gap is off the pin's middle", seed: launches(func(s *subject, c *board.Connector, g *board.Gap, pin board.Pin) string {
		shift := (g.To-g.From-pin.Width.Value)/2 - s.pinRoom(c)*0.5
		return s.put(g.Stretch, s.stretch(g, middleOfGap(g)+shift, g.To-g.From))
	})},
	{rule: "leg_unplated", mistake: "the connector's legs stand beside its pin, in the gap", seed: launches(func(s *subject, c *board.Connector, g *board.Gap, pin board.Pin) string {
		return s.put(c.Net.At, c.Net.Text+" legs top width 0.05 mm length 1 mm spacing "+inMM(math.Ceil(pin.Width.Value+200_000)))
	})},
	{rule: "launch_open", mistake: "the gap is wider than the connector's body", seed: launches(func(s *subject, c *board.Connector, g *board.Gap, pin board.Pin) string {
		return s.put(g.Stretch, s.stretch(g, middleOfGap(g), math.Ceil(c.Body.Value+2+2e6*s.r.Float64())))
	})},
	{rule: "launch_open", mistake: "the connector's body is narrower than the gap", seed: launches(func(s *subject, c *board.Connector, g *board.Gap, pin board.Pin) string {
		return s.put(c.Body.At, s.short(g.To-g.From))
	})},
	{rule: "gap_astray", mistake: "a gap is for the connector of another gap", seed: otherConnector},
	{rule: "gap_astray", mistake: "a connector moves to another place, its gap does not", seed: launches(func(s *subject, c *board.Connector, g *board.Gap, pin board.Pin) string {
		return s.put(c.PositionAt, "at "+inMM(c.Position+(g.To-g.From)/2+1+s.r.Float64()*2e6))
	})},
	{rule: "gap_astray", mistake: "a connector is put on another edge, its gap is not", seed: launches(func(s *subject, c *board.Connector, g *board.Gap, pin board.Pin) string {
		for _, e := range s.outlineEdges(true) {
			if e != c.Edge && e.Length > c.Position {
				return s.within(&c.Item, `on [\w.]+`, "on "+e.Name)
			}
		}
		return s.text
	})},
	{rule: "gap_conflict", mistake: "a tab in a stated gap opens one of its own, too", seed: tabInGap(func(s *subject, t *board.Tab, _ *board.Gap) string {
		if t.Premetallised {
			return s.text
		}
		return s.put(t.PositionAt, s.slice(t.PositionAt)+" opens margin 0.1 mm")
	})},
	{rule: "gap_conflict", mistake: "a premetallised tab opens a gap", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Tabs(), func(t *board.Tab) (mutant, bool) {
			if !t.Premetallised {
				return none, false
			}
			return s.edit(s.put(t.PositionAt, s.slice(t.PositionAt)+" opens margin 0.1 mm"), t.Name.Text)
		})
	}},
	{rule: "gap_unbridged", mistake: "a gap is bridged by a word alone", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Gaps(), func(g *board.Gap) (mutant, bool) {
			if g.Bridged || g.For.Given() {
				return none, false
			}
			return s.edit(s.put(g.Stretch, s.slice(g.Stretch)+" bridged"), g.Name.Text)
		})
	}},
	{rule: "gap_unbridged", mistake: "which connector bridges a gap is left out", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.StatedGaps(), func(g *board.Gap) (mutant, bool) {
			if !g.Bridged {
				return none, false
			}
			return s.edit(s.within(&g.Item, `\s*;?\s*for \S+`, ""), g.Name.Text)
		})
	}},
	{rule: "opening_long", mistake: "a launch's gap is not said to be closed", seed: notClosed(func(s *subject) float64 { return s.openTo() })},
}

// otherConnector lets two gaps be for one connector.
func otherConnector(s *subject) (mutant, bool) {
	return anyOf(s, s.b.StatedGaps(), func(g *board.Gap) (mutant, bool) {
		return anyOf(s, s.b.Connectors(), func(c *board.Connector) (mutant, bool) {
			if !g.For.Given() || g.For.Text == c.Name.Text {
				return none, false
			}
			return s.edit(s.put(g.For.At, c.Name.Text), g.Name.Text)
		})
	})
}

// pinRoom is what a connector's pin needs beside it.
func (s *subject) pinRoom(c *board.Connector) float64 {
	return math.Max(s.min("launch_clearance"), c.Clearance.Value)
}

// launches edits a connector or the gap before its pin, which both stand for findings.
func launches(text func(*subject, *board.Connector, *board.Gap, board.Pin) string) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.StatedGaps(), func(g *board.Gap) (mutant, bool) {
			c := g.ForConnector(s.b)
			if c == nil || len(c.Pins) == 0 {
				return none, false
			}
			return s.edit(text(s, c, g, c.Pins[0]), c.Name.Text)
		})
	}
}

func gapMoved(s *subject, c *board.Connector, g *board.Gap, pin board.Pin) string {
	shift := (g.To - g.From + pin.Width.Value) / 2
	if s.r.IntN(2) == 0 {
		shift = -shift
	}
	return s.put(g.Stretch, s.stretch(g, middleOfGap(g)+shift, g.To-g.From))
}

// notClosed leaves out the word on a gap longer than what may be open.
func notClosed(most func(*subject) float64) seeder {
	return func(s *subject) (mutant, bool) {
		limit := most(s)
		return anyOf(s, s.b.Gaps(), func(g *board.Gap) (mutant, bool) {
			if limit == 0 || !g.Bridged || g.To-g.From <= limit {
				return none, false
			}
			return s.edit(s.within(&g.Item, `\s*;?\s*bridged`, ""), g.Name.Text)
		})
	}
}

var maskMistakes = []kind{
	{rule: "relief_missing", mistake: "only one face is relieved", seed: reliefs(func(s *subject, x *board.Relief, p *board.Plating) (string, string) {
		return s.within(&x.Item, `on (top bottom)`, pickOf(s, "top", "bottom")), p.Name.Text
	})},
	{rule: "relief_missing", mistake: "a wall is opened on one face alone", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
			for _, x := range s.b.Reliefs() {
				if x.OverNames() == p.Name.Text {
					return none, false
				}
			}
			if p.Wrap[board.Top].Value == 0 || p.Wrap[board.Bottom].Value == 0 {
				return none, false
			}
			return s.edit(s.add(fmt.Sprintf("relief half over %s on %s reach 3 mm", p.Name.Text, pickOf(s, "top", "bottom"))), p.Name.Text)
		})
	}},
	{rule: "relief_short", mistake: "the opening ends on the wrap", seed: reliefs(func(s *subject, x *board.Relief, p *board.Plating) (string, string) {
		widest := 0.0
		for _, f := range x.Faces {
			widest = math.Max(widest, p.Wrap[f].Value)
		}
		return s.put(x.Reach.At, inMM(widest+s.less(s.min("mask_margin")))), x.Name.Text
	})},
	{rule: "relief_short", mistake: "a wrap grows beyond its opening", seed: reliefs(func(s *subject, x *board.Relief, p *board.Plating) (string, string) {
		f := x.Faces[s.r.IntN(len(x.Faces))]
		return s.put(p.Wrap[f].At, fmt.Sprintf("wrap %s %s", f, inMM(x.Reach.Value-s.less(s.min("mask_margin"))))), x.Name.Text
	})},
	{rule: "relief_short", mistake: "the opening ends on the half holes' land", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Reliefs(), func(x *board.Relief) (mutant, bool) {
			c := s.b.CastellationNamed(x.OverNames())
			if c == nil {
				return none, false
			}
			return s.edit(s.put(x.Reach.At, inMM(c.LandLength.Value+s.less(s.min("mask_margin")))), x.Name.Text)
		})
	}},
	{rule: "mask_web", mistake: "a part of the wall's net is put beside the wall's opening", seed: featureByOpening},
	{rule: "mask_web", mistake: "half holes' openings leave a sliver of mask", seed: sliverBetweenHoles},
	{rule: "mask_web", mistake: "the opening's margin takes up a gap", seed: reliefs(func(s *subject, x *board.Relief, p *board.Plating) (string, string) {
		for _, g := range s.b.Gaps() {
			if g.Of.Text != p.Name.Text {
				continue
			}
			margin := inMM((g.To - g.From - s.less(s.min("mask_web"))) / 2)
			if x.Margin.Given() {
				return s.put(x.Margin.At, margin), x.Name.Text
			}
			return s.put(x.Reach.At, s.slice(x.Reach.At)+" margin "+margin), x.Name.Text
		}
		return s.text, ""
	})},
	{rule: "relief_idle", mistake: "the wrap under a relief is left out", seed: reliefs(func(s *subject, x *board.Relief, p *board.Plating) (string, string) {
		return s.put(p.Wrap[x.Faces[s.r.IntN(len(x.Faces))]].At, ""), x.Name.Text
	})},
	{rule: "relief_idle", mistake: "a gap takes all of the wall under a relief", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Reliefs(), func(x *board.Relief) (mutant, bool) {
			p := s.b.PlatingNamed(x.OverNames())
			if p == nil || len(p.Along) != 1 || p.Along[0].Edge.Closed {
				return none, false
			}
			a := p.Along[0]
			return s.edit(s.add(fmt.Sprintf("gap taken of %s on %s from %s to %s", p.Name.Text, a.Edge.Name, inMM(math.Floor(a.From)), inMM(math.Floor(a.To)))), x.Name.Text)
		})
	}},
}

func pickOf[T any](s *subject, list ...T) T { return list[s.r.IntN(len(list))] }

// reliefs edits a relief or the plating under it; the text says which names it.
func reliefs(text func(*subject, *board.Relief, *board.Plating) (string, string)) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Reliefs(), func(x *board.Relief) (mutant, bool) {
			p := s.b.PlatingNamed(x.OverNames())
			if p == nil {
				return none, false
			}
			t, on := text(s, x, p)
			return s.edit(t, on)
		})
	}
}

func featureByOpening(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Reliefs(), func(x *board.Relief) (mutant, bool) {
		return anyOf(s, s.runs(s.b.Edges(), false), func(run runOf) (mutant, bool) {
			// Not near an end: round a corner the part may lie in the opening of the
			// next edge, and both are one.
			const room = 4e6
			if run.plating.Name.Text != x.OverNames() || run.to-run.from < 2*room {
				return none, false
			}
			where := run.from + room + (run.to-run.from-2*room)*s.r.Float64()
			apart := x.Reach.Value + s.min("mask_margin") + s.min("mask_web")*(0.05+0.9*s.r.Float64())
			return s.edit(s.add(beside(x.Faces[0].String(), run.edge, where, apart, " net "+s.slice(run.plating.Net.At))), "stray")
		})
	})
}

func sliverBetweenHoles(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Reliefs(), func(x *board.Relief) (mutant, bool) {
		c := s.b.CastellationNamed(x.OverNames())
		if c == nil || len(c.Centres) < 2 {
			return none, false
		}
		return s.edit(s.put(c.LandWidth.At, inMM(c.Pitch.Value-2*x.Beyond(s.min("mask_margin"))-s.less(s.min("mask_web")))), x.Name.Text)
	})
}
