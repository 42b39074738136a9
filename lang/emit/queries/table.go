package queries

import "hemline/lang/board"

const (
	whenPlated   = "an edge is plated"
	whenHalf     = "there are half holes"
	whenTabs     = "there are tabs"
	whenHeld     = "an edge is plated, or there are tabs"
	whenPunched  = "there are perforated tabs"
	whenCut      = "there are cutouts"
	whenEndings  = "a plated edge has a bare stretch beside it"
	whenMetal    = "an edge is plated, or there are half holes"
	whenInside   = "the outline or a cutout has a sharp inside corner"
	whenTouching = "copper reaches the profile where nothing of its net is plated"
)

// table is every question: what a complete order states, and what shops ask
// where it does not.
var table = []Query{
	{Name: "outline", Question: "What is the board's outline, and where is its datum?", By: "`outline`", Speaks: board.Topic{"outline -tolerance"}, answer: outline},
	{Name: "outline-tolerance", Question: "How exact must the finished outline and its cutouts be?", Speaks: board.Topic{"outline tolerance", "profile tolerance", "rout tolerance"}},
	{Name: "thickness", Question: "How thick is the finished board?", By: "`stack`, or `thickness` in `board`", Speaks: board.Topic{"thickness -tolerance -copper"}, answer: thickness},
	{Name: "thickness-tolerance", Question: "How exact must the thickness be?", Speaks: board.Topic{"thickness tolerance"}},
	{Name: "material", Question: "Which family of laminate is it?", Speaks: board.Topic{"material", "laminate"}},
	{Name: "layers", Question: "How many copper layers are there, and how are they stacked?", By: "`stack`", Speaks: board.Topic{"layer stack", "stack"}, answer: layers},
	{Name: "class", Question: "To which class is it built and accepted?", By: "`class` in `board`", Speaks: board.Topic{"class"}, answer: class},
	{Name: "revision", Question: "Which revision of the board is this?", By: "`revision` in `board`", Speaks: board.Topic{"revision"}, answer: revision},
	{Name: "delivery", Question: "Are boards delivered singly or in a panel, and in what panel layout?", Speaks: board.Topic{"panel", "array", "singly"}},

	{Name: "plated-stretches", Question: "Which edges are plated, all along or in part?", When: whenPlated, By: "`along` in `plating`, and `gap`", applies: (*board.Board).Plated, answer: stretches},
	{Name: "bare-stretches", Question: "What is each interruption of a plating for?", When: "there are gaps", By: "`for` in `gap`, or a `tab` in it", Speaks: board.Topic{"gap -tolerance", "bare stretch"}, applies: gapped, answer: gaps},
	{Name: "stretch-tolerance", Question: "How exact are the ends of plated stretches?", When: whenEndings, Speaks: board.Topic{"gap tolerance", "stretch tolerance", "plating end tolerance"}, applies: ends},
	{Name: "wrap-width", Question: "How far does the copper turn over each face?", When: whenPlated, By: "`wrap` in `plating`, for each face", Speaks: board.Topic{"wrap -mask"}, applies: (*board.Board).Plated, answer: wraps},
	{Name: "artwork-past-profile", Question: "How far is copper drawn past the profile, so that it is seen to be meant?", When: whenPlated, By: "`extend` in `plating`", Speaks: board.Topic{"artwork profile"}, applies: (*board.Board).Plated, answer: extensions},
	{Name: "copper-at-profile", Question: "Is copper meant to reach the profile here, or is it to be cut back?", When: whenTouching, By: "`plating` of its net there, or a `pullback`", Speaks: board.Topic{"copper profile", "copper edge"}, applies: touching, answer: touches},
	{Name: "wall-net", Question: "Which net is each plated edge?", When: whenPlated, By: "`net` in `plating`", Speaks: board.Topic{"wall net"}, applies: (*board.Board).Plated, answer: nets},
	{Name: "net-boundary", Question: "Where is the wall cut between two nets?", When: "platings of two nets lie on one outline or cutout", By: "a `gap`, or `from` and `to` in `along`", Speaks: board.Topic{"cut net", "boundary net"}, applies: shared, answer: boundaries},
	{Name: "joined-layers", Question: "Which layers does the wall join?", When: whenPlated, By: "`layers` in `plating`, or a `plane` of its net", Speaks: board.Topic{"join layer", "wall layer"}, applies: (*board.Board).Plated, answer: joined},
	{Name: "layer-pullback", Question: "How far do planes on inner layers that a wall does not join keep from it?", When: "there is an inner layer that a wall does not join", By: "`plane` on that layer, with its `pullback`", Speaks: board.Topic{"layer pullback", "layer clearance"}, applies: kept, answer: pullbacks},
	{Name: "wall-copper", Question: "How thick is the copper on the wall, on average?", When: whenPlated, By: "`copper` in `plating`, or `class` in `board`", Speaks: board.Topic{"wall copper", "edge copper"}, applies: (*board.Board).Plated, answer: coppers},
	{Name: "wall-copper-thinnest", Question: "How thin may the copper be at its thinnest spot?", When: whenMetal, By: "`class` in `board`", Speaks: board.Topic{"copper thinnest", "copper spot", "copper least"}, applies: metal, answer: thinnest},
	{Name: "edge-finish", Question: "Which finish does the plated edge get?", When: whenPlated, By: "`finish` in `plating`", Speaks: board.Topic{"edge finish", "wall finish"}, applies: (*board.Board).Plated, answer: finishes},
	{Name: "mask-opening", Question: "Is solder mask open over the wraps and lands, and how far?", When: whenMetal, By: "`relief` over each", Speaks: board.Topic{"mask opening", "mask open", "mask wrap", "mask land"}, applies: metal, answer: reliefs},
	{Name: "order-of-routs", Question: "What is routed before plating, and what after?", When: whenPlated, By: "`plating`: the fabrication notes name both routs", applies: (*board.Board).Plated, answer: routs},
	{Name: "edge-voids", Question: "Which voids in the plated copper are accepted?", When: whenMetal, Speaks: board.Topic{"void"}, applies: metal},
	{Name: "blisters", Question: "Which blisters of the plated copper are accepted?", When: whenPlated, Speaks: board.Topic{"blister"}, applies: (*board.Board).Plated},
	{Name: "burrs", Question: "How high may burrs and nodules be?", When: whenMetal, Speaks: board.Topic{"burr", "nodule"}, applies: metal},
	{Name: "adhesion", Question: "How is the adhesion of the wall tested?", When: whenPlated, Speaks: board.Topic{"adhesion"}, applies: (*board.Board).Plated},
	{Name: "continuity-limit", Question: "Between which points is the wall measured, and what is the limit?", When: whenPlated, By: "`copper` in `plating` and the board's thickness: the fabrication notes state a computed bound", Speaks: board.Topic{"continuity -sample"}, applies: (*board.Board).Plated, answer: continuity},
	{Name: "continuity-sample", Question: "How many boards are measured?", When: whenPlated, Speaks: board.Topic{"continuity sample"}, applies: (*board.Board).Plated},
	{Name: "top-frequency", Question: "Up to which frequency must the wall shield?", When: "the board states `shielding`", By: "`frequency` in `board`", Speaks: board.Topic{"frequency"}, applies: shields, answer: frequency},
	{Name: "voltage", Question: "How high is the voltage between the wall and other copper, and may the wall be touched?", When: "the board states `voltage` or `hazard`", By: "`voltage` and `hazard` in `board`", Speaks: board.Topic{"voltage"}, applies: energised, answer: voltage},

	{Name: "tab-places", Question: "Where may tabs hold the board?", When: whenHeld, By: "`tab`", Speaks: board.AboutTabs, applies: held, answer: tabs},
	{Name: "tab-length", Question: "How far is it from the profile to the frame?", When: whenTabs, By: "`length` in `tab`", Speaks: board.Topic{"tab length", "frame distance", "slot frame"}, applies: tabbed, answer: tabLengths},
	{Name: "tab-edge", Question: "Is the edge under a tab plated or bare?", When: whenTabs, By: "`tab`: bare and free of copper on every layer, unless `premetallised`", applies: tabbed, answer: tabEdges},
	{Name: "tab-removal", Question: "Who takes the tabs off, and when?", When: whenTabs, Speaks: board.Topic{"tab removal", "tab remove", "tab removed"}, applies: tabbed},
	{Name: "tab-residue", Question: "How much of a tab may be left, or stand out?", When: whenHeld, Speaks: board.Topic{"residue", "protrusion", "tab stub"}, applies: held},
	{Name: "perforation-row", Question: "How far inside the profile does a row of holes lie?", When: whenPunched, By: "`inset` in `tab`", Speaks: board.Topic{"tab row", "perforation row"}, applies: punched, answer: insets},
	{Name: "perforation-plating", Question: "Are the holes of perforations plated?", When: whenPunched, By: "`tab`: drilled after plating, unplated", applies: punched, answer: perforations},
	{Name: "separation", Question: "How are boards separated, and is any edge scored?", When: "edges are plated, or there are tabs or half holes", By: "`tab`", Speaks: board.Topic{"score", "scored", "scoring", "separation", "tab left", "tab shop", "tab fabricator"}, applies: separated, answer: separation},

	{Name: "half-holes", Question: "Are half holes on the edge meant, and on which?", When: whenHalf, By: "`castellation`", applies: halved, answer: halfHoles},
	{Name: "half-hole-pitch", Question: "How many half holes are there, and how far apart?", When: whenHalf, By: "`from`, `to` and `pitch` in `castellation`, or `at`", applies: halved, answer: pitches},
	{Name: "half-hole-land", Question: "How large are the lands of half holes?", When: whenHalf, By: "`land` in `castellation`", applies: halved, answer: lands},
	{Name: "half-hole-tolerance", Question: "How exact are diameter and place of half holes?", When: whenHalf, Speaks: board.Topic{"half hole tolerance", "castellation tolerance"}, applies: halved},
	{Name: "half-hole-finish", Question: "Which finish do half holes get?", When: whenHalf, Speaks: board.Topic{"half hole finish", "castellation finish"}, applies: halved},
	{Name: "cutout-plating", Question: "Which cutouts are plated and which are not?", When: whenCut, By: "`along` in `plating`: a cutout that none names is not plated", applies: cut, answer: cutouts},
	{Name: "inside-corner", Question: "Which radius may an inside corner have, where the outline asks for none?", When: whenInside, By: "`corner` in `cutout`, or an `arc`", Speaks: board.Topic{"inside corner", "corner radius"}, applies: sharp, answer: corners},
	{Name: "overhang", Question: "What stands over the edge?", When: "there are connectors", By: "`connector`", applies: connected, answer: connectors},
}
