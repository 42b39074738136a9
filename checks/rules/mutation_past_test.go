package rules

import (
	"fmt"
	"math"
	"strings"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Mistakes of what is drawn past the profile, or lies across a narrow board or opening.
var pastMistakes = []kind{
	{rule: "extension_stray", mistake: "a slit is plated on one side, its copper drawn past the other", seed: slitted(func(s *subject) string {
		return "cutout slit rectangle 6 mm by 0.4 mm at %s\n" + insideWall("slit.south", "0.8 mm", inMM(400_100+math.Round(s.r.Float64()*2e5)))
	}, "inside")},
	{rule: "extension_stray", mistake: "the same of a slit that is drawn, with a sharp end", seed: slitted(func(s *subject) string {
		return "cutout slit { start %[1]s; line a to %[2]s; line b to %[3]s; close c }\n" + insideWall("slit.a", "0.8 mm", "0.3 mm")
	}, "inside")},
	{rule: "extension_stray", mistake: "copper is drawn over a slit that is plated on both sides, and past the wrap beyond it", seed: slitted(func(s *subject) string {
		return "cutout slit rectangle 6 mm by 0.4 mm at %s\n" + insideWall("slit.south slit.north", "0.3 mm", inMM(701_000+math.Round(s.r.Float64()*2e5)))
	}, "inside")},
	{rule: "relief_stray", mistake: "half holes with a relief stand across a slit", seed: slitted(func(s *subject) string {
		return "cutout slit rectangle 6 mm by " + inMM(450_000-math.Round(s.r.Float64()*2e5)) + " at %s\n" + insideHalf("top bottom", "")
	}, "lid")},
	{rule: "relief_stray", mistake: "the same on one face, its margin wider than the half hole", seed: slitted(func(s *subject) string {
		return "cutout slit rectangle 6 mm by 0.499 mm at %s\n" + insideHalf(pickOf(s, "top", "bottom"), " margin 0.5 mm")
	}, "lid")},
	{rule: "relief_conflict", mistake: "a relief is copied and its reach changed", seed: reliefAgain(func(s *subject, x *board.Relief) string {
		return fmt.Sprintf("on %s reach %s", pickOf(s, x.FaceNames()...), inMM(x.Reach.Value+1+math.Round(s.r.Float64()*1e5)))
	})},
	{rule: "relief_conflict", mistake: "a relief is copied, and its reach put in mil", seed: reliefAgain(func(s *subject, x *board.Relief) string {
		if strings.Contains(s.slice(x.Whole), "margin") {
			return "" // that it has none would be found too
		}
		return fmt.Sprintf("on %s reach %s", pickOf(s, x.FaceNames()...), strings.Replace(inMM(x.Reach.Value), "mm", "mil", 1))
	})},
	{rule: "relief_conflict", mistake: "two reliefs state two margins", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Reliefs(), func(x *board.Relief) (mutant, bool) {
			if !x.Margin.Given() {
				return none, false
			}
			return s.edit(s.add(fmt.Sprintf("relief again over %s on top bottom reach %s margin %s", x.OverNames(), x.Reach.Quantity, inMM(x.Margin.Value+1e4))), "again")
		})
	}},
	{rule: "marking_misplaced", mistake: "a mark stands on a land", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Castellations(), func(c *board.Castellation) (mutant, bool) {
			if len(c.Layers) > 0 {
				return none, false
			}
			at := c.Edge.Point(c.Centres[0]).Add(c.Edge.Inward(c.Centres[0]).Scale(c.LandLength.Value * (0.1 + 0.8*s.r.Float64())))
			return s.edit(s.add(fmt.Sprintf("marking \"lot\" on %s at (%s, %s)", pickOf(s, "top", "bottom"), inMM(math.Round(at.X)), inMM(math.Round(at.Y)))), "marking")
		})
	}},
	{rule: "marking_misplaced", mistake: "a mark stands off the board", seed: func(s *subject) (mutant, bool) {
		b := s.b.Outline().Path.Box()
		return s.edit(s.add(fmt.Sprintf("marking \"lot\" on top at (%s, %s)", inMM(math.Round(b.Max.X+1e6)), inMM(math.Round(b.Max.Y)))), "marking")
	}},
	{rule: "premetallised_bare", mistake: "the wall is interrupted where a premetallised tab stands", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Tabs(), func(t *board.Tab) (mutant, bool) {
			from, to := t.Range()
			on := ""
			s.b.Wall(t.Edge.Profile).PlatedIn(from, to, func(x board.Stretch) { on = x.Plating.Name.Text })
			if !t.Premetallised || on == "" {
				return none, false
			}
			return s.edit(s.add(fmt.Sprintf("gap extra of %s on %s at %s width %s", on, t.Edge.Name, inMM(t.Position), inMM(math.Ceil(t.Width.Value*(0.5+s.r.Float64()))))), t.Name.Text)
		})
	}},
	{rule: "stretch_empty", mistake: "a wall's stretch ends where it starts", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
			e := p.Along[0].Edge
			return s.edit(s.within(&p.Item, `net `, fmt.Sprintf("along %s from %s to %[2]s\n  net ", e.Name, inMM(math.Round(e.Length*s.r.Float64())))), p.Name.Text)
		})
	}},
	{rule: "stretch_empty", mistake: "a gap ends where it starts", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.StatedGaps(), func(g *board.Gap) (mutant, bool) {
			return s.edit(s.put(g.Stretch, fmt.Sprintf("from %s to %[1]s", inMM(math.Round(math.Max(g.From, 0))))), g.Name.Text)
		})
	}},
	{rule: "wrap_overlap", mistake: "a strip between two slots is narrower than its wraps", seed: slitted(func(s *subject) string {
		return "cutout slit rectangle 6 mm by 2 mm at %[1]s\ncutout second rectangle 6 mm by 2 mm at %[4]s\n" + insideWall("slit.north second.south", "0.8 mm", "0.1 mm")
	}, "inside")},
	{rule: "wrap_overlap", mistake: "a wrap in a size that was meant for the whole board", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
			box := s.b.Outline().Path.Box()
			for f, w := range p.Wrap {
				// One of 50 mm and more is plausible in µm, of which wrap_land has to say something.
				if facesItself(s, p) && w.Given() && (box.Max.X-box.Min.X)/2+1 < 49e6 {
					return s.edit(s.put(w.At, fmt.Sprintf("wrap %s %s", board.Face(f), inMM(math.Ceil((box.Max.X-box.Min.X)/2+1)))), p.Name.Text)
				}
			}
			return none, false
		})
	}},
}

// reliefAgain adds another relief over what one is over.
func reliefAgain(says func(*subject, *board.Relief) string) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Reliefs(), func(x *board.Relief) (mutant, bool) {
			more := says(s, x)
			if more == "" {
				return none, false
			}
			return s.edit(s.add("relief again over "+x.OverNames()+" "+more), "again")
		})
	}
}

// facesItself tells whether a plating runs along west and east of a plain
// rectangle, over its middle height on both.
func facesItself(s *subject, p *board.Plating) bool {
	if s.b.Outline().Kind != "rectangle" {
		return false
	}
	for _, part := range []float64{0.2, 0.35, 0.5, 0.65} {
		n := 0
		for _, name := range []string{"west", "east"} {
			e := s.b.Edge(name)
			for x := range s.b.PlatedBy(p) {
				if from, to := e.Range(e.Length*part, e.Length*(part+0.15)); x.Profile == e.Profile && x.From <= from && to <= x.To {
					n++
					break
				}
			}
		}
		if n == 2 {
			return true
		}
	}
	return false
}

func insideWall(along, wrap, extend string) string {
	return fmt.Sprintf("plating inside { along %s; net GND; copper 35 um; wrap top %s; wrap bottom %[2]s; extend %s }", along, wrap, extend)
}

func insideHalf(faces, margin string) string {
	return "castellation half on slit.south at middle hole 0.6 mm land 1 mm by 0.6 mm\nrelief lid over half on " + faces + " reach 0.7 mm" + margin
}

// slitted adds statements about a place in the midst of the board: %[1]s is that
// place, %[2]s 6 mm east of it, %[3]s 0.2 mm north and %[4]s 3.5 mm north of it.
func slitted(text func(*subject) string, on string) seeder {
	return func(s *subject) (mutant, bool) {
		r, ok := s.b.Region()
		c := r.Centroid()
		if !ok {
			return none, false
		}
		for _, p := range s.b.Planes() {
			if _, outer := s.b.FaceOf(p.Layer.Text); outer {
				return none, false // where it lies there already, nothing is drawn astray
			}
		}
		for _, d := range [...]geom.Point{{X: -8e6, Y: -8e6}, {X: 14e6, Y: -8e6}, {X: -8e6, Y: 8e6}, {X: 14e6, Y: 8e6}} {
			if !s.b.OnBoard(c.Add(d.Scale(0.6))) {
				return none, false
			}
		}
		for _, p := range s.b.Profiles() {
			if p.Cutout && p.Path.Box().Grow(8e6).Contains(c) {
				return none, false
			}
		}
		c = geom.Point{X: math.Round(c.X), Y: math.Round(c.Y)}
		places := []any{at(c.X, c.Y), at(c.X+6e6, c.Y), at(c.X, c.Y+2e5), at(c.X, c.Y+3.5e6)}
		form := text(s) + "%.0[1]s%.0[2]s%.0[3]s%.0[4]s"
		return s.edit(s.add(fmt.Sprintf(form, places...)), on)
	}
}
