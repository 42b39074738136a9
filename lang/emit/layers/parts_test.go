package layers

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/emit/bundle"
	"hemline/lang/emit/wording"
)

// fine is usual for a shop whose bits go down to 0.2 mm.
func fine() Options {
	o := usual
	o.RouterBit = 0.2 * mm
	return o
}

// made builds the files of a text and reads them back plainly.
func made(t *testing.T, text string, o Options) ([]bundle.File, map[string]reading) {
	t.Helper()
	files, err := Build(read(t, text), o)
	require.NoError(t, err)
	return files, readPlainly(t, files)
}

// exact is how far a sum of areas, mm², or lengths, mm, may be from what was
// worked by hand.
const exact = 1e-6

const plain = "board b { thickness 1 mm }\noutline rectangle 40 mm by 30 mm\n"

// A tab on metallised ground is no reason for an area free of copper; any other is.
func TestTabsOnMetallisedGround(t *testing.T) {
	const text = plain + `plating w { along south; net G; wrap top 0.1 mm; wrap bottom 0.1 mm }
gap g of w on south at middle width 4 mm
tab t on south at middle width 3 mm solid`
	// Two fifths of 3 mm are left by a bit of 1.6 mm, not by one of 2 mm. Free is 0.25 mm along the
	// gap and, for the tab, 0.25 mm deep on 0.6 mm beside it, of which 0.1 mm on each
	// side lie past the gap, less the wrap of 0.1 mm there. Both with the frame's 0.25 mm.
	frame := (40.0+30+30)*0.25 - 2*0.25*0.25 + 4*0.25
	_, all := made(t, text, usual)
	assert.Equal(t, map[string]float64{"1": 1.6}, all["rout_final.xnc"].Tools)
	assert.InDelta(t, frame-2*0.25*0.1+2*0.1*(0.25-0.1), all["copper_L1_top_free.gbr"].Area, exact)
	_, all = made(t, text+" premetallised", usual)
	assert.Equal(t, map[string]float64{"1": 1.6}, all["rout_final.xnc"].Tools)
	assert.InDelta(t, frame-2*0.25*0.1, all["copper_L1_top_free.gbr"].Area, exact)
}

// The faces' copper runs on over a premetallised tab; an inner layer keeps from
// its root, which is bare once the tab is cut.
func TestInnerLayersKeepFromTheRootOfATab(t *testing.T) {
	_, all := made(t, `stack { copper top 35 um; dielectric a 0.5 mm; copper one 35 um; dielectric b 0.5 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm
plating w { along south; net G; wrap top 1 mm; wrap bottom 1 mm; extend 0.1 mm }
plane on one net G pullback 2 mm
tab t on south at middle width 4 mm solid premetallised`, usual)
	top, one := all["copper_L1_top_add.gbr"], all["copper_L2_one_add.gbr"]
	assert.InDelta(t, 40*1, top.Inside, exact)
	assert.InDelta(t, 40*0.1, top.Area-top.Inside, exact)
	assert.InDelta(t, 36*2-2*0.4*2, one.Inside, exact, "less what it keeps from the bare edges at its ends")
	assert.InDelta(t, 36*0.1, one.Area-one.Inside, exact)
	frame := (40.0+30+30)*0.25 - 2*0.25*0.25
	assert.InDelta(t, frame-2*0.25*1, all["copper_L1_top_free.gbr"].Inside, exact, "less the wrap at its ends")
	_, narrow := made(t, plain+`plating w { along south; net G; wrap top 0.1 mm; wrap bottom 0.1 mm }
tab t on south at middle width 4 mm solid premetallised`, usual)
	assert.InDelta(t, frame-2*0.25*0.1, narrow["copper_L1_top_free.gbr"].Inside, exact, "no room is kept behind it")
	assert.InDelta(t, usual.EdgeInner.By/mm*4, all["copper_L2_one_free.gbr"].Inside-((40.0+30+30)*usual.EdgeInner.By/mm-2*usual.EdgeInner.By/mm*usual.EdgeInner.By/mm), exact)
}

// A bit goes into a cutout with sharp corners as into the narrowest of it.
func TestBitOfANarrowCutout(t *testing.T) {
	_, all := made(t, plain+"cutout s rectangle 8 mm by 1.3 mm at (20 mm, 15 mm)\ncutout c rectangle 8 mm by 6 mm at (20 mm, 22 mm)", usual)
	assert.Equal(t, map[string]float64{"1": 2.4, "2": 1.2}, all["rout_final.xnc"].Tools)
}

// No bit is thinner than the shop's thinnest, even where none in use fits.
func TestNoBitThinnerThanTheShopHas(t *testing.T) {
	o := usual
	o.RouterBit = 1.5 * mm
	_, err := Build(read(t, plain+"cutout s slot 8 mm by 1.3 mm at (20 mm, 15 mm)"), o)
	assert.ErrorContains(t, err, "all round s: no bit reaches it, down to 1.50 mm")
	_, all := made(t, plain+"cutout s slot 8 mm by 1.55 mm at (20 mm, 15 mm)", o)
	assert.Equal(t, map[string]float64{"1": 2.4, "2": 1.5}, all["rout_final.xnc"].Tools)
}

// Where a shop has bits thinner than the usual ones, a narrow cutout and a tight
// corner are cut by one that fits.
func TestThinBits(t *testing.T) {
	o := usual
	o.RouterBit = 0.25 * mm
	_, all := made(t, plain+"cutout s slot 8 mm by 0.75 mm at (20 mm, 15 mm)\ncutout c rectangle 8 mm by 6 mm corner 0.15 mm at (20 mm, 22 mm)\ncutout d rectangle 8 mm by 6 mm corner 0.1 mm at (20 mm, 6 mm)", o)
	assert.Equal(t, map[string]float64{"1": 2.4, "2": 0.7, "3": 0.3, "4": 0.25}, all["rout_final.xnc"].Tools)
}

// Mask is opened past the profile as far as the copper is drawn, on the face
// that was said and where the board is; in a slot as far as it has room.
func TestMaskOpenings(t *testing.T) {
	_, all := made(t, plain+`plating w { along south; net G; wrap top 1 mm; wrap bottom 1 mm; extend 0.8 mm }
relief r over w on bottom reach 2 mm`, usual)
	assert.InDelta(t, 40*2, all["mask_bottom_open.gbr"].Inside, exact)
	assert.InDelta(t, 40*(2+0.8), all["mask_bottom_open.gbr"].Area, exact)
	assert.NotContains(t, all, "mask_top_open.gbr")

	_, all = made(t, plain+`cutout c rectangle 4 mm by 2 mm at (20 mm, 3 mm)
plating w { along south; net G; wrap top 1 mm; wrap bottom 1 mm }
relief r over w on top reach 5 mm`, usual)
	assert.InDelta(t, 40*(5+0.5)-4*2, all["mask_top_open.gbr"].Area, exact, "a cutout in the way is no board")

	_, all = made(t, plain+`cutout s rectangle 8 mm by 0.4 mm at (20 mm, 15 mm)
plating w { along s.south; net G; wrap top 1 mm; wrap bottom 1 mm }
relief r over w on top reach 1 mm`, fine())
	assert.InDelta(t, 8*(1+0.25), all["mask_top_open.gbr"].Area, exact, "0.5 mm past the profile would reach over the slot; half of it does not")
}

// Past the profile the opening over a half hole follows a curved edge, wherever
// that starts: on the tangent it would lie on the board beside a half hole in
// the rim of a cutout.
func TestMaskOverHalfHolesOnACurve(t *testing.T) {
	const w, reach = 1.4 + 2*0.1, 1.2
	for _, c := range []struct {
		on, at string
		r      float64
		inside bool // the half hole is on the outline, from whose tangent the edge turns away
	}{{"c.rim", "3 mm", 2, false}, {"c.rim", "0.1 mm", 2, false}, {"rim", "7 mm", 15, true}, {"rim", "0.1 mm", 15, true}} {
		text := "outline circle 30 mm\ncutout c circle 4 mm at (0 mm, 0 mm)\ncastellation h on " + c.on + " at " + c.at +
			" hole 0.6 mm land 1.4 mm by 1.1 mm\nrelief o over h on top reach 1.2 mm margin 0.1 mm"
		b := read(t, text)
		_, all := made(t, text, usual)
		assert.Empty(t, Strays(b, 0), text)
		mask := all["mask_top_open.gbr"]
		// Of a rectangle on the tangent what lies past the edge, or what of the board lies
		// past the tangent.
		off := w*c.r - w/2*math.Sqrt(c.r*c.r-w*w/4) - c.r*c.r*math.Asin(w/2/c.r)
		far := c.r + 0.5
		if !c.inside {
			off, far = -off, c.r-0.5
		}
		assert.InDelta(t, w*reach-off+math.Abs(far*far-c.r*c.r)/2*w/c.r, mask.Area, exact, text)
	}
}

// Copper drawn past one side of a slot may reach over it where the other
// side's own copper lies.
func TestBothSidesOfASlot(t *testing.T) {
	_, all := made(t, plain+`cutout s rectangle 8 mm by 0.4 mm at (20 mm, 15 mm)
plating w { along s.south s.north; net G; wrap top 1 mm; wrap bottom 1 mm; extend 0.5 mm }`, fine())
	assert.InDelta(t, 8*(1+0.4+1), all["copper_L1_top_add.gbr"].Area, exact)
}

// Copper is free past the profile as far as the farthest of the platings on it is drawn.
func TestFreePastTheProfile(t *testing.T) {
	for _, extend := range [][2]string{{"0.3", "0.1"}, {"0.1", "0.3"}} {
		_, all := made(t, plain+`plating w { along south east; net G; wrap top 1 mm; wrap bottom 1 mm; extend `+extend[0]+` mm }
plating v { along north west; net H; wrap top 1 mm; wrap bottom 1 mm; extend `+extend[1]+` mm }
gap g of w on south at middle width 5 mm`, usual)
		free := all["copper_L1_top_free.gbr"]
		assert.InDelta(t, 5*1, free.Inside, exact, "a gap is as deep as the wrap")
		assert.InDelta(t, 5*0.3, free.Area-free.Inside, exact, extend)
	}
}

// On an inner layer a wall is tied to the planes of its net there, as deep as
// the farthest keeps away; one that it does not join is left alone.
func TestTiesToPlanes(t *testing.T) {
	for _, pullbacks := range [][2]string{{"2", "1.5"}, {"1.5", "2"}} {
		_, all := made(t, `board b { class 2 }
stack { copper top 35 um; dielectric a 0.5 mm; copper one 35 um; dielectric b 0.5 mm; copper two 35 um; dielectric c 0.5 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm
plating w { along south; net G; wrap top 1 mm; wrap bottom 1 mm; layers top one bottom }
plane on one net G pullback `+pullbacks[0]+` mm
plane on one net G pullback `+pullbacks[1]+` mm
plane on one net H pullback 3 mm
plane on two net G pullback 1 mm
castellation c on north at 10 mm hole 0.8 mm land 1.4 mm by 1.1 mm net G
castellation d on north at 20 mm hole 0.8 mm land 1.4 mm by 1.1 mm net X`, usual)
		assert.InDelta(t, (40-2*0.4)*2, all["copper_L2_one_add.gbr"].Area, exact, "less what it keeps from the bare edges at its ends")
		assert.NotContains(t, all, "copper_L3_two_add.gbr", "the wall does not join it")
		// Free are 0.4 mm along what is bare, and 0.2 mm round
		// the half hole that is of another net than the plane, past those 0.4 mm.
		const r, d = 0.4 + 0.2, 0.4
		beyond := r*r*math.Acos(d/r) - d*math.Sqrt(r*r-d*d)
		assert.InDelta(t, 40*0.4+2*(30-0.4)*0.4+beyond, all["copper_L2_one_free.gbr"].Inside, exact)
	}
}

// Planes in rectangles tie the wall where they touch it; where they end, others keep
// from it as from one that the layer does not join.
func TestTiesToPlanesInRectangles(t *testing.T) {
	_, all := made(t, `board b { class 2 }
stack { copper top 35 um; dielectric a 0.5 mm; copper one 35 um; dielectric b 0.5 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm
plating w { along all; net G; wrap top 1 mm; wrap bottom 1 mm; layers one }
plane on one net G pullback 2 mm within (10 mm, 0 mm) to (20 mm, 9 mm)
plane on one net G pullback 1 mm within (25 mm, 0.8 mm) to (30 mm, 9 mm)
plane on one net H pullback 3 mm within (0 mm, 10 mm) to (40 mm, 20 mm)
hole g diameter 1 mm at (15 mm, 1 mm) plated net H
hole h diameter 1 mm at (20 mm, 15 mm) plated net H
hole i diameter 1 mm at (30 mm, 15 mm) plated net G`, usual)
	hole := math.Pi * 0.7 * 0.7
	assert.InDelta(t, 10*2-hole, all["copper_L2_one_add.gbr"].Area, 1e-5)
	assert.InDelta(t, (2*40+2*29-10)*0.5+2*hole, all["copper_L2_one_free.gbr"].Inside, 1e-5)
}

// A plane keeps what it states from a wall of its net that does not join its
// layer, and so does the area that is free there; of another net's plane nothing follows.
func TestPlanesBesideAWallOfTheirNet(t *testing.T) {
	for pullback, free := range map[float64]float64{0.3: 0.3, 0.5: 0.5, 0.8: 0.5, 0: 0} {
		files, all := made(t, fmt.Sprintf(`board b { class 2 }
stack { copper top 35 um; dielectric a 0.5 mm; copper one 35 um; dielectric b 0.5 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm
plating w { along south; net G; wrap top 1 mm; wrap bottom 1 mm; layers one }
plating v { along north; net G; wrap top 1 mm; wrap bottom 1 mm; layers top bottom }
plating u { along east from 5 mm to 15 mm; net X; wrap top 1 mm; wrap bottom 1 mm }
plane on one net G pullback %g mm`, pullback), usual)
		// 0.4 mm along what is bare, 0.5 mm along the other net's wall, and less where
		// strips lie on each other.
		want := 50*0.4 + 10*0.5 + 40*free - 2*0.4*free
		assert.InDelta(t, want, all["copper_L2_one_free.gbr"].Inside, exact, "%g mm", pullback)
		assert.Equal(t, free < 0.5, strings.Contains(file(t, files, ReadmeName), "what the plane keeps from the profile"), "%g mm", pullback)
	}
}

// Each shape and each hole says what it is for and of which net, and no more.
func TestFunctionsAndNets(t *testing.T) {
	files, all := made(t, `board b { class 2 }
stack { copper "t%o*p" 35 um; dielectric a 1 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm
plating w { along south; net G; wrap top 1 mm; wrap bottom 1 mm; extend 0.5 mm }
castellation c on north from 10 mm to 20 mm pitch 10 mm hole 0.4 mm land 1.4 mm by 1.1 mm net X Y
castellation d on west at 15 mm hole 0.4 mm land 1.4 mm by 1.1 mm net Z
fence f along east inset 10 mm pitch 5 mm hole 0.4 mm net V land 0.6 mm added`, usual)
	assert.Equal(t, []string{"Conductor G", "CastellatedPad X", "CastellatedPad Y", "CastellatedPad Z", "ViaPad V", "ViaPad V", "ViaPad V", "Conductor G"}, all["copper_L1_t_o_p_add.gbr"].Labels)
	assert.Equal(t, []string{"Profile"}, all["profile.gbr"].Labels)
	drill := all["drill_plated.xnc"]
	assert.Equal(t, map[string]float64{"1": 0.4, "2": 0.4}, drill.Tools, "a half hole and a via are not drilled alike")
	// From 10 mm to 20 mm of the east edge: three vias.
	assert.Equal(t, []string{"CastellatedDrill X", "CastellatedDrill Y", "CastellatedDrill Z", "ViaDrill V", "ViaDrill V", "ViaDrill V"}, drill.Labels)
	assert.Contains(t, file(t, files, "copper_L2_bottom_add.gbr"), "%TF.FileFunction,Other,Edge copper to add on L2 Bot*%\n")
	assert.Contains(t, file(t, files, "copper_L1_t_o_p_add.gbr"), "%TF.FileFunction,Other,Edge copper to add on L1 Top*%\n")
	assert.Regexp(t, `%TF\.ProjectId,b,[0-9a-f-]{36},none\*%`, file(t, files, "profile.gbr"))
	assert.Contains(t, file(t, files, "profile.gbr"), "%TF.FileFunction,Profile,P*%\n")
	files, _ = made(t, plain, usual)
	assert.Contains(t, file(t, files, "profile.gbr"), "%TF.FileFunction,Profile,NP*%\n")
}

// The readme's figures are those of handWorked and of the limits.
func TestReadmeStatesFigures(t *testing.T) {
	files, _ := made(t, handWorked, usual)
	text := file(t, files, ReadmeName)
	assert.Contains(t, strings.Join(strings.Fields(text), " "), wording.Caution)
	for _, want := range []string{
		"\nThickness: 1.105 mm\n", // 3 layers of 35 µm and twice 0.5 mm
		"    T01  0.8 mm  half holes, holes: 1\n    T02  0.3 mm  added via fences, holes: 6\n",
		"    T01  0.5 mm  perforations of tabs, holes: 5\n",
		", paths: 3, 31.000 mm along the profile\n",
		"Kept free of copper: 0.25 mm from a bare edge on outer layers and 0.4 mm on inner\nones, 0.5 mm from a wall on inner layers that are not joined to it, 0.6 mm beside\ntabs,",
	} {
		assert.Contains(t, text, want)
	}
	for _, f := range files[:len(files)-1] {
		assert.Contains(t, text, "\n"+f.Name+"\n    "+f.About+"\n")
	}
}

func TestLongNamesAreCut(t *testing.T) {
	b := read(t, "board "+strings.Repeat("n", 40)+" { thickness 1 mm }")
	assert.Equal(t, strings.Repeat("n", 32), FileStem(b))
}

func TestABoardFarOffOnEitherSide(t *testing.T) {
	for _, x := range []string{"-5.1 m", "5.1 m"} {
		_, err := Build(read(t, "outline { start ("+x+", 0 mm); line a to (0 mm, 0 mm); line b to (0 mm, 30 mm); close c }"), usual)
		assert.ErrorContains(t, err, "farther than 5 m", x)
	}
}

// A tab's root is what the routs leave uncut, on plated and on bare edges, and
// the readme says so; the copper over a premetallised tab is drilled through.
func TestRoutsEndAtTheRoots(t *testing.T) {
	const text = plain + `plating w { along south; net G; wrap top 1 mm; wrap bottom 1 mm; extend 0.1 mm }
tab t on south at middle width 4 mm perforated hole 0.5 mm pitch 0.8 mm premetallised
tab u on north at middle width 3 mm solid`
	files, all := made(t, text, usual)
	// Two runs of 18 mm, each led to and off aside: 1.6 mm along, half a millimetre out.
	aside := math.Hypot(1.6, 0.5)
	assert.InDelta(t, 40-4+4*aside, all["rout_plated.xnc"].Length, exact)
	// Round two sharp corners the bit's middle rolls a quarter of 0.8 mm.
	assert.InDelta(t, 40+30+30-3+math.Pi*0.8+4*aside, all["rout_final.xnc"].Length, exact)
	assert.Equal(t, map[string]float64{"1": 1.6}, all["rout_final.xnc"].Tools, "one bit for one profile")
	read := file(t, files, ReadmeName)
	assert.Contains(t, read, "its root, on the profile, has its width")
	assert.Contains(t, read, "The copper that runs on over a premetallised tab is drilled through.\n")
	files, _ = made(t, strings.Replace(text, "perforated hole 0.5 mm pitch 0.8 mm", "solid", 1), usual)
	assert.NotContains(t, file(t, files, ReadmeName), "drilled through")
}

// Mask is taken off as far as reliefs say, and where they do not as far as the
// copper of each face and the margin more: over several things, for parts of edges.
func TestMaskOfReliefs(t *testing.T) {
	o := usual
	o.MaskMargin = 0.1 * mm
	inside := func(relief string) [2]float64 {
		_, all := made(t, plain+`plating w { along south; along west from 0 mm to 20 mm; net G; wrap top 0.5 mm; wrap bottom 0.8 mm }
castellation c on east at 10 mm hole 1 mm land 2 mm by 1.5 mm net A
`+relief, o)
		return [2]float64{all["mask_top_open.gbr"].Inside, all["mask_bottom_open.gbr"].Inside}
	}
	one := func(want float64, relief string) { assert.InDelta(t, want, inside(relief)[0], exact, relief) }
	one(40*0.6+20.1*0.6-0.6*0.6, "relief r over w on top along south west margin 0.1 mm")
	one(40*0.6+20.1*0.6-0.6*0.6+2.2*1.6, "relief r over w c on top")
	one(2.2*1.6, "relief r over c on top")
	one(10*0.6, "relief r over w on top along south from 10 mm to 20 mm")
	one(10.1*0.6, "relief r over w on top along west from 10 mm to 30 mm")
	one(10*1, "relief r over w on top along south from 10 mm to 20 mm reach 1 mm")
	both := inside("relief r over w on top bottom along south from 10 mm to 20 mm")
	assert.InDelta(t, 10*0.6, both[0], exact)
	assert.InDelta(t, 10*0.9, both[1], exact, "as far as the wrap of its face")
	one(5.1*0.6, "plating v { along north from 10 mm to 20 mm; net G; wrap top 0.5 mm; wrap bottom 0.8 mm }\nrelief r over v on top along north from 8 mm to 15 mm")
	round := func(edges string) float64 {
		_, all := made(t, `stack { copper top 35 um; dielectric a 1.5 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm corner 2 mm
plating w { along south west; net G; wrap top 0.6 mm; wrap bottom 0.6 mm }
relief r over w on top margin 0 mm along `+edges, usual)
		return all["mask_top_open.gbr"].Inside
	}
	assert.InDelta(t, 36*0.6, round("south"), exact)
	assert.InDelta(t, 36*0.6+26*0.6+math.Pi/4*(2*2-1.4*1.4), round("west south"), 1e-4, "the rounded corner between two edges that are named is opened too")
}

// Lands of half holes are drawn on the layers that have them.
func TestLandsOfHalfHoles(t *testing.T) {
	_, all := made(t, `stack { copper top 35 um; dielectric a 0.5 mm; copper one 35 um; dielectric b 0.5 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm
castellation c on west from 10 mm to 14 mm pitch 2 mm except from 12 mm to 12 mm hole 0.6 mm land 1 mm by 1.5 mm layers one bottom
relief r over c on top bottom margin 0 mm`, usual)
	assert.NotContains(t, all, "copper_L1_top_add.gbr")
	assert.NotContains(t, all, "mask_top_open.gbr")
	assert.InDelta(t, 2*1.5, all["copper_L2_one_add.gbr"].Inside, 0.6)
	assert.InDelta(t, all["copper_L2_one_add.gbr"].Inside, all["copper_L3_bottom_add.gbr"].Inside, exact)
	assert.InDelta(t, 2*1.5, all["mask_bottom_open.gbr"].Inside, exact)
}

// The pads and the holes of a fence's vias are the artwork's own, unless the text says that
// they are not in it yet.
func TestPadsOfVias(t *testing.T) {
	const fence = plain + "fence f along south from 10 mm to 14 mm inset 2 mm pitch 2 mm hole 0.3 mm land 0.6 mm net G"
	_, all := made(t, fence, usual)
	assert.NotContains(t, all, "copper_L1_top_add.gbr")
	assert.NotContains(t, all, "drill_plated.xnc", "and it drills them")
	_, all = made(t, fence+" added", usual)
	assert.Len(t, all["drill_plated.xnc"].Pads, 3)
	for _, name := range []string{"copper_L1_top_add.gbr", "copper_L2_bottom_add.gbr"} {
		assert.InDelta(t, 3*math.Pi*0.3*0.3, all[name].Inside, 1e-3, name)
		assert.Equal(t, []string{"ViaPad G", "ViaPad G", "ViaPad G"}, all[name].Labels)
	}
}

// Vias that are to be added have pads on the faces and on the inner layers on which a
// plane of their net lies where they stand; on the others copper keeps from their holes,
// and on all planes of other nets keep from pads.
func TestPadsOfAddedVias(t *testing.T) { eachReader(t, padsOfAddedVias) }

func padsOfAddedVias(t *testing.T, readAll reader) {
	t.Helper()
	build := func(fence string) map[string]reading {
		files, err := Build(read(t, `stack { copper top 35 um; dielectric a 0.4 mm; copper one 35 um; dielectric b 0.4 mm; copper two 35 um; dielectric c 0.4 mm; copper three 35 um; dielectric d 0.4 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm
plane on one net G pullback 1 mm
plane on two net G pullback 1 mm within (0 mm, 0 mm) to (11 mm, 30 mm)
plane on two net H pullback 1 mm within (12 mm, 0 mm) to (40 mm, 30 mm)
plane on bottom net H pullback 1 mm
`+fence), usual)
		require.NoError(t, err)
		return readAll(t, files)
	}
	// Vias at 10, 15 and 20 mm, 3 mm inside.
	const fence = "fence f along south from 10 mm to 20 mm inset 3 mm pitch 5 mm hole 0.3 mm land 0.6 mm "
	disc := func(d float64) float64 { return math.Pi * d * d / 4 }
	near := func(want, got float64, what string) { assert.InDelta(t, want, got, 1e-3, what) }
	none, all := build(""), build(fence+"net G added")
	assert.Equal(t, [][3]any{{"1", 10.0, 3.0}, {"1", 15.0, 3.0}, {"1", 20.0, 3.0}}, all["drill_plated.xnc"].Pads)
	for name, pads := range map[string]float64{"L1_top": 3, "L2_one": 3, "L3_two": 1, "L5_bottom": 3} {
		near(pads*disc(0.6), all["copper_"+name+"_add.gbr"].Area, name)
	}
	assert.NotContains(t, all, "copper_L4_three_add.gbr", "no plane lies there")
	free := func(name string) float64 {
		return all["copper_"+name+"_free.gbr"].Inside - none["copper_"+name+"_free.gbr"].Inside
	}
	near(0, free("L1_top"), "no plane lies there")
	near(0, free("L2_one"), "all of their own plane")
	near(2*disc(0.3+2*0.2), free("L3_two"), "two of them in the other net's rectangle")
	near(3*disc(0.3+2*0.2), free("L4_three"), "all drilled through")
	near(3*(disc(0.6+2*0.2)-disc(0.6)), free("L5_bottom"), "the other net's plane keeps from pads")

	all = build(fence + "net G")
	for _, name := range []string{"copper_L1_top_add.gbr", "copper_L2_one_add.gbr", "drill_plated.xnc"} {
		assert.NotContains(t, all, name, "what the artwork has is not added")
	}
	all = build(fence + "added")
	near(3*disc(0.6), all["copper_L1_top_add.gbr"].Area, "of no net")
	assert.NotContains(t, all, "copper_L2_one_add.gbr", "joins nothing")
	near(3*disc(0.3+2*0.2), free("L2_one"), "keeps from it")
}

// The last pass is named where tabs are routed off, and added vias where there are any.
func TestReadmeNamesTheLastPass(t *testing.T) {
	const tab = "tab t on north at 20 mm width 4 mm solid"
	said := func(text string) string {
		files, _ := made(t, plain+text, usual)
		return strings.Join(strings.Fields(file(t, files, ReadmeName)), " ")
	}
	assert.Contains(t, said(tab+" removal rout"), "; rout_tabs.xnc last of all, over the tabs that are routed off.")
	assert.NotContains(t, said(tab), "rout_tabs.xnc last of all")
	row := said("castellation c on west at 15 mm hole 0.6 mm land 1 mm by 1 mm net A")
	assert.Contains(t, row, "before plating: half holes, with their middles on the profile; finished diameters")
	assert.NotContains(t, row, "added via fences")
}
