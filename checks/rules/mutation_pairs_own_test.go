package rules

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"hemline/lang/copper"
)

// pairMistake is one with two things that the stage's actors have no words for.
type pairMistake struct {
	rule, mistake string
	a, b          copper.Kind
	on            []string
	make          func(s *subject, st staging) (wrong, right string)
}

var pairMistakes = []pairMistake{
	{"planes_overlap", "a plane is stated twice", copper.Plane, copper.Plane, []string{"ground.2"}, secondPlane("ground", "power", "V8")},
	{"planes_overlap", "a plane is put on the layer of another net's", copper.Plane, copper.Plane, []string{"power.2"}, secondPlane("power", "ground", "V9")},
	{"planes_overlap", "a plane without a net is put on a layer that has one", copper.Plane, copper.Plane, []string{"top.2"}, secondPlane("top", "bottom", "")},
	{"copper_clearance", "two planes' rectangles are drawn too near", copper.Plane, copper.Plane, twoPlanes, planesBeside(planeBeside, lessClear, clear)},
	{"copper_clearance", "one of two planes is drawn a little larger", copper.Plane, copper.Plane, twoPlanes, planesBeside(planeBeside, hairLess, clear)},
	{"copper_clearance", "two planes' rectangles share a side", copper.Plane, copper.Plane, twoPlanes, planesBeside(planeBeside, touching, clear)},
	{"copper_clearance", "a plane is drawn too near to where another runs to its wall", copper.Run, copper.Plane, twoPlanes, planesBeside(planeByRun, lessClear, clear)},
	{"copper_clearance", "a plane beside another's run is drawn a little larger", copper.Run, copper.Plane, twoPlanes, planesBeside(planeByRun, hairLess, clear)},
	{"copper_clearance", "a plane lies against another's run", copper.Run, copper.Plane, twoPlanes, planesBeside(planeByRun, touching, clear)},
	{"copper_clearance", "two planes that run to walls are cut too near each other", copper.Run, copper.Run, twoPlanes, planesBeside(runByRun, lessClear, clear)},
	{"copper_clearance", "one of two planes that run to walls is cut a little larger", copper.Run, copper.Run, twoPlanes, planesBeside(runByRun, hairLess, clear)},
	{"copper_clearance", "two planes that run to walls are cut at one line", copper.Run, copper.Run, twoPlanes, planesBeside(runByRun, touching, clear)},
	{"edge_pullback", "an inner plane is pulled back as an outer one may be", copper.Plane, copper.Edge, []string{"ground"}, func(s *subject, st staging) (string, string) {
		text := func(layer string) string {
			return st.text + fmt.Sprintf("plane on %s net V8 pullback %s\n", layer, inMM(s.min("edge_clearance_outer")))
		}
		return text("ground"), text("bottom")
	}},
	{"neck_narrow", "an opening leaves a narrow tongue of board", copper.Edge, copper.Edge, []string{"second"}, tongues(func(s *subject) (float64, float64) { return s.less(s.min("neck")), s.min("neck") }, false)},
	{"neck_narrow", "an opening's arms are routed wider", copper.Edge, copper.Edge, []string{"second"}, tongues(func(s *subject) (float64, float64) { return s.min("neck") - 1, s.min("neck") + 2e5 }, false)},
	{"neck_narrow", "an opening's tongue is wide enough for this shop alone", copper.Edge, copper.Edge, []string{"second"}, tongueElsewhere},
	{"neck_narrow", "a narrow tongue of board is plated on one side", copper.Wall, copper.Edge, []string{"second"}, tongues(func(s *subject) (float64, float64) { return s.less(s.min("neck")), s.min("neck") }, true)},
	{"neck_narrow", "a plated tongue of board is drawn a little narrower", copper.Wall, copper.Edge, []string{"second"}, tongues(func(s *subject) (float64, float64) { return s.min("neck") - 1, s.min("neck") }, true)},
	{"neck_narrow", "a plated tongue's arms are routed wider", copper.Wall, copper.Edge, []string{"second"}, tongues(func(s *subject) (float64, float64) { return s.min("neck") / 2, s.min("neck") + 3e5 }, true)},
	{"launch_clearance", "the connector itself asks for more", copper.Wall, copper.Pin, []string{"second"}, func(s *subject, st staging) (string, string) {
		d := math.Ceil(2 * s.min("launch_clearance"))
		r := pairing{rule: "launch_clearance", layer: "top", a: onBare, b: onPin}
		text := r.text(st, d, sizes{netA: "V8", netB: "V9"})
		return withClearance(text, d+1), withClearance(text, d)
	}},
	{"hole_web", "a fence's vias are nearly one hole", copper.Via, copper.Via, []string{"second"}, func(s *subject, st staging) (string, string) {
		row := func(web float64) string {
			from := float64(st.from) + 5e6
			return st.text + fmt.Sprintf("fence second along south from %s to %s inset 5 mm pitch %s hole 0.3 mm net V8\n", inMM(from), inMM(from+6e6), inMM(3e5+web))
		}
		return row(s.less(s.min("hole_web"))), row(s.min("hole_web"))
	}},
	{"hole_web", "two tabs stand across a neck from each other", copper.Perforation, copper.Perforation, []string{"first", "second"}, func(s *subject, st staging) (string, string) {
		return tabsAcross(st, 1e6+s.less(s.min("hole_web")), 1e6), tabsAcross(st, 1e6+s.min("hole_web"), 1e6)
	}},
	{"hole_web", "the holes of tabs across a neck are drilled larger", copper.Perforation, copper.Perforation, []string{"first", "second"}, func(s *subject, st staging) (string, string) {
		neck := 1e6 + s.min("hole_web")
		return tabsAcross(st, neck, 1e6+2), tabsAcross(st, neck, 1e6)
	}},
	{"hole_web", "tabs across a neck are near enough for this shop alone", copper.Perforation, copper.Perforation, []string{"first", "second"}, func(s *subject, st staging) (string, string) {
		web := s.min("hole_web") + 1000
		text := tabsAcross(st, 1e6+web, 1e6) + "fabricator elsewhere { limit hole_web minimum "
		return text + inMM(web+1) + " }\n", text + inMM(web) + " }\n"
	}},
	{"castellation_spacing", "a row's half holes stand too close", copper.Barrel, copper.Barrel, []string{"second"}, func(s *subject, st staging) (string, string) {
		row := func(web float64) string {
			from := float64(st.from) + 5e6
			return st.text + fmt.Sprintf("castellation second on south from %s to %s pitch %s hole 1 mm land 1.2 mm by 1 mm net V8\n", inMM(from), inMM(from+6e6), inMM(1e6+web))
		}
		return row(s.less(s.min("castellation_spacing"))), row(s.min("castellation_spacing"))
	}},
	{"mask_web", "half holes' reliefs leave a sliver between holes", copper.Opening, copper.Opening, []string{"second"}, func(s *subject, st staging) (string, string) {
		row := func(web float64) string {
			from := float64(st.from) + 5e6
			return st.text + fmt.Sprintf("castellation row on south from %s to %s pitch %s hole 0.6 mm land 1.2 mm by 1 mm net V8\nrelief second over row on top reach 1.2 mm margin 0.1 mm\n", inMM(from), inMM(from+6e6), inMM(14e5+web))
		}
		return row(s.less(s.min("mask_web"))), row(s.min("mask_web"))
	}},
}

// neverAlone are kinds of the table's lines that no board shows to be held by
// the line of theirs, since another line, nearer always, says the same.
var neverAlone = map[string]string{
	"copper_clearance: half hole with half hole": "castellation_spacing holds them, whatever their nets",
}

// secondPlane states a plane on a layer that has one, or on another.
func secondPlane(layer, free, net string) func(*subject, staging) (string, string) {
	return func(_ *subject, st staging) (string, string) {
		text := func(second string) string {
			if net != "" {
				second += " net " + net
			}
			return st.text + "plane on " + layer + " net V8 pullback 3 mm\nplane on " + second + " pullback 3.2 mm\n"
		}
		return text(layer), text(free)
	}
}

// twoPlanes are those of planesBeside.
var twoPlanes = []string{"ground.2", "ground.1"}

func clear(s *subject) float64     { return s.min("copper_clearance") }
func hairLess(s *subject) float64  { return s.min("copper_clearance") - 1 }
func lessClear(s *subject) float64 { return math.Floor(s.less(s.min("copper_clearance"))) }
func touching(*subject) float64    { return 0 }

// planesBeside has two planes of two nets with rectangles so far apart.
func planesBeside(text func(st staging, apart float64) string, wrong, right func(*subject) float64) func(*subject, staging) (string, string) {
	return func(s *subject, st staging) (string, string) {
		return st.text + text(st, wrong(s)), st.text + text(st, right(s))
	}
}

// cutPlane is a plane in a rectangle, its corners told from the stage's.
func (st staging) cutPlane(net, pullback string, x0, y0, x1, y1 float64) string {
	x, y := st.place.x, st.place.y
	return fmt.Sprintf("plane on ground net %s pullback %s within %s to %s\n", net, pullback, at(x+x0, y+y0), at(x+x1, y+y1))
}

func planeBeside(st staging, apart float64) string {
	return st.cutPlane("V8", "0.6 mm", 6e6, 4e6, 9e6, 6e6) + st.cutPlane("V9", "0.6 mm", 9e6+apart, 5e6, 11e6, 7e6)
}

// planeByRun has a plane that is nothing but its run, beside another's core.
func planeByRun(st staging, apart float64) string {
	p := spot{stage: st, name: "first", net: "V8", at: float64(st.from) + 8e6, half: 2e6}
	return st.cutPlane("V8", "3 mm", 6e6, 0, 9e6, 25e5) + p.plate(p.name, p.along(0), "0.5 mm", "layers ground") + "\n" + st.cutPlane("V9", "0.6 mm", 9e6+apart, 1e6, 11e6, 3e6)
}

// runByRun has two planes that are nothing but their runs: one to a wall of the
// edge, one to that of an opening before it.
func runByRun(st staging, apart float64) string {
	p := spot{stage: st, name: "first", net: "V8", at: float64(st.from) + 8e6, half: 2e6}
	q := spot{stage: st, name: "second", net: "V9", at: p.at, inward: 6e6}
	return st.cutPlane("V8", "3 mm", 65e5, 0, 95e5, 24e5) + p.plate(p.name, p.along(0), "0.5 mm", "layers ground") + "\n" +
		st.cutPlane("V9", "3 mm", 75e5, 24e5+apart, 85e5, 52e5) + q.bore(1e6, "0.2 mm", "layers ground") + "\n"
}

// tabsAcross has a tab on the edge and one on an opening before it, each with one
// hole, across so much board.
func tabsAcross(st staging, neck, hole float64) string {
	at := float64(st.from) + 12e6
	p := spot{stage: st, at: at, inward: neck + 2e6}
	tab := " width 4 mm perforated hole " + inMM(hole) + " pitch 9 mm\n"
	return st.text + fmt.Sprintf("cutout opening rectangle 8 mm by 4 mm corner 0.8 mm at %s\ntab first on south at %s%stab second on opening.south at middle%s", p.middle(), inMM(at), tab, tab)
}

// boardTongue is an opening like a U, with so much board between its arms.
func boardTongue(st staging, wide float64, plated bool) string {
	x, y := st.place.x+6e6, st.place.y+4e6
	p := func(dx, dy float64) string { return at(x+dx, y+dy) }
	text := st.text + fmt.Sprintf("cutout second { start %s; line south to %s; line east to %s; line top_b to %s; line left_b to %s; line floor to %s; line right_a to %s; line top_a to %s; close west }\n",
		p(0, 0), p(6e6+wide, 0), p(6e6+wide, 7e6), p(3e6+wide, 7e6), p(3e6+wide, 3e6), p(3e6, 3e6), p(3e6, 7e6), p(0, 7e6))
	if plated {
		text += "plating bore { along second.left_b; net V8; copper 35 um; extend 0.6 mm; wrap top 0.5 mm; wrap bottom 0.5 mm }\n"
	}
	return text
}

func tongues(wide func(*subject) (wrong, right float64), plated bool) func(*subject, staging) (string, string) {
	return func(s *subject, st staging) (string, string) {
		wrong, right := wide(s)
		return boardTongue(st, math.Floor(wrong), plated), boardTongue(st, right, plated)
	}
}

func tongueElsewhere(s *subject, st staging) (string, string) {
	text := boardTongue(st, 2e6, false)
	return text + "fabricator elsewhere { limit neck minimum 2.000001 mm }\n", text + "fabricator elsewhere { limit neck minimum 2 mm }\n"
}

// withClearance has the connector on the stage ask for so much.
func withClearance(text string, nm float64) string {
	return strings.Replace(text, "connector second", "connector second clearance "+inMM(nm), 1)
}

func (p *pairScore) own(t *testing.T, n int, x pairMistake) {
	list := stageSubjects()
	for i := range stagesOfSlip {
		at := (n*3 + i*5) % len(list)
		s := *list[at]
		s.r = rand.New(rand.NewPCG(uint64(n), uint64(at)))
		wrong, right := x.make(&s, stagings()[at])
		p.try(t, x.rule, x.on, x.a == copper.Plane || x.b == copper.Plane, i > 0, &s, wrong, right)
	}
	p.note(x.rule, x.a, x.b, x.mistake)
}
