package rules

import (
	"fmt"

	"hemline/lang/copper"
)

// What may be put on a stage. On the south edge:
var (
	onEdge = actor{kind: copper.Edge, word: "the bare edge", half: 2e6, flat: true, fixed: true, on: nowhere, put: func(spot) string { return "" }}
	onWall = actor{kind: copper.Wall, word: "a wall", half: 2e6, flat: true, wall: true, put: func(p spot) string { return p.plate(p.name, p.along(0), "0.5 mm") }}
	onWrap = actor{kind: copper.Wrap, word: "a wrap", half: 2e6, deep: 8e5, wall: true, put: func(p spot) string { return p.plate(p.name, p.along(0), inMM(p.deep)) }}
	// A wall of the bare stretch alone: no wrap is nearer.
	onBare = actor{kind: copper.Wall, word: "a wall without wraps", half: 2e6, flat: true, wall: true, put: func(p spot) string {
		return fmt.Sprintf("plating %s { along %s; net %s; copper 35 um; extend 0.6 mm }", p.name, p.along(0), p.net)
	}}
	// One that says which layers it joins, and leaves out the inner ones.
	onUnjoined = actor{kind: copper.Wall, word: "a wall that joins outer layers alone", half: 2e6, flat: true, wall: true, put: func(p spot) string { return p.plate(p.name, p.along(0), "0.5 mm", "layers top bottom") }}
	onStrip    = actor{kind: copper.Strip, word: "a wall's own copper", half: 2e6, deep: copper.StripWidth, flat: true, wall: true, put: func(p spot) string { return p.plate(p.name, p.along(0), "0.5 mm", "layers ground") }}
	// One whose wraps are left out: nothing but it is nearest.
	onOwn = actor{kind: copper.Strip, word: "a wall's own copper without wraps", half: 2e6, deep: copper.StripWidth, flat: true, wall: true, put: func(p spot) string {
		return fmt.Sprintf("plating %s { along %s; net %s; copper 35 um; extend 0.6 mm; layers ground }", p.name, p.along(0), p.net)
	}}
	onRun = actor{kind: copper.Run, word: "a plane's run", half: 2e6, deep: 3e6, wall: true, put: func(p spot) string {
		return p.runs(inMM(p.deep)) + p.plate(p.name, p.along(0), "0.5 mm", "layers "+p.layer)
	}}
	onBarrel = actor{kind: copper.Barrel, word: "a half hole", half: 5e5, deep: 5e5, round: true, put: func(p spot) string {
		return fmt.Sprintf("castellation %s on south at %s hole %s land 0.3 mm by 0.2 mm%s", p.name, inMM(p.at), inMM(2*p.half), p.ofNet())
	}}
	onLand = actor{kind: copper.Land, word: "a half hole's land", half: 1e6, deep: 15e5, put: func(p spot) string {
		return fmt.Sprintf("castellation %s on south at %s hole 0.6 mm land %s by %s%s", p.name, inMM(p.at), inMM(2*p.half), inMM(p.deep), p.ofNet())
	}}
	onPin = actor{kind: copper.Pin, word: "a pin", half: 5e5, deep: 3e6, layered: true, put: func(p spot) string {
		return fmt.Sprintf("connector %s on south at %s { body %s; pin %s width %s length %s;%s }", p.name, inMM(p.at), inMM(2*p.half), p.layer, inMM(2*p.half), inMM(p.deep), p.ofNet())
	}}
	onBody = actor{kind: copper.Body, word: "a body", half: 2e6, deep: 2e6, put: func(p spot) string {
		return fmt.Sprintf("connector %s on south at %s body %s reach %s%s", p.name, inMM(p.at), inMM(2*p.half), inMM(p.deep), p.ofNet())
	}}
	// A body that stands with its other end on a wall.
	onGrounded = actor{kind: copper.Body, word: "a body on a wall", half: 2e6, deep: 2e6, wall: true, put: func(p spot) string {
		return p.plate(p.name+"_ground", fmt.Sprintf("south from %s to %s", inMM(p.at-p.half-2e6), inMM(p.at-5e5)), "0.5 mm") +
			fmt.Sprintf("\nconnector %s on south at %s body %s reach %s", p.name, inMM(p.at), inMM(2*p.half), inMM(p.deep))
	}}
	onTab = actor{kind: copper.Tab, word: "a tab", half: 125e4, flat: true, put: func(p spot) string {
		return fmt.Sprintf("tab %s on south at %s width %s solid", p.name, inMM(p.at), inMM(2*p.half))
	}}
	onHoles = actor{kind: copper.Perforation, word: "a tab's hole", half: 3e5, deep: 3e5, round: true, put: func(p spot) string {
		return fmt.Sprintf("tab %s on south at %s width %s perforated hole %s pitch 9 mm", p.name, inMM(p.at), inMM(2*p.half+1e6), inMM(2*p.half))
	}}
	onRelief = actor{kind: copper.Opening, word: "a relief", half: 3e6, deep: 16e5, wall: true, put: func(p spot) string {
		return p.plate(p.name+"_wall", p.along(1e6), "0.5 mm") + fmt.Sprintf("\nrelief %s over %s_wall on top bottom reach %s margin 1 mm", p.name, p.name, inMM(p.deep))
	}}
)

// And free on the board:
var (
	feature    = actor{kind: copper.Feature, word: "a feature", free: true, half: 5e5, layered: true, put: func(p spot) string { return p.feature(p.half) }}
	via        = actor{kind: copper.Via, word: "a via", free: true, half: 15e4, put: func(p spot) string { return p.fence(p.half, "") }}
	pad        = actor{kind: copper.Pad, word: "a via's pad", free: true, half: 3e5, put: func(p spot) string { return p.fence(1e5, " land "+inMM(2*p.half)) }}
	platedHole = actor{kind: copper.PlatedHole, word: "a plated hole", free: true, half: 5e5, put: func(p spot) string { return p.hole(p.half, "plated", "") }}
	ring       = actor{kind: copper.Ring, word: "a hole's land", free: true, half: 8e5, put: func(p spot) string { return p.hole(4e5, "plated", " land "+inMM(2*p.half)) }}
	drilled    = actor{kind: copper.Drilled, word: "an unplated hole", free: true, half: 5e5, put: func(p spot) string {
		p.net = ""
		return p.hole(p.half, "unplated", "")
	}}
	cutout = actor{kind: copper.Cutout, word: "a cutout", free: true, half: 2e6, put: func(p spot) string {
		return fmt.Sprintf("cutout %s circle %s at %s", p.name, inMM(2*p.half), p.middle())
	}}
	edge      = as(cutout, copper.Edge, "a cutout's bare edge")
	boreWall  = actor{kind: copper.Wall, word: "a cutout's wall", free: true, half: 2e6, wall: true, put: func(p spot) string { return p.bore(p.half, "0.5 mm") }}
	boreWrap  = actor{kind: copper.Wrap, word: "a cutout's wrap", free: true, half: 25e5, wall: true, put: func(p spot) string { return p.bore(2e6, inMM(p.half-2e6)) }}
	boreStrip = actor{kind: copper.Strip, word: "a cutout's own copper", free: true, half: 2e6 + copper.StripWidth, wall: true,
		put: func(p spot) string { return p.bore(p.half-copper.StripWidth, "0.5 mm", "layers ground") }}
	boreRun = actor{kind: copper.Run, word: "a plane's run to a cutout", free: true, half: 45e5, wall: true,
		put: func(p spot) string { return p.runs(inMM(p.half-15e5)) + p.bore(15e5, "0.5 mm", "layers "+p.layer) }}
	openFeature = actor{kind: copper.Opening, word: "a feature's mask opening", free: true, half: 6e5, put: func(p spot) string { return p.feature(p.half - p.margin) }}
	openRing    = actor{kind: copper.Opening, word: "a land's mask opening", free: true, half: 9e5,
		put: func(p spot) string { return p.hole(4e5, "plated", " land "+inMM(2*(p.half-p.margin))) }}
	plane = actor{kind: copper.Plane, word: "a plane", free: true, layered: true, fixed: true, on: "layer",
		put: func(p spot) string {
			return fmt.Sprintf("plane on %s pullback %s%s", p.layer, inMM(p.inward), p.ofNet())
		}}
)

// as is an actor as another kind of piece that it puts there too.
func as(x actor, k copper.Kind, word string) actor {
	x.kind, x.word = k, word
	return x
}

func (p spot) feature(half float64) string {
	return fmt.Sprintf("feature %s on %s rectangle %s by %s at %s%s", p.name, p.layer, inMM(2*half), inMM(2*half), p.middle(), p.ofNet())
}

func (p spot) fence(half float64, land string) string {
	return fmt.Sprintf("fence %s along south from %s to %s inset %s pitch 1 mm hole %s%s%s", p.name, inMM(p.at), inMM(p.at+1e5), inMM(p.inward), inMM(2*half), land, p.ofNet())
}

func (p spot) hole(half float64, kind, land string) string {
	return fmt.Sprintf("hole %s diameter %s at %s %s%s%s", p.name, inMM(2*half), p.middle(), kind, land, p.ofNet())
}

// runs is a plane that runs to a wall.
func (p spot) runs(pullback string) string {
	return fmt.Sprintf("plane on %s pullback %s net %s\n", p.layer, pullback, p.net)
}

// pairings lists what is put beside what.
func pairings() (list []pairing) {
	add := func(rule string, limits []string, n nets, layer string, a actor, others ...actor) {
		for _, b := range others {
			list = append(list, pairing{rule: rule, limits: limits, nets: n, layer: layer, a: a, b: b})
		}
	}
	one := func(name string) []string { return []string{name} }
	wraps, inner := one("wrap_clearance"), one("inner_clearance")
	add("wrap_clearance", wraps, twoNets, "top", onWrap, boreWrap, onLand, onBarrel, feature, via, pad, platedHole, ring, boreRun, plane)
	add("plane_short", inner, twoNets, "ground", onWall, feature, boreRun, plane)
	add("plane_short", inner, twoNets, "ground", onStrip, feature, plane)
	add("tie_unstated", one("edge_clearance_inner"), oneNet, "ground", onUnjoined, feature, plane)
	add("wall_short", inner, twoNets, "ground", onWall, via, platedHole, boreWall, boreStrip)
	add("wall_short", inner, twoNets, "ground", onStrip, via, platedHole, onBarrel)
	add("ties_meet", inner, twoNets, "ground", onOwn, boreStrip, boreRun)
	add("ties_meet", nil, twoNets, "ground", onRun, boreRun)
	add("launch_clearance", one("launch_clearance"), twoNets, "top", onBare, onPin)
	add("launch_clearance", one("launch_clearance"), twoNets, "top", onPin, boreWrap)
	list = append(list, pairing{rule: "launch_blocked", nets: twoNets, layer: "top", a: onBare, b: onPin}, pairing{rule: "launch_blocked", nets: twoNets, layer: "top", a: onPin, b: boreWrap})
	add("castellation_on_plating", one("gap_width"), twoNets, "top", onWall, onBarrel)
	list = append(list, surfacePairs()...)
	list = append(list, edgePairs()...)

	web := one("hole_web")
	add("hole_web", web, ownItems, "top", via, via, platedHole, drilled)
	add("hole_web", web, ownItems, "top", platedHole, platedHole, drilled)
	add("hole_web", web, ownItems, "top", drilled, drilled)
	add("hole_web", web, anyNets, "top", onBarrel, via, platedHole, drilled)
	add("hole_web", web, anyNets, "top", onHoles, via, platedHole, drilled, cutout)
	add("fence_inset", one("fence_inset"), anyNets, "top", onEdge, via)
	add("fence_inset", one("fence_inset"), anyNets, "top", onWall, via)
	add("hole_edge", one("hole_edge"), anyNets, "top", onEdge, platedHole, drilled)
	add("hole_edge", one("hole_edge"), anyNets, "top", onWall, platedHole, drilled)

	add("castellation_spacing", one("castellation_spacing"), ownItems, "top", onBarrel, onBarrel)
	add("connectors_meet", nil, anyNets, "top", onPin, onPin)
	add("connectors_meet", nil, anyNets, "top", onBody, onPin, onBarrel, onLand)
	add("connectors_meet", nil, twoNets, "top", onBody, feature)
	add("body_clearance", one("body_clearance"), anyNets, "top", onBody, onBody)
	add("body_shorts", nil, twoNets, "top", onGrounded, onWall, boreWrap)
	add("tab_near_connector", one("tab_connector"), anyNets, "top", onBody, onTab)
	add("tab_gap_tight", one("tab_gap"), anyNets, "top", onTab, onWall, onBarrel, onLand)
	add("tabs_crowded", one("router_bit"), anyNets, "top", onTab, onTab)

	add("mask_web", one("mask_web"), anyNets, "top", onRelief, openFeature, openRing)
	add("mask_web", one("mask_web"), anyNets, "top", openFeature, openFeature, openRing)
	add("mask_bares", nil, twoNets, "top", onRelief, boreWrap, boreRun, onLand, onBarrel, via, pad, platedHole, ring, onPin, feature, plane)

	neck := one("neck")
	add("neck_narrow", neck, anyNets, "top", cutout, cutout)
	add("neck_narrow", neck, anyNets, "top", onEdge, cutout)
	outline := onWall // a finding on the outline names the opening alone
	outline.on = nowhere
	add("neck_narrow", neck, anyNets, "top", outline, cutout)
	return list
}

// surfacePairs are any two coppers, where no other limit speaks of them.
func surfacePairs() (list []pairing) {
	surface := []actor{onLand, onBarrel, onPin, feature, via, pad, platedHole, ring}
	for i, a := range surface {
		for _, b := range surface[i:] {
			layer := "top"
			if a.kind == copper.Barrel && b.kind == copper.Barrel {
				continue // castellation_spacing's
			}
			list = append(list, pairing{rule: "copper_clearance", limits: []string{"copper_clearance"}, nets: twoNets, layer: layer, a: a, b: b})
		}
	}
	return list
}

// edgePairs are what copper keeps from bare edges, from holes without copper and
// from tabs' holes.
func edgePairs() (list []pairing) {
	out, in := "edge_clearance_outer", "edge_clearance_inner"
	add := func(layer string, limits []string, a actor, others ...actor) {
		for _, b := range others {
			list = append(list, pairing{rule: "edge_pullback", limits: limits, nets: anyNets, layer: layer, a: a, b: b})
		}
	}
	add("top", []string{out}, onWrap, drilled, edge)
	add("top", []string{out}, onLand, drilled, edge)
	add("top", []string{out}, onPin, drilled, edge)
	add("top", []string{out}, drilled, feature, pad, ring)
	add("ground", []string{in}, drilled, feature)
	add("ground", []string{out, in}, drilled, via)
	add("ground", []string{in}, onOwn, drilled, edge)
	add("top", []string{out}, onEdge, feature, pad, ring)
	add("ground", []string{in}, onEdge, feature)
	add("top", []string{out}, onHoles, feature, onLand, pad, ring, onPin)
	add("ground", []string{in}, onHoles, feature, onOwn, boreStrip)
	add("ground", []string{out, in}, onHoles, via)
	list = append(list, pairing{rule: "edge_pullback", nets: anyNets, layer: "top", a: onWrap, b: cutout, clear: []string{out}},
		pairing{rule: "edge_pullback", limits: []string{out}, nets: anyNets, layer: "top", a: onEdge, b: plane},
		pairing{rule: "edge_pullback", limits: []string{in}, nets: anyNets, layer: "ground", a: onEdge, b: plane})
	return list
}
