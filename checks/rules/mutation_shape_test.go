package rules

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"hemline/lang/board"
	"hemline/lang/geom"
)

var shapeMistakes = []kind{
	{rule: "outline_open", mistake: "the last piece of a drawn outline is left out", seed: lastPieceMissing, broken: true},
	{rule: "outline_open", mistake: "a cutout is drawn and not closed", seed: adding("cutout extra { start (1 mm, 1 mm); line a to (4 mm, 1 mm); line b to (4 mm, 3 mm) }", "")},
	{rule: "outline_crosses", mistake: "two corners of a drawn outline are swapped", seed: cornersSwapped, broken: true},
	{rule: "outline_crosses", mistake: "a cutout is drawn as a bow tie", seed: adding("cutout extra { start (10 mm, 9 mm); line a to (15 mm, 13 mm); line b to (14 mm, 9 mm); line c to (10 mm, 12 mm); close d }", "extra")},
	{rule: "outline_crosses", mistake: "a cutout comes back to a side of itself", seed: adding("cutout extra { start (10 mm, 9 mm); line a to (16 mm, 9 mm); line b to (16 mm, 12 mm); line c to (13 mm, 9 mm); line d to (10 mm, 12 mm); close e }", "extra")},
	{rule: "corner_too_sharp", mistake: "the corners of an opening are not rounded", seed: withCutout("rectangle", `corner [^\n;}a]*`, "")},
	{rule: "corner_too_sharp", mistake: "the corners of an opening are rounded less than the bit", seed: sharperCorners},
	{rule: "corner_too_sharp", mistake: "an inside corner is drawn with lines where the bit needs an arc", seed: bayOfLines, broken: true},
	{rule: "corner_too_sharp", mistake: "an opening is drawn as a triangle", seed: adding("cutout extra { start (10 mm, 9 mm); line a to (16 mm, 9 mm); line b to (13 mm, 14 mm); close c }", "extra")},
	{rule: "neck_narrow", mistake: "an opening is put too near the outline", seed: openingNearOutline},
	{rule: "neck_narrow", mistake: "two openings nearly meet", seed: openingNearOpening},
	{rule: "slot_narrow", mistake: "an opening is narrower than any bit", seed: narrowOpening(false)},
	{rule: "slot_narrow", mistake: "a plated opening is narrower than plating leaves", seed: narrowOpening(true)},
	{rule: "slot_narrow", mistake: "a slit is drawn", seed: adding("cutout slit { start (10 mm, 9 mm); line a to (16 mm, 11 mm); line b to (15.9 mm, 11.4 mm); line c to (9.9 mm, 9.4 mm); close d }", "slit")},
	{rule: "cutout_outside", mistake: "an opening runs over the outline", seed: openingOverOutline},
	{rule: "cutout_outside", mistake: "an opening's place is mistyped, on the outline", seed: openingMoved, broken: true},
	{rule: "cutout_outside", mistake: "two openings overlap", seed: openingsOverlap},
	{rule: "item_outside", mistake: "a part's place is mistyped, on the outline", seed: featureMoved},
	{rule: "item_outside", mistake: "an opening is cut where a part is", seed: openingUnderFeature},
	{rule: "item_outside", mistake: "a connector's body reaches past its edge's end", seed: connectorAtEnd},
	{rule: "item_outside", mistake: "a hole's place is mistyped, on the outline", seed: holes(func(s *subject, h *board.Hole) string {
		p := s.b.Outline().Path.At(0)
		return s.put(h.CentreAt, "at "+at(p.X, p.Y))
	})},
	{rule: "not_verified", mistake: "nobody has looked at what the board asks for", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Acceptances(), func(a *board.Acceptance) (mutant, bool) {
			if a.Name.Text != "not_verified" {
				return none, false
			}
			return s.edit(s.drop(&a.Item), a.On[0].Text)
		})
	}},
	{rule: "hole_large", mistake: "a hole's radius is taken for its diameter, and more", seed: holes(func(s *subject, h *board.Hole) string {
		return s.put(h.Diameter.At, "6.6 mm")
	})},
	{rule: "hole_large", mistake: "a hole's diameter is written in mils for micrometres", seed: holes(func(s *subject, h *board.Hole) string {
		return s.put(h.Diameter.At, fmt.Sprintf("%.0f mil", h.Diameter.Value/1000))
	})},
	{rule: "item_outside", mistake: "a half hole is put on a corner", seed: holeOnCorner},
	{rule: "item_outside", mistake: "an opening is cut through a row of vias", seed: openingInFence},
}

// adding appends a statement.
func adding(statement, on string) seeder {
	return func(s *subject) (mutant, bool) { return s.edit(s.add(statement), on) }
}

func (s *subject) outlineText() string { return s.slice(s.b.OutlineItem().Whole) }

func lastPieceMissing(s *subject) (mutant, bool) {
	if s.b.Outline().Kind != "start" {
		return none, false
	}
	return s.edit(s.within(s.b.OutlineItem(), `close \w+`, ""), "")
}

var straightPiece = regexp.MustCompile(`line \w+ to (\([^)]*\))`)

func cornersSwapped(s *subject) (mutant, bool) {
	if s.b.Outline().Kind != "start" || len(s.b.Outline().Edges) == 4 {
		return none, false // two corners of a rectangle: the path encloses no area, which is the language's to say
	}
	return swapped(s)
}

func swapped(s *subject) (mutant, bool) {
	text := s.outlineText()
	ends := straightPiece.FindAllStringSubmatchIndex(text, -1)
	var good [][2][]int
	for i := 0; i+1 < len(ends); i++ {
		between, after := text[ends[i][1]:ends[i+1][0]], strings.TrimSpace(text[ends[i+1][1]:])
		if !strings.Contains(between, "arc") && !strings.HasPrefix(after, "arc") {
			good = append(good, [2][]int{ends[i], ends[i+1]})
		}
	}
	return anyOf(s, good, func(x [2][]int) (mutant, bool) {
		a, b := x[0], x[1]
		now := text[:a[2]] + text[b[2]:b[3]] + text[a[3]:b[2]] + text[a[2]:a[3]] + text[b[3]:]
		return s.edit(s.put(s.b.OutlineItem().Whole, now), "outline")
	})
}

// withCutout edits a cutout of a kind.
func withCutout(kind, pattern, text string) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Cutouts(), func(c *board.Cutout) (mutant, bool) {
			if c.Kind != kind {
				return none, false
			}
			return s.edit(s.within(&c.Item, pattern, text), c.Name.Text)
		})
	}
}

func sharperCorners(s *subject) (mutant, bool) {
	return withCutout("rectangle", `corner ([^\n;}a]*)`, s.short(s.min("router_bit")/2)+" ")(s)
}

func bayOfLines(s *subject) (mutant, bool) {
	if !strings.Contains(s.outlineText(), "arc bay") {
		return none, false
	}
	drawn := regexp.MustCompile(`arc (bay to \([^)]*\)) around \([^)]*\) clockwise`).ReplaceAllString(s.outlineText(), "line $1")
	return s.edit(s.put(s.b.OutlineItem().Whole, drawn), "outline")
}

// A round opening that is put beside something: wide enough for every shop.
const roundOpening = 3e6

func circleAt(point string) string {
	return fmt.Sprintf("cutout extra circle %s at %s", inMM(roundOpening), point)
}

func openingNearOutline(s *subject) (mutant, bool) {
	return anyOf(s, s.outlineEdges(false), func(e *board.Edge) (mutant, bool) {
		if e.Length < 12e6 {
			return none, false
		}
		where := e.Length * (0.4 + 0.2*s.r.Float64())
		apart := s.min("neck") * (0.1 + 0.85*s.r.Float64())
		return s.edit(s.add(circleAt(off(e, where, roundOpening/2+apart))), "extra")
	})
}

func openingNearOpening(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Cutouts(), func(c *board.Cutout) (mutant, bool) {
		e := c.Profile.Edges[s.r.IntN(len(c.Profile.Edges))]
		apart := s.min("neck") * (0.1 + 0.85*s.r.Float64())
		middle := e.Point(e.Length / 2).Add(e.Inward(e.Length / 2).Scale(roundOpening/2 + apart))
		for _, p := range s.b.Profiles() {
			if p != c.Profile && (math.Abs(distanceTo(p, middle)) < roundOpening/2+1e5 || p.Path.Contains(middle) == p.Cutout) {
				return none, false // it would meet something else
			}
		}
		return s.edit(s.add(circleAt(at(middle.X, middle.Y))), c.Name.Text)
	})
}

// distanceTo is how far a point lies from a profile, to a twentieth of a millimetre.
func distanceTo(p *board.Profile, point geom.Point) float64 {
	least := math.Inf(1)
	for s := 0.0; s < p.Path.Perimeter(); s += 5e4 {
		least = math.Min(least, p.Path.At(s).Dist(point))
	}
	return least
}

func narrowOpening(plated bool) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Cutouts(), func(c *board.Cutout) (mutant, bool) {
			onIt := strings.Contains(s.text, " "+c.Name.Text+".")
			if c.Kind != "slot" && c.Kind != "circle" || onIt != plated {
				return none, false
			}
			width := s.short(s.min(map[bool]string{true: "plated_slot_width", false: "slot_width"}[plated]))
			return s.edit(s.put(c.Width.At, width), c.Name.Text)
		})
	}
}

func openingOverOutline(s *subject) (mutant, bool) {
	e := s.outlineEdges(false)[s.r.IntN(len(s.outlineEdges(false)))]
	return s.edit(s.add(circleAt(off(e, e.Length/2, roundOpening*(s.r.Float64()-0.5)*0.9))), "extra")
}

func openingMoved(s *subject) (mutant, bool) {
	e := s.outlineEdges(false)[0]
	return anyOf(s, s.b.Cutouts(), func(c *board.Cutout) (mutant, bool) {
		return s.edit(s.within(&c.Item, `at (\([^)]*\))`, off(e, e.Length/2, 0)), c.Name.Text)
	})
}

func openingsOverlap(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Cutouts(), func(c *board.Cutout) (mutant, bool) {
		e := c.Profile.Edges[s.r.IntN(len(c.Profile.Edges))]
		return s.edit(s.add(circleAt(off(e, e.Length*s.r.Float64(), roundOpening*(s.r.Float64()-0.5)*0.9))), c.Name.Text)
	})
}

func featureMoved(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Features(), func(f *board.Feature) (mutant, bool) {
		edges := s.outlineEdges(false)
		e := edges[s.r.IntN(len(edges))]
		return s.edit(s.within(&f.Item, `at (\([^)]*\))`, off(e, e.Length*s.r.Float64(), -1e5)), f.Name.Text)
	})
}

func openingUnderFeature(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Features(), func(f *board.Feature) (mutant, bool) {
		return s.edit(s.add(circleAt(at(f.Centre.X, f.Centre.Y))), f.Name.Text)
	})
}

func connectorAtEnd(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Connectors(), func(c *board.Connector) (mutant, bool) {
		if c.Opens != nil {
			return none, false // its gap would leave the edge first
		}
		return s.edit(s.put(c.PositionAt, "at "+inMM(c.Body.Value*(0.2+0.29*s.r.Float64()))), c.Name.Text)
	})
}

func holeOnCorner(s *subject) (mutant, bool) {
	if s.b.Outline().Kind != "rectangle" {
		return none, false
	}
	e := s.b.Outline().Edges[s.r.IntN(4)]
	return s.edit(s.add(fmt.Sprintf("castellation edge_hole on %s at 0.2 mm hole 1 mm land 1.6 mm by 1.2 mm net GND", e.Name)), "edge_hole")
}

func openingInFence(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Fences(), func(f *board.Fence) (mutant, bool) {
		if f.Clearance.Given() {
			return mutant{}, false // its vias give way
		}
		v := f.Vias[s.r.IntN(len(f.Vias))]
		return s.edit(s.add(circleAt(at(v.X, v.Y))), f.Name.Text)
	})
}

var boardMistakes = []kind{
	{rule: "board_thickness", mistake: "the board is too thin to plate", seed: thickness(func(s *subject) float64 { return s.less(s.min("board_thickness")) })},
	{rule: "board_thickness", mistake: "the board is too thick to plate", seed: thickness(func(s *subject) float64 { return s.max("board_thickness") * (1.001 + s.r.Float64()) })},
	{rule: "tolerance_fine", mistake: "an outline is asked for finer than the shop routs", seed: func(s *subject) (mutant, bool) {
		if s.b.ToleranceOf("outline").Given() {
			return s.edit(s.put(s.b.ToleranceOf("outline").At, s.short(s.min("tolerance_outline"))), "tolerance")
		}
		return s.edit(s.add("tolerance { outline "+s.short(s.min("tolerance_outline"))+" }"), "tolerance")
	}},
	{rule: "board_thickness", mistake: "a thickness in mil that was meant in mm", seed: thicknessInMil},
	{rule: "service_missing", mistake: "half holes at a shop that makes none", seed: unoffered("half_holes", addHole)},
	{rule: "service_missing", mistake: "a premetallised tab at a shop that makes none", seed: unoffered("premetallised_tabs", metalTab)},
	{rule: "service_missing", mistake: "an opening plated at a shop that plates none", seed: unoffered("plated_cutouts", platedOpening)},
	{rule: "service_missing", mistake: "a perforated tab at a shop that drills none", seed: perforatedElsewhere},
	{rule: "service_missing", mistake: "the order goes to a shop that plates no edges", seed: shopWithoutPlating},
	{rule: "service_missing", mistake: "the order goes to another shop, which makes no half holes", seed: otherShop},
}

// thickness changes the thickest dielectric, or what the board states, so that
// the whole comes out as asked.
func thickness(want func(s *subject) float64) seeder {
	return func(s *subject) (mutant, bool) {
		total := want(s)
		if s.b.Stack() == nil {
			return s.edit(s.put(s.b.Info().Thickness.At, inMM(total)), "")
		}
		thick := s.thickest()
		others := 0.0
		for i := range s.b.Stack().Layers {
			if l := &s.b.Stack().Layers[i]; l != thick {
				others += l.Thickness.Value
			}
		}
		if total-others < 1000 {
			return none, false
		}
		return s.edit(s.put(thick.Thickness.At, inMM(total-others)), "")
	}
}

func (s *subject) thickest() *board.Layer {
	thick := &s.b.Stack().Layers[0]
	for i := range s.b.Stack().Layers {
		if l := &s.b.Stack().Layers[i]; l.Thickness.Value > thick.Thickness.Value {
			thick = l
		}
	}
	return thick
}

func thicknessInMil(s *subject) (mutant, bool) {
	v := s.b.Info().Thickness
	if s.b.Stack() != nil {
		v = s.thickest().Thickness
	}
	return s.edit(s.put(v.At, fmt.Sprintf("%g mil", v.Value/1e6)), "")
}

func unoffered(service string, use seeder) seeder {
	return func(s *subject) (mutant, bool) {
		if s.l.Offers(service) {
			return none, false
		}
		return use(s)
	}
}

func addHole(s *subject) (mutant, bool) {
	return anyOf(s, s.outlineEdges(true), func(e *board.Edge) (mutant, bool) {
		return s.edit(s.add("castellation row on "+e.Name+" at middle hole 1 mm land 1.6 mm by 1.2 mm net GND"), "row")
	})
}

func metalTab(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Tabs(), func(t *board.Tab) (mutant, bool) {
		return s.edit(s.put(t.Width.At, s.slice(t.Width.At)+" premetallised"), t.Name.Text)
	})
}

func platedOpening(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Cutouts(), func(c *board.Cutout) (mutant, bool) {
		p := s.b.Platings()[0]
		return s.edit(s.within(&p.Item, `(?s)net`, "along "+c.Profile.Edges[0].Name+"\n  net"), p.Name.Text)
	})
}

func perforatedElsewhere(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Tabs(), func(t *board.Tab) (mutant, bool) {
		if !t.Perforated {
			return none, false
		}
		return s.edit(s.add("fabricator elsewhere { offers edge_plating half_holes premetallised_tabs plated_cutouts }"), t.Name.Text)
	})
}

func shopWithoutPlating(s *subject) (mutant, bool) {
	for _, p := range s.b.Platings() {
		if !p.Along[0].Edge.Profile.Cutout {
			return s.edit(s.add("fabricator elsewhere { offers half_holes perforated_tabs premetallised_tabs plated_cutouts }"), p.Name.Text)
		}
	}
	return none, false
}

func otherShop(s *subject) (mutant, bool) {
	if len(s.b.Castellations()) == 0 || strings.Contains(s.text, "conservative") {
		return none, false
	}
	text := strings.Replace(s.text, "shops/standard.hem", "shops/conservative.hem", 1)
	return s.edit(strings.Replace(text, "shops/advanced.hem", "shops/conservative.hem", 1), s.b.Castellations()[0].Name.Text)
}

func holes(text func(*subject, *board.Hole) string) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Holes(), func(h *board.Hole) (mutant, bool) {
			if h.Land.Given() {
				return none, false // it may come out smaller than the hole
			}
			return s.edit(text(s, h), h.Name.Text)
		})
	}
}
