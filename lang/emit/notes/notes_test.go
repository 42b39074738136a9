package notes_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/wording"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

func read(text string) *board.Board {
	return lang.Analyze(source.New("b.hem", text), func(string) (*source.File, error) { return nil, errors.New("none") }, nil).Board()
}

func about(list []notes.Note, topic notes.Topic) string {
	var texts []string
	for _, n := range list {
		if n.Topic == topic {
			texts = append(texts, n.Text)
		}
	}
	return strings.Join(texts, "\n")
}

// told is what notes say about a topic, whatever they are numbered.
func told(list []notes.Note, topic notes.Topic) string {
	return strings.ReplaceAll(about(list, topic), "\n", " ")
}

const outline = "outline rectangle 60 mm by 30 mm corner 2 mm\n"
const wall = "plating wall { along south; net GND }\n"

// Each topic: a text that gives it its sentences, and one that gives it none.
var cases = []struct {
	topic         notes.Topic
	with, want    string
	without, note string
}{
	{notes.Datum, "outline circle 50 mm", "Coordinates are (x, y) in mm from the centre of the outline, x to the east, y to the north, seen from the top.", "board b { thickness 1 mm }", "no outline"},
	{notes.Datum, outline + wall, "Coordinates are (x, y) in mm from the sharp southwest corner of the outline, x to the east, y to the north, seen from the top. Stretches run counterclockwise.", "board b { thickness 1 mm }", "no outline"},
	{notes.Class, "board b { class 2 }", "Build and accept to class 2 of IPC-6012.", "board b { title \"B\" }", "no class"},
	{notes.Class, "board b { material \"glass and epoxy\"; finish ENIG; mask green; legend white }", "Laminate: glass and epoxy. Finish of the board: ENIG. Solder mask: green. Legend: white.", "board b { material \"TBD\" }", "nothing decided"},
	{notes.Electrical, "board b { impedance none }", "No line is of controlled impedance.", "board b { class 2 }", "not stated"},
	{notes.Electrical, "board b { impedance \"50 ohm, 5 %, line to the antenna.\" }", "Controlled impedance: 50 ohm, 5 %, line to the antenna.", "board b { impedance \"?\" }", "nothing decided"},
	{notes.Tolerances, "tolerance { outline 5 mil; thickness 10 % }", "Tolerances, either way: outline 0.127 mm; finished thickness 10 %.", "board b { class 2 }", "not stated"},
	{notes.Delivery, "delivery single", "Deliver the boards singly.", "delivery panel \"?\"", "nothing decided"},
	{notes.Delivery, "delivery panel \"a.hem\" \"b.hem\"", "Deliver the boards in their panels: a.hem and b.hem.", outline, "not stated"},
	{notes.Delivery, outline + "marking \"date code\" on bottom at (5 mm, 6 mm)\nmarking \"maker's mark\"\nmarking none", "Add no mark of your own and no date code. Mark the boards, on no wall, no wrap and no land: date code and maker's mark (places: table “Marks by the shop”).", "marking \"TBD\"", "nothing decided"},
	{notes.Delivery, outline + "leave tab_places tab_length along south west to shop because \"its usual frame.\"\nleave class to shop because \"as ever\"", "Left to the shop, along south and west: tab places and tab length (its usual frame). Left to the shop: class (as ever).", outline, "nothing left"},
	{notes.Tabs, outline + "tab a on north at 10 mm width 3 mm solid removal rout by shop within 0.15 mm\ntab b on north at 30 mm width 3 mm solid removal hand", "Leave the tabs of table “Tabs” standing, widths at the root. Tab a is routed off by the shop, to within 0.15 mm of the profile. Tab b is broken off by hand.", outline, "no tab"},
	{notes.Tabs, outline + "tab a on north at 10 mm, 20 mm width 3 mm solid removal rout\ntab b on north at 30 mm width 3 mm solid", "Leave the tabs of table “Tabs” standing, widths at the root. Tabs a.1 and a.2 are routed off.", outline, "no tab"},
	{notes.Tabs, outline + "tab a on north at 10 mm, 20 mm width 3 mm solid removal hand by assembler", "Leave the tabs of table “Tabs” standing, widths at the root. All tabs are broken off by hand by the assembler.", outline, "no tab"},
	{notes.Delivery, outline + "marking \"maker's mark\"", "Mark the boards, on no wall, no wrap and no land: maker's mark.", outline, "no mark"},
	{notes.Wrap, outline + strings.Replace(wall, "}", "; finish ENIG thickness 4 um, 50 nm }", 1), "Finish the walls and their wraps as table “Platings” states, thicknesses from the copper outward.", outline + strings.Replace(wall, "}", "; finish \"TBD\" }", 1), "nothing decided"},
	{notes.Criteria, "criteria { voids maximum 1.5 mm; blisters none; adhesion \"tape test.\"; coupon required; electrical_test all; bow maximum 0.75 % }",
		"Accept in plated copper: voids of at most 1.5 mm, no blister. Wall adhesion: tape test. Make a coupon of the plated edge. Electrical test: every board. Bow and twist: at most 0.75 %.", "criteria { adhesion \"TBD\" }", "nothing decided"},
	{notes.Criteria, "criteria { coupon none; electrical_test none; burrs maximum 0.1 mm; microsection \"one\"; sample \"each\" }",
		"Accept in plated copper: burrs and nodules of at most 0.1 mm. Microsections: one. Make no coupon of the plated edge. Boards are not tested electrically. Boards to measure: each.", "board b { class 2 }", "not stated"},
	{notes.Electrical, "board b { voltage 48 V; hazard none }", "Voltage between the wall and other copper: at most 48 V. Touching the wall: the wall carries no hazardous voltage.", "board b { class 2 }", "neither"},
	// IPC-6012 as a fabricator cites it, from memory: class 3 is 25 and 20 µm, class 1 and 2 are 20 and 18 µm.
	{notes.Copper, "board b { class 3 }\n" + outline + wall,
		"Put 25 µm of copper on each wall, on average, and no less than 20 µm on any spot (class 3 of IPC-6012).", outline + wall, "neither copper nor class"},
	{notes.Copper, "board b { class 1 }\n" + outline + strings.Replace(wall, "}", "; copper 0.03 mm }", 1),
		"Put on each wall, on average, the copper that table “Platings” states. Leave no spot of a wall with less than 18 µm of copper (class 1 of IPC-6012).", "board b { class 1 }\n" + outline, "no plating"},
	{notes.Copper, "board b { class 1 }\n" + outline + strings.Replace(wall, "}", "; copper 0.03 mm least 25 um }", 1),
		"Put on each wall, on average, the copper that table “Platings” states. Leave no spot of a wall with less than the least that table “Platings” states.", "board b { class 1 }\n" + outline, "no plating"},
	{notes.Copper, "board b { class 1 }\n" + outline + strings.Replace(wall, "}", "; copper 0.03 mm least 25 um }", 1) + strings.NewReplacer("wall", "other", "south", "north").Replace(wall),
		"Put on each wall, on average, the copper that table “Platings” states, and where it states none 20 µm (class 1 of IPC-6012).\nLeave no spot of a wall with less than the least that table “Platings” states, or where it states none 18 µm (class 1 of IPC-6012).", "board b { class 1 }\n" + outline, "no plating"},
	{notes.Class, "stack { copper top 35 um base 18 um; dielectric p 1 mm material \"ceramic\"; copper bottom 35 um }\n" + outline, "Layers from the top and finished thicknesses: table “Stack”.", outline, "no stack"},
	{notes.Wrap, outline + strings.Replace(wall, "}", "; wrap top 32 mil; wrap bottom 0 mm }", 1),
		"Wrap the copper over the faces as far as table “Platings” states, from the profile inward; 0 is no wrap.", outline + wall, "no wrap"},
	{notes.Extension, outline + strings.Replace(wall, "}", "; extend 0.5 mm }", 1), "The artwork's copper runs past the profile on purpose, as far as table “Platings” states; do not clip it.", outline + wall, "no extend"},
	{notes.Stretches, outline + "plating wall { along south from 5 mm to 20 mm; net GND }", "Plate the stretches of table “Plated stretches”. Leave bare: south east north west south, from (20, 0) to (5, 0), 161.566 mm long.", outline, "no plating"},
	{notes.Stretches, outline + "cutout bore circle 10 mm at (30 mm, 15 mm)\nplating tube { along bore.rim; net GND }", "Plate the stretches of table “Plated stretches”. Leave the outline bare all round.", outline, "no plating"},
	{notes.Stretches, "outline rectangle 60 mm by 30 mm\nplating wall { along all; net GND }\ngap g of wall on west at middle width 6 mm for ant bridged\nconnector ant on west at middle { body 9 mm; pin top width 1 mm length 3 mm }\ngap h of wall on south at 20 mm width 5 mm\ntab t on south at 20 mm width 3 mm solid",
		"Plate the stretches of table “Plated stretches”. Leave the gaps of table “Gaps” bare.", outline, "nothing plated"},
	{notes.Stretches, "outline rectangle 60 mm by 30 mm\nplating wall { along all; net GND }\ngap g of wall on south at 20 mm width 5 mm for t\ntab t on south at 20 mm width 3 mm solid", "Plate the stretches of table “Plated stretches”. Leave the gaps of table “Gaps” bare.", outline, "nothing plated"},
	// What opens it, once for all platings that it opens, and each of those that overlap.
	{notes.Stretches, "outline rectangle 60 mm by 30 mm\nplating wall { along all; net GND }\nplating more { along south from 15 mm to 45 mm; net GND }\ntab t on south at 20 mm width 3 mm solid opens margin 1 mm\ntab u on south at 24 mm width 3 mm solid opens margin 1 mm\n" +
		"connector j on west at 15 mm { body 9 mm; pin top width 1 mm length 3 mm; opens margin 1 mm bridged }\nconnector k on east at 15 mm { body 9 mm; opens span 4 mm }",
		"Plate the stretches of table “Plated stretches”. Leave the gaps of table “Gaps” bare. Leave bare: south, from (17.5, 0) to (26.5, 0), 9 mm long (the gap of tab t; the gap of tab u).", outline, "nothing plated"},
	{notes.Stretches, outline + "cutout bore circle 10 mm at (30 mm, 15 mm)\nplating tube { along bore.rim; net GND }", "Plate the stretches of table “Plated stretches”. Leave the outline bare all round.", outline, "nothing plated"},
	{notes.Stretches, "outline rectangle 60 mm by 30 mm\nplating wall { along south east west; net GND }\ncastellation c on north at middle hole 1 mm land 2 mm by 1 mm\n", "Plate the stretches of table “Plated stretches”. Leave bare: north, from (60, 30) to (0, 30), 60 mm long (half hole c is plated).", outline, "nothing plated"},
	{notes.Stretches, "outline rectangle 60 mm by 30 mm\nplating wall { along south; net GND }\ngap g of wall on south from 10 mm to 18 mm\ntab t on south at 20 mm width 4 mm solid premetallised\ntab u on south at 30 mm width 4 mm solid premetallised\ntab v on north at 20 mm width 4 mm solid premetallised",
		"Plate the stretches of table “Plated stretches”. Leave the gaps of table “Gaps” bare. The roots of premetallised tabs (table “Tabs”) are bare once these are cut.\nLeave bare: south, from (10, 0) to (22, 0), 12 mm long (gap g; the root of premetallised tab t, which is bare once the tab is cut).\nLeave bare: east north west, from (60, 0) to (0, 0), 120 mm long (tab v stands here).", outline, "nothing plated"},
	{notes.Stretches, "outline rectangle 60 mm by 30 mm\nplating wall { along all; net GND }\ntab t on south at 20 mm width 3 mm solid\ngap g of wall on south at 20 mm width 5 mm for t bridged\ngap h of wall on south at 40 mm width 4 mm bridged",
		"Plate the stretches of table “Plated stretches”. Leave the gaps of table “Gaps” bare.", outline, "nothing plated"},
	{notes.Stretches, "outline rectangle 60 mm by 30 mm\nplating wall { along south; net GND }\ntab t on south at 20 mm width 4 mm solid premetallised\nplating late { along south from 50 mm to 60 mm; along east; net GND }",
		"Plate the stretches of table “Plated stretches”. The roots of premetallised tabs (table “Tabs”) are bare once these are cut. Leave bare: north west, from (60, 30) to (0, 0), 90 mm long.", outline, "no plating"},
	{notes.Layers, "stack { copper top 35 um; dielectric d 0.5 mm; copper gnd 35 um; dielectric e 0.5 mm; copper pwr 35 um; dielectric f 0.5 mm; copper bottom 35 um }\n" + outline +
		"plating wall { along south; net GND; wrap bottom 1 mm; layers top gnd }\nplane on gnd net GND pullback 0.5 mm\nplane on pwr net V3 pullback 1 mm\n",
		"Each wall has the net, and joins the copper of the layers, that table “Platings” states. Keep planes from the profile as table “Planes” states; they run to the walls that it names.", outline, "no plating"},
	{notes.Layers, "stack { copper top 35 um; dielectric d 0.5 mm; copper gnd 35 um; dielectric e 0.5 mm; copper bottom 35 um }\n" + outline +
		"plating wall { along south; net GND; wrap top bottom 1 mm; layers gnd }\nplane on gnd net GND pullback 0.5 mm within (0 mm, 0 mm) to (20 mm, 9 mm)\nplane on gnd net V pullback 0.6 mm within (60 mm, 30 mm) to (21 mm, 0 mm)\nplane on gnd net GND pullback 0.5 mm within (0 mm, 10 mm) to (20 mm, 30 mm)\n",
		"Each wall has the net, and joins the copper of the layers, that table “Platings” states. Keep planes from the profile, and within their corners, as table “Planes” states; they run to the walls that it names.", outline, "no plating"},
	{notes.Layers, "stack { copper top 35 um; dielectric d 0.5 mm; copper gnd 35 um; dielectric e 0.5 mm; copper bottom 35 um }\n" + outline +
		"plating a { along south; net GND; layers gnd }\nplating b { along north; net GND; layers top }\nplating c { along west; net GND; layers gnd }\nplane on gnd net GND pullback 0.3 mm\n",
		"Each wall has the net, and joins the copper of the layers, that table “Platings” states. Keep planes from the profile as table “Planes” states; they run to the walls that it names.", outline, "no plating"},
	{notes.Holes, outline + "hole mount diameter 3.2 mm at (4 mm, 4 mm) plated net GND land 6 mm\nhole peg diameter 125 mil at (56 mm, 4 mm) unplated",
		"Holes: table “Holes”, finished diameters, with lands on both faces. Drill plated holes before plating. Drill unplated holes after plating; leave no copper in them.", outline + wall, "no hole"},
	{notes.Wrap, outline + strings.Replace(wall, "}", "; finish ENIG }", 1), "Finish the walls and their wraps as table “Platings” states.", outline + wall, "no finish"},
	{notes.Wrap, "board b { finish HASL }\n" + outline + wall + "plating own { along north; net GND; finish ENIG }", "Finish the walls and their wraps as table “Platings” states.", outline + wall, "no finish"},
	{notes.Sequence, outline + wall + "tab t on north at 20 mm width 3 mm solid premetallised",
		"First rout, before plating (rout_plated.xnc): cut the plated stretches. Final rout, after plating (rout_final.xnc): cut the bare stretches up to the roots of tabs, and nothing of the plated ones.\nCut no score along or across a plated stretch.", outline, "nothing plated"},
	{notes.Sequence, outline + wall + "tab t on south at 20 mm width 3 mm solid premetallised",
		"First rout, before plating (rout_plated.xnc): cut the plated stretches. Final rout, after plating (rout_final.xnc): cut the bare stretches up to the roots of tabs, and nothing of the plated ones.\nTab t, premetallised: plate the faces on over it into the frame, with the panel. There is no wall under it to plate. Cut no score along or across a plated stretch.", outline, "nothing plated"},
	{notes.Sequence, "outline rectangle 60 mm by 30 mm\nplating wall { along all; net GND }",
		"First rout, before plating (rout_plated.xnc): cut the plated stretches. Final rout, after plating (rout_final.xnc): free the board; nothing is left to cut but what holds it.\nCut no score along or across a plated stretch.", outline, "nothing plated"},
	{notes.Tabs, outline + "tab a on north at 10 mm width 4 mm perforated hole 0.5 mm pitch 0.8 mm inset 0.1 mm\ntab b on north at 50 mm width 4 mm perforated hole 0.5 mm pitch 0.8 mm inset 0.1 mm\ntab c on south at 30 mm width 3 mm solid length 2 mm",
		"Leave the tabs of table “Tabs” standing, widths at the root, lengths from the profile to the frame.\nDrill the perforations of tabs after plating, a row without an inset on the profile; leave their holes unplated.", outline, "no tab"},
	{notes.Edges, outline + "tab c on south at 30 mm width 3 mm solid", "Keep every layer free of copper at tabs.", outline + "tab c on south at 30 mm width 3 mm solid premetallised", "its edge is metal"},
	{notes.Mask, outline + wall + "relief r over wall on top bottom reach 0.9 mm margin 0.1 mm", "Open the solder mask as table “Solder mask openings” states: from the profile inward, and past the ends of the copper. Put no solder mask on a plated wall.", outline, "no relief"},
	{notes.Mask, outline + "castellation c on west at 5 mm hole 1 mm land 1.6 mm by 1.2 mm\nrelief r over c on top reach 1.5 mm", "Open the solder mask as table “Solder mask openings” states: from the profile inward, and past the ends of the copper.", outline, "no relief"},
	{notes.Mask, outline + wall + "castellation c on west at 5 mm hole 1 mm land 1.6 mm by 1.2 mm\ncastellation d on east at 5 mm hole 1 mm land 1.6 mm by 1.2 mm\nrelief r over c wall d on top reach 1.5 mm margin 0.1 mm",
		"Open the solder mask as table “Solder mask openings” states: from the profile inward, and past the ends of the copper. Put no solder mask on a plated wall.", outline, "no relief"},
	{notes.Mask, outline + wall + "castellation c on west at 5 mm hole 1 mm land 1.6 mm by 1.2 mm\nrelief r over wall c on top along south from 2 mm to 9 mm along west margin 0.1 mm",
		"Open the solder mask as table “Solder mask openings” states: from the profile inward, and past the ends of the copper. Put no solder mask on a plated wall.", outline, "no relief"},
	{notes.HalfHoles, outline + "castellation c on west from 5 mm to 9 mm pitch 2 mm hole 1 mm land 1.6 mm by 1.2 mm net A B C\ncastellation d on east at 10 mm hole 1 mm land 1.6 mm by 1.2 mm net A",
		"Half holes: table “Half holes”; finished diameters, centres on the profile, lands along the edge by inward, on both faces where it names no layer.\nDrill and plate half holes whole; cut them in half with the final rout.", outline, "no half holes"},
	{notes.HalfHoles, outline + "castellation c on west from 5 mm to 24 mm pitch 2 mm except from 7 mm to 9 mm except from 15 mm to 16 mm hole 1 mm land 1.6 mm by 1.2 mm layers top finish ENIG burrs bottom\ncastellation d on east at 10 mm hole 1 mm land 1.6 mm by 1.2 mm burrs either",
		"Half holes: table “Half holes”; finished diameters, centres on the profile, lands along the edge by inward, on both faces where it names no layer.\nDrill and plate half holes whole; cut them in half with the final rout. Half holes c: finished in ENIG. Half holes c: let burrs of the cut stand on the bottom face alone.\nHalf hole d: burrs of the cut may stand on either face. Rows of half holes: c has none from (0, 7) to (0, 9), has none at (0, 15), ends 1 mm short of where it may, (0, 24).", outline, "no half holes"},
	{notes.Cutouts, outline + "cutout bore circle 10 mm at (30 mm, 15 mm)\ncutout w rectangle 6 mm by 4 mm at (10 mm, 15 mm)\ncutout s slot 8 mm by 2 mm at (48 mm, 15 mm)\nplating tube { along bore.rim w.south; net GND }",
		"Cutouts: table “Cutouts”; sizes of plated ones are finished sizes; those plated in part are so where table “Plated stretches” says.", outline, "no cutout"},
	{notes.Fences, outline + "fence f along south from 10 mm to 20 mm inset 1 mm pitch 2 mm hole 0.3 mm net GND", "Via fence: table “Via fences”; centres inside the profile by the inset; the artwork has their vias.", outline, "no fence"},
	{notes.Cutouts, outline + "cutout bore circle 10 mm at (30 mm, 15 mm)", "Cutout: table “Cutouts”; it stays unplated.", outline, "no cutout"},
	{notes.Cutouts, outline + "cutout bore circle 10 mm at (30 mm, 15 mm)\nplating tube { along bore.rim; net GND }\ntab t on bore.rim at 5 mm width 3 mm solid premetallised",
		"Cutout: table “Cutouts”; its size is the finished one; it is plated where table “Plated stretches” says.", outline, "no cutout"},
	{notes.Fences, "outline circle 20 mm\nfence f along rim inset 2 mm pitch 12 mm hole 0.3 mm\nfence g along rim inset 2 mm pitch 11.313709 mm hole 0.3 mm",
		"Via fences: table “Via fences”; centres inside the profile by the inset; even: evenly all round the rim, at most the pitch apart; the artwork has their vias.", "outline circle 20 mm", "no fence"},
	{notes.Fences, outline + "fence f along south from 10 mm to 20 mm inset 1 mm pitch 2 mm hole 0.3 mm land 0.6 mm", "Via fence: table “Via fences”; centres inside the profile by the inset; the artwork has their vias.", outline, "no fence"},
	{notes.Fences, outline + "fence f along south from 10 mm to 20 mm inset 1 mm pitch 2 mm hole 0.3 mm land 0.6 mm net GND added", "Via fence: table “Via fences”; centres inside the profile by the inset. The artwork does not have the vias of fence f yet: drill them and add their pads, as the layer files have them.", outline, "no fence"},
	{notes.Author, "note \"Second. With a dot\"\nnote \"first\"", "Second. With a dot\nfirst", outline, "no note"},
}

func TestEachSentenceComesFromTheText(t *testing.T) {
	seen := map[notes.Topic]bool{}
	for _, c := range cases {
		seen[c.topic] = true
		list := notes.Make(read(c.with), notes.Figures{})
		assert.Equal(t, c.want, about(list, c.topic), c.topic)
		for _, n := range list {
			assert.Equal(t, n.Topic == notes.Caution, len(n.From) == 0, "%s comes from somewhere: %s", n.Topic, n.Text)
		}
		assert.Empty(t, about(notes.Make(read(c.without), notes.Figures{}), c.topic), "%s: %s", c.topic, c.note)
	}
	for _, n := range notes.Make(read(""), notes.Figures{}) {
		assert.Equal(t, notes.Last, n.Text, "an empty text has the closing line alone")
	}
	assert.Len(t, seen, 20, "every topic but those that need figures, and the closing line")
}

// room is a shop's, no two figures alike.
var room = copper.Room{Copper: copper.Distance{By: 0.2e6, Who: "standard"}, EdgeOuter: copper.Distance{By: 0.25e6, Who: "common practice"}, EdgeInner: copper.Distance{By: 0.4e6, Who: "standard"},
	Wrap: copper.Distance{By: 0.3e6, Who: "common practice"}, WallInner: copper.Distance{By: 0.5e6, Who: "standard"}}

const layered = "stack { copper top 35 um; dielectric d 0.5 mm; copper gnd 35 um; dielectric e 0.5 mm; copper bottom 35 um }\n" + outline

// What planes give way to stands there layer by layer, by how much and who asks
// for it; layers with the same figures have one note.
func TestRoomIsSaid(t *testing.T) {
	const planes = "plane on top net GND pullback 0.5 mm\nplane on gnd net GND pullback 0.5 mm\nplane on bottom net GND pullback 0.5 mm\n"
	for _, c := range []struct{ text, want string }{
		{planes, ""},
		{planes + "feature f on top circle 1 mm at (9 mm, 9 mm) net GND", ""},
		{planes + "feature f on gnd circle 1 mm at (9 mm, 9 mm) net V5", "On layer gnd keep planes 0.2 mm (standard) from features of other nets."},
		{planes + "feature f on gnd circle 1 mm at (9 mm, 9 mm)", "On layer gnd keep planes 0.2 mm (standard) from features of other nets."},
		{planes + "connector c on east at 9 mm { body 6 mm; pin top width 1 mm length 2 mm; net RF }\nfeature f on top circle 1 mm at (9 mm, 9 mm) net V5",
			"On layer top keep planes 0.2 mm (standard) from features and pins of other nets."},
		{planes + "fence f along north inset 2 mm pitch 3 mm hole 0.3 mm net V5", "On layers top, gnd and bottom keep planes 0.2 mm (standard) from vias of other nets."},
		{planes + "fence f along north inset 2 mm pitch 3 mm hole 0.3 mm land 0.6 mm net V5\nhole h diameter 1 mm at (9 mm, 9 mm) plated net V9",
			"Keep planes 0.2 mm (standard) from what is of other nets: on top and bottom vias and plated holes with their lands, on gnd vias and plated holes."},
		{planes + "castellation c on east at 9 mm hole 0.8 mm land 2 mm by 1 mm net X",
			"Keep planes 0.2 mm (standard) from what is of other nets: on top and bottom half holes with their lands, on gnd half holes."},
		{planes + "hole h diameter 1 mm at (9 mm, 9 mm) unplated\nfeature f on gnd circle 1 mm at (20 mm, 9 mm) net V5",
			"On layers top and bottom keep planes 0.25 mm (common practice) from unplated holes. On layer gnd keep planes 0.2 mm (standard) from features of other nets. On layer gnd keep planes 0.4 mm (standard) from unplated holes."},
		{planes + "tab t on north at 20 mm width 4 mm perforated hole 0.5 mm pitch 0.8 mm\nhole h diameter 1 mm at (9 mm, 9 mm) unplated",
			"On layers top and bottom keep planes 0.25 mm (common practice) from unplated holes and perforations. On layer gnd keep planes 0.4 mm (standard) from unplated holes and perforations."},
		{planes + "plating v { along north; net V5; wrap top 1 mm; layers gnd }",
			"On layer top keep planes 0.3 mm (common practice) from wraps of other nets. On layer gnd keep planes 0.5 mm (standard) from strips of platings of other nets."},
		{planes + "hole h diameter 1 mm at (9 mm, 9 mm) unplated\nfence f along north inset 2 mm pitch 3 mm hole 0.3 mm net V5",
			"On layers top, gnd and bottom keep planes 0.2 mm (standard) from vias of other nets. On layers top and bottom keep planes 0.25 mm (common practice) from unplated holes. On layer gnd keep planes 0.4 mm (standard) from unplated holes."},
		// Without a plane nothing is drawn round copper, but on inner layers round what is drilled through them.
		{"fence f along north inset 2 mm pitch 3 mm hole 0.3 mm net V5\nfeature f on gnd circle 1 mm at (9 mm, 9 mm)", "On layer gnd keep copper 0.2 mm (standard) from vias of other nets."},
		{"hole h diameter 1 mm at (9 mm, 9 mm) unplated", "On layers top and bottom keep copper 0.25 mm (common practice) from unplated holes. On layer gnd keep copper 0.4 mm (standard) from unplated holes."},
	} {
		assert.Equal(t, c.want, told(notes.Make(read(layered+c.text), notes.Figures{Room: room}), notes.Room), c.text)
	}
}

// Over a premetallised tab the wrap runs on, and its perforations go through it.
func TestRoomOfPerforationsInAWrap(t *testing.T) {
	const text = layered + "plating w { along north; wrap top 1 mm; wrap bottom 1 mm }\ntab t on north at 20 mm width 4 mm perforated hole 0.5 mm pitch 0.8 mm premetallised"
	assert.Equal(t, "On layers top and bottom keep copper, wraps aside, 0.25 mm (common practice) from perforations. On layer gnd keep copper 0.4 mm (standard) from perforations.",
		told(notes.Make(read(text), notes.Figures{Room: room}), notes.Room))
}

// The tab's note says that they are drilled through the faces' copper.
func TestPerforationsThroughTheFaces(t *testing.T) {
	const text = outline + "plating w { along north; wrap top 1 mm }\ntab t on north at 20 mm width 4 mm perforated hole 0.5 mm pitch 0.8 mm"
	said := about(notes.Make(read(text+" premetallised"), notes.Figures{}), notes.Sequence)
	assert.Contains(t, said, "into the frame, with the panel. Drill its perforations through the copper of the faces. There is no wall under it")
	assert.NotContains(t, about(notes.Make(read(text), notes.Figures{}), notes.Sequence), "through the copper")
	assert.Contains(t, about(notes.Make(read(outline+"plating w { along north }"), notes.Figures{}), notes.Sequence), "cut the bare stretches, and nothing of the plated ones.")
}

// Copper of other nets and bare board are told apart even where they are kept
// from by one distance.
func TestRoomOfOneDistance(t *testing.T) {
	one := copper.Distance{By: 0.2e6, Who: "standard"}
	b := read(layered + "plane on gnd net GND pullback 0.5 mm\nhole h diameter 1 mm at (9 mm, 9 mm) unplated\nfeature f on gnd circle 1 mm at (20 mm, 9 mm) net V5\nhole i diameter 1 mm at (30 mm, 9 mm) plated net V5")
	assert.Contains(t, about(notes.Make(b, notes.Figures{Room: copper.Room{Copper: one, EdgeOuter: one, EdgeInner: one}}), notes.Room),
		"On layer gnd keep planes 0.2 mm (standard) from features and plated holes of other nets.\nOn layer gnd keep planes 0.2 mm (standard) from unplated holes.")
}

// The note of what planes give way to comes from the planes and from what they
// give way to, each once.
func TestRoomComesFrom(t *testing.T) {
	b := read(layered + "plane on gnd net GND pullback 0.5 mm\nplane on top net GND pullback 0.5 mm\nfence f along north inset 2 mm pitch 3 mm hole 0.3 mm net V5\nfeature x on gnd circle 1 mm at (9 mm, 9 mm) net GND\nfence g along north inset 5 mm pitch 3 mm hole 0.3 mm net V5")
	for _, n := range notes.Make(b, notes.Figures{Room: room}) {
		if strings.Contains(n.Text, "of other nets") {
			assert.Equal(t, "On layers top and gnd keep planes 0.2 mm (standard) from vias of other nets.", n.Text)
			assert.Equal(t, []source.Place{b.Planes()[1].Keyword, b.Fences()[0].Keyword, b.Fences()[1].Keyword, b.Planes()[0].Keyword}, n.From)
		}
	}
}

// Copper of a wall's own net may meet the wall where the layer does not join it.
func TestCopperOfTheWallsNetMayMeetIt(t *testing.T) {
	for net, want := range map[string]string{"; net GND": "copper of other nets than GND", "": "copper"} {
		const text = layered + "feature c on gnd rectangle 1 mm by 1 mm at (30 mm, 0.5 mm) net GND\nplating wall { along south; wrap top 1 mm; wrap bottom 1 mm"
		list := about(notes.Make(read(text+net+" }"), notes.Figures{Room: room}), notes.Walls)
		assert.Equal(t, list, "On layer gnd keep "+want+" 0.5 mm (standard) from plating wall.")
	}
}

func TestContinuityNamesItsStretch(t *testing.T) {
	b := read(outline + wall)
	s := b.Wall(b.Outline()).Plated[0]
	list := notes.Make(b, notes.Figures{Continuity: []figures.Continuity{{Stretch: s, From: s.Profile.Path.At(s.From), To: s.Profile.Path.At(s.To), With: 0.0431, Without: math.Inf(1)}}})
	assert.Equal(t, "Measure the wall four-wire from end to end of stretch wall 1, the longest of its plating: at most 61 mΩ at 20 °C; agree the limit. Computed for even copper, stretch wall 1: about 43.1 mΩ; nothing but this wall joins the two points.", told(list, notes.Continuity))
}

// Where the resistance tells nothing, the note says what the criteria judge the wall
// by, or which tests can tell; a limit that they state stands with a warning.
func TestContinuityThatTellsNothing(t *testing.T) {
	for criteria, want := range map[string]string{
		"":                                  "Agree a test that can tell a wall from none: face to face on a stretch with no via beside it, a coupon whose wall is tied to nothing, or a microsection.",
		"criteria { coupon none }":          "Agree a test that can tell a wall from none: face to face",
		"criteria { coupon required }":      "2 mΩ with the wall, 3 mΩ without it, through the plane on layer top. Judge the wall by the coupon, where it is tied to nothing.",
		"criteria { microsection \"one\" }": "Judge the wall by the microsections.",
		"criteria { microsection \"one\"; coupon required }":      "Judge the wall by the coupon and the microsections.",
		"criteria { continuity maximum 5 mohm; coupon required }": "at most 5 mohm at 20 °C. At stretch wall 1 that limit may pass boards without that wall. Computed for even copper, stretch wall 1: about 2 mΩ with the wall, 3 mΩ without it, through the plane on layer top.",
	} {
		b := read(outline + wall + criteria)
		l := figures.Continuity{Stretch: b.Wall(b.Outline()).Plated[0], With: 0.002, Without: 0.003, Layers: []string{"top"}, Vias: true}
		assert.Contains(t, told(notes.Make(b, notes.Figures{Continuity: []figures.Continuity{l}}), notes.Continuity), want, criteria)
	}
}

// Where nothing that is stated joins the faces but the wall, as on a coupon, that is
// how it is measured; a plane, another wall, a via or a hole may join them.
func TestAWallThatAloneJoinsTheFaces(t *testing.T) {
	const asked = "Measure it four-wire from face to face, "
	for text, want := range map[string]string{
		"wrap top bottom 0.8 mm }": asked + "between its wraps, at the ends and middle of each stretch; agree the limit. Nothing else that is stated joins the faces; where the artwork does, agree another test.",
		"wrap top 0.8 mm }":        asked + "from its wrap to its rim on the bottom, at",
		"wrap bottom 0.8 mm }":     asked + "from its wrap to its rim on top, at",
		"}":                        asked + "between its rims, at",
		"wrap top bottom 0.8 mm }\ncriteria microsection \"one\"":                                            "agree another test. Judge the wall by the microsections.",
		"wrap top bottom 0.8 mm }\ncriteria coupon required":                                                 "Judge the wall by the coupon, where it is tied to nothing.",
		"wrap top bottom 0.8 mm }\nplane on top net GND pullback 0.5 mm":                                     "Agree a test",
		"wrap top bottom 0.8 mm }\nplating other along north net GND":                                        "Agree a test",
		"wrap top bottom 0.8 mm }\nhole m diameter 3.2 mm at (5 mm, 5 mm) plated land 4 mm net GND":          "Agree a test",
		"wrap top bottom 0.8 mm }\ncastellation h on south at 10 mm hole 0.8 mm land 1.2 mm by 1 mm net GND": "Agree a test",
		"wrap top bottom 0.8 mm }\ncastellation h on north at 10 mm hole 0.8 mm land 1.2 mm by 1 mm net GND": asked,
		"wrap top bottom 0.8 mm }\nfeature c on top rectangle 1 mm by 1 mm at (30 mm, 20 mm) net GND":        "Agree a test",
	} {
		b := read(outline + "plating wall { along south from 10 mm to 50 mm; net GND; " + text)
		l := figures.Continuity{Stretch: b.Wall(b.Outline()).Plated[0], With: 0.002, Without: 0.003}
		assert.Contains(t, told(notes.Make(b, notes.Figures{Continuity: []figures.Continuity{l}}), notes.Continuity), want, text)
		l.Vias = true
		assert.NotContains(t, told(notes.Make(b, notes.Figures{Continuity: []figures.Continuity{l}}), notes.Continuity), asked, text)
	}
	// A wall all round has no ends.
	b := read(outline + "cutout c circle 5 mm at (30 mm, 20 mm)\nplating wall along c.rim net GND wrap top bottom 0.8 mm")
	l := figures.Continuity{Stretch: b.Wall(b.Profiles()[1]).Plated[0], With: 0.002, Without: 0.003}
	assert.True(t, l.Stretch.Round())
	assert.Contains(t, told(notes.Make(b, notes.Figures{Continuity: []figures.Continuity{l}}), notes.Continuity), "Agree a test")
}

const foiled = "stack { copper top 35 um; dielectric d 1.53 mm; copper bottom 35 um }\nboard b { thickness 1.6 mm }\noutline rectangle 100 mm by 80 mm\n"

// noted is the note of continuity with the figures that belong to it.
func noted(t *testing.T, text string) string {
	t.Helper()
	b := read(text)
	l, ok := figures.Conduct(b).Continuity(b.Platings()[0])
	require.True(t, ok, text)
	return told(notes.Make(b, notes.Figures{Continuity: []figures.Continuity{l}}), notes.Continuity)
}

// The limit and the reason go by the figures that are printed: 49.3 is 2.14 times 23.
// A stated maximum that neither passes is not said to pass boards without the wall;
// what it does wrong is said: under 23/0.8 = 28.7 it may reject sound boards, over
// 49.3/1.2 = 41.1 it may pass ones without the wall.
func TestContinuityGoesByWhatItPrints(t *testing.T) {
	const walled = foiled + "plating wall { along south; net GND; copper 25 um; wrap top bottom 0.5 mm }\n"
	thick := strings.NewReplacer("35 um", "60 um", "1.53 mm", "1.48 mm").Replace(foiled)
	const figures = "Computed for even copper, stretch wall 1: about 23 mΩ with the wall, 49.3 mΩ without it, through its wraps"
	assert.Contains(t, noted(t, walled), ": at most 32.5 mΩ at 20 °C; agree the limit. "+figures+".")
	for limit, want := range map[string]string{
		"20 mohm":   " At stretch wall 1 that limit may reject sound boards (19.2 to 28.7 mΩ).",
		"28.6 mohm": " At stretch wall 1 that limit may reject sound boards (19.2 to 28.7 mΩ).",
		"29 mohm":   "", "41 mohm": "",
		"41.2 mohm": " At stretch wall 1 that limit may pass boards without that wall.",
	} {
		assert.Contains(t, noted(t, walled+"criteria { continuity maximum "+limit+" }"), ": at most "+limit+" at 20 °C."+want+" "+figures+".", limit)
	}
	// 12.7 and 18 mΩ with 60 µm and 0.8 mm: 15 to 15.8 does both.
	got := noted(t, thick+"plating wall { along south; net GND; copper 25 um; wrap top bottom 0.8 mm }\ncriteria { continuity maximum 15.5 mohm }")
	assert.Contains(t, got, " At stretch wall 1 that limit may reject sound boards (10.6 to 15.8 mΩ), and may pass boards without that wall. Computed for even copper, stretch wall 1: about 12.7 mΩ")
	assert.Contains(t, noted(t, thick+"plating wall { along south; net GND; copper 25 um; wrap top bottom 0.5 mm }"),
		"does not tell a wall from none. Computed for even copper, stretch wall 1: about 17.2 mΩ with the wall, 28.7 mΩ without it, through its wraps.")
}

// Planes that nothing joins: without the wall it is infinite, which tells best, and
// what that hangs on is said.
func TestContinuityOfPlanesThatNothingJoins(t *testing.T) {
	const two = foiled + "plating wall { along south; net GND; copper 25 um }\n" +
		"plane on top net GND pullback 0 mm within (0 mm, 0 mm) to (45 mm, 80 mm)\nplane on bottom net GND pullback 0 mm within (55 mm, 0 mm) to (100 mm, 80 mm)\n"
	for _, criteria := range []string{"", "criteria { continuity maximum 5 mohm }", "criteria { continuity maximum 1 ohm }"} {
		got := noted(t, two+criteria)
		assert.Contains(t, got, "Measure the wall four-wire", criteria)
		assert.Contains(t, got, "nothing but this wall joins the two points, as long as no vias join the planes on layers top and bottom", criteria)
		assert.NotRegexp(t, "Inf|NaN|does not tell|may pass", got, criteria)
	}
}

func TestTextAndMarkdown(t *testing.T) {
	assert.Contains(t, notes.Last, wording.Caution)
	b := read("board b { title \"A *star*\"; revision \"C\" }\nnote \"use <b> and net_1\"")
	list := notes.Make(b, notes.Figures{})
	var text, page strings.Builder
	require.NoError(t, notes.Text(&text, b, list, nil))
	require.NoError(t, notes.Markdown(&page, b, list, nil))
	assert.Equal(t, "Fabrication notes: A *star*, b, revision C\n\nFurther notes\n  1. use <b> and net_1\n  2. "+notes.Last+"\n", text.String())
	assert.Equal(t, "# Fabrication notes: A \\*star\\*, b, revision C\n\n## Further notes\n\n1. use \\<b> and net_1\n2. "+notes.Last+"\n", page.String())
}

// No text of the repository, broken ones included, stops the notes.
func TestNoTextStopsTheNotes(t *testing.T) {
	langtest.EveryText(t, "../../..", func(path string, a *lang.Analysis) {
		list := notes.Make(a.Board(), notes.Figures{})
		assert.Equal(t, notes.Last, list[len(list)-1].Text)
		for _, x := range list {
			assert.NotContains(t, x.Text, "NaN", path)
		}
	})
}
