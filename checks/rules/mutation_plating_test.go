package rules

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"hemline/lang/board"
)

var wrapMistakes = []kind{
	{rule: "wrap_missing", mistake: "the wrap of a face is not given", seed: wrapped(func(*subject, *board.Plating, board.Face) string { return "" })},
	{rule: "wrap_missing", mistake: "a wrap of 0", seed: wrapped(func(_ *subject, _ *board.Plating, f board.Face) string { return "wrap " + f.String() + " 0 mm" })},
	{rule: "wrap_land", mistake: "a wrap is too narrow to hold", seed: wrapped(func(s *subject, _ *board.Plating, f board.Face) string {
		return "wrap " + f.String() + " " + s.short(s.min("wrap_land"))
	})},
	{rule: "wrap_land", mistake: "a wrap in mil that was meant in mm", seed: wrapped(func(_ *subject, p *board.Plating, f board.Face) string {
		return fmt.Sprintf("wrap %s %g mil", f, p.Wrap[f].Value/1e6)
	})},
	{rule: "wrap_land", mistake: "the order goes to a shop that needs wider wraps", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
			return s.edit(s.add("fabricator elsewhere { limit wrap_land minimum "+inMM(min(p.Wrap[0].Value, p.Wrap[1].Value)+1)+" }"), p.Name.Text)
		})
	}},
	{rule: "wrap_clearance", mistake: "a part of another net is put beside the wrap", seed: featureByTheWrap(" net V9")},
	{rule: "wrap_clearance", mistake: "copper without a net is put beside the wrap", seed: featureByTheWrap("")},
	{rule: "wrap_clearance", mistake: "a part of another net is put on the wrap", seed: featureOnTheWrap},
	{rule: "wrap_clearance", mistake: "a plane of another net goes up to the wrap", seed: planeUpToWrap},
	{rule: "wrap_clearance", mistake: "an outer plane that goes to the wall gets another net", seed: outerPlaneRenamed(" net V9")},
	{rule: "wrap_clearance", mistake: "an outer plane that goes to the wall loses its net", seed: outerPlaneRenamed("")},
	{rule: "extension_short", mistake: "the artwork's copper past the profile is not given", seed: platings(func(s *subject, p *board.Plating) string { return s.within(&p.Item, `extend [^\n;}]*`, "") })},
	{rule: "extension_short", mistake: "the artwork's copper reaches too little past the profile", seed: platings(func(s *subject, p *board.Plating) string { return s.put(p.Extend.At, s.short(s.min("extension"))) })},
	{rule: "wall_copper", mistake: "the wall is too thin", seed: platings(func(s *subject, p *board.Plating) string { return s.put(p.Copper.At, s.short(s.min("wall_copper"))) })},
	{rule: "wall_copper", mistake: "the wall is given as half an ounce", seed: platings(func(s *subject, p *board.Plating) string { return s.put(p.Copper.At, "0.5 oz") })},
	{rule: "wall_copper", mistake: "the board becomes class 3, its wall stays class 2's", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
			if p.Copper.Value >= 25_000 {
				return none, false
			}
			return s.edit(s.put(s.b.Info().Class.At, "3"), p.Name.Text)
		})
	}},
	{rule: "finish_unavailable", mistake: "a finish that the shop does not put on edges", seed: func(s *subject) (mutant, bool) {
		if s.b.Fabricator() == nil || len(s.b.Fabricator().Finishes) == 0 {
			return none, false
		}
		return platings(func(s *subject, p *board.Plating) string {
			if p.Finish.Given() {
				return s.put(p.Finish.At, "HASL")
			}
			return s.put(p.Net.At, s.slice(p.Net.At)+"\n  finish HASL")
		})(s)
	}},
}

// platings edits any plating.
func platings(text func(*subject, *board.Plating) string) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) { return s.edit(text(s, p), p.Name.Text) })
	}
}

// wrapped puts something in the place of a wrap.
func wrapped(text func(*subject, *board.Plating, board.Face) string) seeder {
	return platings(func(s *subject, p *board.Plating) string {
		f := board.Faces[s.r.IntN(2)]
		return s.put(p.Wrap[f].At, text(s, p, f))
	})
}

// beside is a disc of copper at a distance from the profile.
func beside(layer string, e *board.Edge, position, distance float64, net string) string {
	const across = 1e6
	return fmt.Sprintf("feature stray on %s circle 1 mm at %s%s", layer, off(e, position, distance+across/2), net)
}

func featureByTheWrap(net string) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.runs(s.b.Edges(), false), func(x runOf) (mutant, bool) {
			f := board.Faces[s.r.IntN(2)]
			where := x.from + (x.to-x.from)*(0.2+0.6*s.r.Float64())
			apart := x.plating.Wrap[f].Value + s.min("wrap_clearance")*(0.1+0.85*s.r.Float64())
			return s.edit(s.add(beside(f.String(), x.edge, where, apart, net)), "stray")
		})
	}
}

func featureOnTheWrap(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Features(), func(f *board.Feature) (mutant, bool) {
		face, outer := s.b.FaceOf(f.Layer.Text)
		if !outer {
			return none, false
		}
		return anyOf(s, s.runs(s.b.Edges(), false), func(x runOf) (mutant, bool) {
			if f.Net.Text == x.plating.Net.Text {
				return none, false
			}
			to := off(x.edge, (x.from+x.to)/2, x.plating.Wrap[face].Value*0.9)
			return s.edit(s.within(&f.Item, `at (\([^)]*\))`, to), f.Name.Text)
		})
	})
}

// onFace lists the planes on outer layers.
func (s *subject) onFace(try func(*board.Plane, board.Face) (mutant, bool)) (mutant, bool) {
	return anyOf(s, s.b.Planes(), func(p *board.Plane) (mutant, bool) {
		f, outer := s.b.FaceOf(p.Layer.Text)
		if !outer {
			return none, false
		}
		return try(p, f)
	})
}

func planeUpToWrap(s *subject) (mutant, bool) {
	return s.onFace(func(plane *board.Plane, f board.Face) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
			if p.Net.Text == plane.Net.Text {
				return none, false
			}
			return s.edit(s.put(plane.Pullback.At, inMM(p.Wrap[f].Value+s.less(s.min("wrap_clearance")))), plane.Layer.Text)
		})
	})
}

func outerPlaneRenamed(net string) seeder {
	return func(s *subject) (mutant, bool) {
		return s.onFace(func(plane *board.Plane, f board.Face) (mutant, bool) {
			return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
				if p.Net.Text != plane.Net.Text || plane.Pullback.Value >= p.Wrap[f].Value+s.min("wrap_clearance") {
					return none, false
				}
				return s.edit(s.within(&plane.Item, ` ?net [^\s;}]+`, net), plane.Layer.Text)
			})
		})
	}
}

var copperMistakes = []kind{
	{rule: "plane_short", mistake: "a supply plane is not pulled back from the wall", seed: planePulled},
	{rule: "plane_short", mistake: "an inner plane that goes to the wall gets a supply's net", seed: innerPlaneRenamed(" net V9")},
	{rule: "plane_short", mistake: "an inner plane that goes to the wall loses its net", seed: innerPlaneRenamed("")},
	{rule: "plane_short", mistake: "inner copper of another net is put beside the wall", seed: innerFeature},
	{rule: "plane_untied", mistake: "the plane that the wall joins is forgotten", seed: tiedPlane(func(s *subject, p *board.Plane) string { return s.drop(&p.Item) })},
	{rule: "plane_untied", mistake: "the plane that the wall joins has another net", seed: tiedPlane(func(s *subject, p *board.Plane) string { return s.put(p.Net.At, "V9") })},
	{rule: "plane_untied", mistake: "the wall is said to join a layer more", seed: layerMore},
	{rule: "edge_pullback", mistake: "an outer plane goes up to bare edges", seed: planeToEdge(true)},
	{rule: "edge_pullback", mistake: "an inner plane goes up to bare edges", seed: planeToEdge(false)},
	{rule: "edge_pullback", mistake: "a part is put beside a bare edge", seed: featureByBareEdge},
	{rule: "net_conflict", mistake: "a second net is plated over a plated stretch", seed: secondNet},
	{rule: "net_conflict", mistake: "a second net is plated up to the first", seed: secondNetBeside(0)},
	{rule: "net_conflict", mistake: "a second net is plated nearer than the bit is wide", seed: secondNetBeside(0.6)},
	{rule: "span_short", mistake: "two gaps leave an island of plating", seed: island},
	{rule: "span_short", mistake: "a spot of plating on a bare edge", seed: spotOfPlating},
	{rule: "plated_share", mistake: "the order goes to a shop that holds boards by more bare edge", seed: stricterShare},
	{rule: "plated_share", mistake: "another edge is plated, and too little stays bare", seed: anotherEdge},
	{rule: "plating_conflict", mistake: "a part of a wall is plated again with other copper", seed: secondPlating(func(s *subject, p *board.Plating) string { return "copper 70 um; extend 0.6 mm" })},
	{rule: "plating_conflict", mistake: "a part of a wall is plated again with another wrap", seed: secondPlating(func(s *subject, p *board.Plating) string {
		return "wrap top " + inMM(p.Wrap[board.Top].Value+1+1e5*float64(s.r.IntN(2)))
	})},
	{rule: "plating_conflict", mistake: "a part of a wall is plated again with another finish", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
			if p.Finish.Given() {
				return none, false
			}
			finished := *s
			if finished.text = s.within(&p.Item, `net \S+`, "net "+quoted(p.Net)+" finish ENIG "); finished.text == s.text {
				return none, false
			}
			return finished.again(p, "finish OSP")
		})
	}},
	{rule: "plating_twice", mistake: "a part of a wall is plated again, and nothing else is said", seed: secondPlating(func(s *subject, p *board.Plating) string { return "" })},
	{rule: "plating_twice", mistake: "a wall is copied, and the copy not moved", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
			copied := regexp.MustCompile(`^plating \S+`).ReplaceAllString(s.slice(p.Whole), "plating copied")
			return s.edit(s.add(copied), "copied")
		})
	}},
	{rule: "gap_idle", mistake: "a wall is plated again through one of its gaps", seed: func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Gaps(), func(g *board.Gap) (mutant, bool) {
			opensAll := g.Of.At == g.Stretch // the second plating, too
			if g.Edge.Closed || opensAll || g.From < 1e6 || g.To > g.Edge.Length-1e6 {
				return none, false
			}
			return s.edit(s.add(otherPlating(g.Edge.Name, math.Floor(g.From)-1e6, math.Ceil(g.To)+1e6, quoted(s.b.PlatingNamed(g.Of.Text).Net))), g.Name.Text)
		})
	}},
	{rule: "plating_endless", mistake: "all edges are plated, where some were meant to be", seed: allEdges, broken: true},
	{rule: "plating_endless", mistake: "the one gap is forgotten", seed: oneGapForgotten},
}

// inner lists the planes on inner layers.
func (s *subject) inner(try func(*board.Plane) (mutant, bool)) (mutant, bool) {
	return anyOf(s, s.b.Planes(), func(p *board.Plane) (mutant, bool) {
		if _, outer := s.b.FaceOf(p.Layer.Text); outer {
			return none, false
		}
		return try(p)
	})
}

func (s *subject) otherWall(net string) bool {
	return slices.ContainsFunc(s.b.Platings(), func(p *board.Plating) bool { return p.Net.Text != net })
}

func planePulled(s *subject) (mutant, bool) {
	return s.inner(func(p *board.Plane) (mutant, bool) {
		if !s.otherWall(p.Net.Text) {
			return none, false
		}
		return s.edit(s.put(p.Pullback.At, s.short(s.min("inner_clearance"))), p.Layer.Text)
	})
}

func innerPlaneRenamed(net string) seeder {
	return func(s *subject) (mutant, bool) {
		return s.inner(func(p *board.Plane) (mutant, bool) {
			if !p.Net.Given() || p.Pullback.Value >= s.min("inner_clearance") {
				return none, false
			}
			return s.edit(s.within(&p.Item, ` ?net [^\s;}]+`, net), p.Layer.Text)
		})
	}
}

func innerFeature(s *subject) (mutant, bool) {
	layers := s.b.CopperLayers()
	if len(layers) < 3 {
		return none, false
	}
	return anyOf(s, s.runs(s.b.Edges(), false), func(x runOf) (mutant, bool) {
		where := x.from + (x.to-x.from)*(0.1+0.8*s.r.Float64())
		return s.edit(s.add(beside(layers[1+s.r.IntN(2)], x.edge, where, s.less(s.min("inner_clearance"))-100, " net V9")), "stray")
	})
}

func tiedPlane(text func(*subject, *board.Plane) string) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
			return anyOf(s, s.b.Planes(), func(plane *board.Plane) (mutant, bool) {
				says := p.AllLayers || slices.ContainsFunc(p.Layers, func(l board.Name) bool { return l.Text == plane.Layer.Text })
				if !says || plane.Net.Text != p.Net.Text {
					return none, false
				}
				return s.edit(text(s, plane), p.Name.Text)
			})
		})
	}
}

func layerMore(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
		return anyOf(s, s.b.CopperLayers(), func(layer string) (mutant, bool) {
			for _, plane := range s.b.Planes() {
				if plane.Layer.Text == layer && plane.Net.Text == p.Net.Text {
					return none, false
				}
			}
			if p.LayersAt.Anchor == nil {
				return s.edit(s.put(p.Net.At, s.slice(p.Net.At)+"\n  layers "+layer), p.Name.Text)
			}
			return s.edit(s.put(p.LayersAt, s.slice(p.LayersAt)+" "+layer), p.Name.Text)
		})
	})
}

func planeToEdge(outer bool) seeder {
	return func(s *subject) (mutant, bool) {
		if len(s.runs(s.b.Edges(), true)) == 0 {
			return none, false
		}
		return anyOf(s, s.b.Planes(), func(p *board.Plane) (mutant, bool) {
			limit := "edge_clearance_inner"
			if outer {
				limit = "edge_clearance_outer"
			}
			if _, on := s.b.FaceOf(p.Layer.Text); on != outer {
				return none, false
			}
			return s.edit(s.put(p.Pullback.At, s.short(s.min(limit))), p.Layer.Text)
		})
	}
}

func featureByBareEdge(s *subject) (mutant, bool) {
	return anyOf(s, s.runs(s.b.Edges(), true), func(x runOf) (mutant, bool) {
		where := x.from + (x.to-x.from)*(0.1+0.8*s.r.Float64())
		return s.edit(s.add(beside("bottom", x.edge, where, s.less(s.min("edge_clearance_outer"))-100, " net V9")), "stray")
	})
}

func otherPlating(edge string, from, to float64, net string) string {
	return fmt.Sprintf("plating second { along %s from %s to %s; net %s; copper 35 um; wrap top 0.8 mm; wrap bottom 0.8 mm; extend 0.6 mm }", edge, inMM(from), inMM(to), net)
}

func secondNet(s *subject) (mutant, bool) {
	return anyOf(s, s.runs(s.outlineEdges(false), false), func(x runOf) (mutant, bool) {
		if x.to-x.from < 4e6 {
			return none, false
		}
		return s.edit(s.add(otherPlating(x.edge.Name, math.Ceil(x.from+2e5), math.Floor(x.to-2e5), "V9")), x.plating.Name.Text)
	})
}

// secondNetBeside plates a second net from a share of the gap's width on.
func secondNetBeside(share float64) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
			return anyOf(s, p.Along, func(a board.Along) (mutant, bool) {
				from := a.From - share*s.min("gap_width")
				if a.From == 0 || from < 4e6 {
					return none, false
				}
				return s.edit(s.add(otherPlating(a.Edge.Name, from-3e6, from, "V9")), "second")
			})
		})
	}
}

func island(s *subject) (mutant, bool) {
	return anyOf(s, s.runs(s.outlineEdges(false), false), func(x runOf) (mutant, bool) {
		left, width := s.less(s.min("span_length")), s.min("gap_width")
		start := x.from + 2.5e6
		if start+2*width+left+2.5e6 > x.to {
			return none, false
		}
		return s.edit(s.add(
			fmt.Sprintf("gap one of %s on %s from %s to %s", x.plating.Name.Text, x.edge.Name, inMM(start), inMM(start+width)),
			fmt.Sprintf("gap two of %s on %s from %s to %s", x.plating.Name.Text, x.edge.Name, inMM(math.Floor(start+width)+left), inMM(math.Floor(start+width)+left+width))), x.plating.Name.Text)
	})
}

func spotOfPlating(s *subject) (mutant, bool) {
	return anyOf(s, s.runs(s.outlineEdges(true), true), func(x runOf) (mutant, bool) {
		if x.to-x.from < 12e6 {
			return none, false
		}
		from := math.Round((x.from + x.to) / 2)
		return s.edit(s.add(otherPlating(x.edge.Name, from, from+s.less(s.min("span_length")), "V9")), "second")
	})
}

// secondPlating plates a part of a plated run again, by a plating that says more.
func secondPlating(says func(*subject, *board.Plating) string) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) { return s.again(p, says(s, p)) })
	}
}

func (s *subject) again(p *board.Plating, says string) (mutant, bool) {
	return anyOf(s, s.runs(s.b.Edges(), false), func(r runOf) (mutant, bool) {
		if r.plating != p || r.to-r.from < 3e6 || r.edge.Closed {
			return none, false
		}
		middle := math.Round((r.from + r.to) / 2)
		text := fmt.Sprintf("plating again { along %s from %s to %s; net %s; %s }", r.edge.Name, inMM(middle-1e6), inMM(middle+1e6), quoted(p.Net), says)
		return s.edit(s.add(text), "again")
	})
}

func quoted(n board.Name) string { return strconv.Quote(n.Text) }

// bareOf is the bare length of an outline whose edges are plated from end to
// end or not at all, with gaps in the plated ones; ok is false for other boards.
func (s *subject) bareOf() (bare float64, edges []*board.Edge, ok bool) {
	plated := map[*board.Edge]bool{}
	for _, p := range s.b.Platings() {
		for _, a := range p.Along {
			if a.From != 0 || a.To != a.Edge.Length {
				return 0, nil, false
			}
			plated[a.Edge] = true
		}
	}
	for _, g := range s.b.Gaps() {
		if !g.Edge.Profile.Cutout {
			bare += g.To - g.From
		}
	}
	for _, t := range s.b.Tabs() {
		if s.b.Rooted(t) && !t.Edge.Profile.Cutout {
			bare += t.Width.Value
		}
	}
	for _, e := range s.b.Outline().Edges {
		if !plated[e] {
			bare += e.Length - 2*e.Base
			edges = append(edges, e)
		}
	}
	return bare, edges, len(plated) > 0
}

func stricterShare(s *subject) (mutant, bool) {
	bare, _, ok := s.bareOf()
	if !ok || len(s.b.Outline().Corners) > 0 || bare == 0 || bare > 0.95*s.b.Outline().Path.Perimeter() {
		return none, false
	}
	share := 1 - bare/s.b.Outline().Path.Perimeter()
	return s.edit(s.add(fmt.Sprintf("fabricator elsewhere { limit plated_share maximum %.6f %% }", share*99.99)), "")
}

func anotherEdge(s *subject) (mutant, bool) {
	bare, edges, ok := s.bareOf()
	if !ok {
		return none, false
	}
	return anyOf(s, edges, func(e *board.Edge) (mutant, bool) {
		left := bare - (e.Length - 2*e.Base)
		if 1-(left+(8-2*math.Pi)*e.Base)/s.b.Outline().Path.Perimeter() <= s.max("plated_share") || left <= 0 {
			return none, false
		}
		return s.edit(s.add(strings.Replace(otherPlating(e.Name, 0, e.Length, "GND"), fmt.Sprintf("from 0 mm to %s", inMM(e.Length)), "", 1)), "")
	})
}

func allEdges(s *subject) (mutant, bool) {
	if len(s.b.Gaps()) > 0 || len(s.b.Platings()) != 1 || s.premetallised() {
		return none, false
	}
	p := s.b.Platings()[0]
	text := s.within(&p.Item, `along [^\n;}]*`, "along all")
	return s.edit(text, p.Name.Text)
}

func (s *subject) premetallised() bool {
	return slices.ContainsFunc(s.b.Tabs(), func(t *board.Tab) bool { return t.Premetallised })
}

func oneGapForgotten(s *subject) (mutant, bool) {
	bare, edges, ok := s.bareOf()
	if !ok || bare == 0 || len(edges) > 0 || len(s.b.Gaps()) != 1 || s.b.Gaps()[0].Opened() || s.premetallised() {
		return none, false
	}
	return s.edit(s.drop(&s.b.Gaps()[0].Item), s.b.Gaps()[0].Of.Text)
}
