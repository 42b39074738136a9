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
	{Name: "outline", Whole: true, Question: "What is the board's outline, and where is its datum?", By: "`outline`", answer: outline},
	{Name: "outline_tolerance", Whole: true, Question: "How exact must the finished outline and its cutouts be?", By: "`outline` and `cutouts` in `tolerance`", answer: shapes},
	{Name: "thickness", Whole: true, Question: "How thick is the finished board?", By: "`stack`, or `thickness` in `board`", answer: thickness},
	{Name: "thickness_tolerance", Whole: true, Question: "How exact must the thickness be?", By: "`thickness` in `tolerance`", answer: exact("thickness")},
	{Name: "material", Whole: true, Question: "Which family of laminate is it?", By: "`material` in `board`, or of each `dielectric`", answer: laminates},
	{Name: "layers", Whole: true, Question: "How many copper layers are there, and how are they stacked?", By: "`stack`", answer: layers},
	{Name: "class", Whole: true, Question: "To which class is it built and accepted?", By: "`class` in `board`", answer: class},
	{Name: "revision", Whole: true, Question: "Which revision of the board is this?", By: "`revision` in `board`", answer: ofBoard("revision", func(i *board.Info) board.Name { return i.Revision })},
	{Name: "delivery", Whole: true, Question: "Are boards delivered singly or in a panel, and in what panel layout?", By: "`delivery`", answer: delivery},
	{Name: "marking", Whole: true, Question: "Where may the shop's marks stand: its own, a date code?", By: "`marking`, with `on` and `at`, or `none`", answer: markings},
	{Name: "impedance_control", Whole: true, Question: "Is the impedance of lines controlled?", When: "there are connectors, or the board states `impedance`", By: "`impedance` in `board`", applies: launches, answer: ofBoard("impedance", func(i *board.Info) board.Name { return i.Impedance.Name })},
	{Name: "electrical_test", Whole: true, Question: "Which boards are tested electrically?", By: "`electrical_test` in `criteria`", answer: accepted("electrical_test")},
	{Name: "bow", Whole: true, Question: "How much may the board be bowed or twisted?", By: "`bow` in `criteria`", answer: accepted("bow")},

	{Name: "plated_stretches", Question: "Which edges are plated, all along or in part?", When: whenPlated, By: "`along` in `plating`, and `gap`", applies: (*board.Board).Plated, answer: stretches},
	{Name: "bare_stretches", Question: "What is each interruption of a plating for?", When: "there are gaps", By: "`for` in `gap`, or a `tab` in it", applies: gapped, answer: gaps},
	{Name: "stretch_tolerance", Question: "How exact are the ends of plated stretches?", When: whenEndings, By: "`gaps` in `tolerance`", applies: ends, answer: exact("gaps")},
	{Name: "wrap_width", Question: "How far does the copper turn over each face?", When: whenPlated, By: "`wrap` in `plating`, for each face", applies: (*board.Board).Plated, answer: wraps},
	{Name: "artwork_past_profile", Question: "How far is copper drawn past the profile, so that it is seen to be meant?", When: whenPlated, By: "`extend` in `plating`", applies: (*board.Board).Plated, answer: extensions},
	{Name: "copper_at_profile", Question: "Is copper meant to reach the profile here, or is it to be cut back?", When: whenTouching, By: "`plating` of its net there, or a `pullback`", applies: touching, answer: touches},
	{Name: "wall_net", Question: "Which net is each plated edge?", When: whenPlated, By: "`net` in `plating`", applies: (*board.Board).Plated, answer: nets},
	{Name: "net_boundary", Question: "Where is the wall cut between two nets?", When: "platings of two nets lie on one outline or cutout", By: "a `gap`, or `from` and `to` in `along`", applies: shared, answer: boundaries},
	{Name: "joined_layers", Question: "Which layers does the wall join?", When: whenPlated, By: "`layers` in `plating`, or a `plane` of its net", applies: (*board.Board).Plated, answer: joined},
	{Name: "layer_pullback", Question: "How far do planes on inner layers that a wall does not join keep from it?", When: "there is an inner layer that a wall does not join", By: "`plane` on that layer, with its `pullback`", applies: kept, answer: pullbacks},
	{Name: "wall_copper", Question: "How thick is the copper on the wall, on average?", When: whenPlated, By: "`copper` in `plating`, or `class` in `board`", applies: (*board.Board).Plated, answer: coppers},
	{Name: "wall_copper_thinnest", Question: "How thin may the copper be at its thinnest spot?", When: whenMetal, By: "`class` in `board`, or `least` in `copper` of each `plating`", applies: metal, answer: thinnest},
	{Name: "edge_finish", Question: "Which finish does the plated edge get?", When: whenPlated, By: "`finish` in `plating` or `board`", applies: (*board.Board).Plated, answer: finishes},
	{Name: "finish_thickness", Question: "How thick is the finish on the wall?", When: whenPlated, By: "`thickness` in `finish` of `plating`", applies: (*board.Board).Plated, answer: finishLayers},
	{Name: "mask_opening", Question: "Is solder mask open over the wraps and lands, and how far?", When: whenMetal, By: "`relief` over each", applies: metal, answer: reliefs},
	{Name: "order_of_routs", Question: "What is routed before plating, and what after?", When: whenPlated, By: "`plating`: the fabrication notes name both routs", applies: (*board.Board).Plated, answer: routs},
	{Name: "edge_voids", Question: "Which voids in the plated copper are accepted?", When: whenMetal, By: "`voids` in `criteria`", applies: metal, answer: accepted("voids")},
	{Name: "blisters", Question: "Which blisters of the plated copper are accepted?", When: whenPlated, By: "`blisters` in `criteria`", applies: (*board.Board).Plated, answer: accepted("blisters")},
	{Name: "burrs", Question: "How high may burrs and nodules be?", When: whenMetal, By: "`burrs` in `criteria`", applies: metal, answer: accepted("burrs")},
	{Name: "adhesion", Question: "How is the adhesion of the wall tested?", When: whenPlated, By: "`adhesion` in `criteria`", applies: (*board.Board).Plated, answer: accepted("adhesion")},
	{Name: "continuity_limit", Question: "How is it tested that the wall is whole: between which points and to what limit, or else how?", When: whenPlated, By: "`coupon required`, `microsection` or a `continuity` that tells a wall from none in `criteria`; else, where the wall's resistance tells it from none, `copper` in `plating` and the board's thickness: the fabrication notes state a computed limit", applies: (*board.Board).Plated, slow: continuity},
	{Name: "continuity_sample", Whole: true, Question: "How many boards are measured?", When: whenPlated, By: "`sample` in `criteria`", applies: (*board.Board).Plated, answer: accepted("sample")},
	{Name: "coupon", Whole: true, Question: "Is a coupon of the plated edge made beside the boards?", When: whenPlated, By: "`coupon` in `criteria`", applies: (*board.Board).Plated, answer: accepted("coupon")},
	{Name: "top_frequency", Whole: true, Question: "Up to which frequency must the wall shield?", When: "the board states `shielding`", By: "`frequency` in `board`", applies: shields, answer: frequency},
	{Name: "hazard", Whole: true, Question: "May the wall carry a hazardous voltage, or is it protective earth?", When: whenPlated, By: "`hazard` in `board`", applies: (*board.Board).Plated, answer: hazard},
	{Name: "voltage", Whole: true, Question: "How high is the voltage between the wall and other copper?", When: "the board states `voltage`, or a `hazard` other than none", By: "`voltage` in `board`", applies: energised, answer: voltage},

	{Name: "tab_places", Question: "Where may tabs hold the board?", When: whenHeld, By: "`tab`", applies: held, answer: tabs},
	{Name: "tab_length", Question: "How far is it from the profile to the frame?", When: whenTabs, By: "`length` in `tab`", applies: tabbed, answer: tabLengths},
	{Name: "tab_edge", Question: "Is the edge under a tab plated or bare?", When: whenTabs, By: "`tab`: bare and free of copper on every layer, unless `premetallised`", applies: tabbed, answer: tabEdges},
	{Name: "tab_root", Question: "Which radius do the roots of tabs have?", When: whenTabs, By: "`tab`: what the bit leaves", applies: tabbed, answer: roots},
	{Name: "tab_removal", Question: "How are the tabs taken off, and by whom?", When: whenTabs, By: "`removal` in `tab`, with `by`", applies: tabbed, answer: removals},
	{Name: "tab_residue", Question: "How much of a tab may be left, or stand out?", When: whenHeld, By: "`removal` in `tab`, with `within`", applies: held, answer: residues},
	{Name: "perforation_row", Question: "How far inside the profile does a row of holes lie?", When: whenPunched, By: "`inset` in `tab`", applies: punched, answer: insets},
	{Name: "perforation_plating", Question: "Are the holes of perforations plated?", When: whenPunched, By: "`tab`: drilled after plating, unplated", applies: punched, answer: perforations},
	{Name: "separation", Question: "How are boards separated, and is any edge scored?", When: "edges are plated, or there are tabs or half holes", By: "`tab`, or `leave tab_places`", applies: separated, answer: separation},

	{Name: "half_holes", Question: "Are half holes on the edge meant, and on which?", When: whenHalf, By: "`castellation`", applies: halved, answer: halfHoles},
	{Name: "half_hole_pitch", Question: "How many half holes are there, and how far apart?", When: whenHalf, By: "`from`, `to` and `pitch` in `castellation`, or `at`", applies: halved, answer: pitches},
	{Name: "half_hole_land", Question: "How large are the lands of half holes?", When: whenHalf, By: "`land` in `castellation`", applies: halved, answer: lands},
	{Name: "half_hole_tolerance", Question: "How exact are diameter and place of half holes?", When: whenHalf, By: "`half_holes` and `position` in `tolerance`", applies: halved, answer: exact("half_holes", "position")},
	{Name: "half_hole_finish", Question: "Which finish do half holes get?", When: whenHalf, By: "`finish` in `castellation` or `board`", applies: halved, answer: ofRows("finish", (*board.Board).FinishOfHalfHoles)},
	{Name: "half_hole_burrs", Question: "On which face may burrs of the cut through half holes stand?", When: whenHalf, By: "`burrs` in `castellation`", applies: halved, answer: ofRows("burrs", func(_ *board.Board, c *board.Castellation) board.Name { return c.Burrs })},
	{Name: "cutout_plating", Question: "Which cutouts are plated and which are not?", When: whenCut, By: "`along` in `plating`: a cutout that none names is not plated", applies: cut, answer: cutouts},
	{Name: "inside_corner", Question: "Which radius may an inside corner have, where the outline asks for none?", When: whenInside, By: "`corner` in `outline` or `cutout`, or an `arc`", applies: sharp, answer: corners},
	{Name: "fence_vias", Question: "Are the vias of fences in the artwork?", When: "there are via fences", By: "`added` in `fence` where they are not yet", applies: fenced, answer: fences},
	{Name: "overhang", Question: "What stands over the edge?", When: "there are connectors", By: "`connector`", applies: connected, answer: connectors},
}
