package layers

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/board"
	"hemline/lang/emit/bundle"
	"hemline/lang/rout"
)

// What independent readers make of the files: gerber-parser with
// gerber-plotter the shapes, @tracespace/parser the attributes, shapely the
// areas. `npm ci` in testdata/readers brings the readers. The checker replaces
// arcs by chords, 256 a circle, so areas are off by up to a ten thousandth of
// a circle's.
type reading struct {
	Area, Inside, Shared, Length float64
	Margin                       float64 // of a mask, from copper to add; the independent readers' alone
	Bounds                       []float64
	Regions                      int
	Units                        string
	Tools                        map[string]float64
	Pads                         [][3]any
	Widths                       []float64
	Warnings                     []string
	Labels                       []string // of each region or hole, its function and net; the plain reader's alone
	Second                       struct {
		Attributes []string
		Filetype   string
		Counts     map[string]any
	}
}

func readBack(t *testing.T, files []bundle.File) map[string]reading {
	t.Helper()
	if _, err := os.Stat("testdata/readers/node_modules/gerber-plotter"); err != nil {
		require.Empty(t, os.Getenv("HEMLINE_CI"), "the readers are needed where HEMLINE_CI is set: npm ci in testdata/readers")
		t.Skip("no readers; npm ci in testdata/readers installs them")
	}
	if err := exec.Command("/usr/bin/python3", "-c", "import shapely").Run(); err != nil {
		require.Empty(t, os.Getenv("HEMLINE_CI"), "shapely is needed where HEMLINE_CI is set")
		t.Skip("python3-shapely is not installed")
	}
	run := func(in []byte, name string, args ...string) []byte {
		var out, failed bytes.Buffer
		cmd := exec.Command(name, args...)
		cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(in), &out, &failed
		require.NoError(t, cmd.Run(), failed.String())
		return out.Bytes()
	}
	found := run(nil, "node", "testdata/readers/read.mjs", write(t, files))
	var all map[string]reading
	require.NoError(t, json.Unmarshal(run(found, "/usr/bin/python3", "testdata/readers/areas.py"), &all))
	require.Len(t, all, len(files)-1, "every file but the readme is read")
	for name, r := range all {
		assert.Equal(t, "mm", r.Units, name)
		for _, w := range r.Warnings { // attributes are beyond the first reader
			assert.Regexp(t, `block "%T[FAOD].*not recognized`, w, name)
		}
	}
	return all
}

// reader reads files back, by their names.
type reader func(*testing.T, []bundle.File) map[string]reading

// eachReader runs a test by the plain reader, which is always there, and by the
// independent ones, where they are installed.
func eachReader(t *testing.T, test func(*testing.T, reader)) {
	t.Run("plain", func(t *testing.T) { test(t, readPlainly) })
	t.Run("independent", func(t *testing.T) { test(t, readBack) })
}

// images are all that Build writes as Gerber files, by file name.
func images(t *testing.T, b *board.Board) map[string]image {
	m := newMaker(b, usual)
	list := []image{m.profile()}
	for _, l := range m.levels {
		add, err := m.add(l)
		require.NoError(t, err)
		list = append(list, add, m.free(l, add))
	}
	for _, f := range board.Faces {
		mask, err := m.mask(f)
		require.NoError(t, err)
		list = append(list, mask)
	}
	named := map[string]image{}
	for _, i := range list {
		named[i.name+".gbr"] = i
	}
	return named
}

func TestReadersSeeTheModel(t *testing.T) { eachReader(t, readersSeeTheModel) }

func readersSeeTheModel(t *testing.T, readAll reader) {
	t.Helper()
	for _, name := range []string{"receiver", "beacon_module", "ground_strip", "mast_ring"} {
		t.Run(name, func(t *testing.T) {
			b := example(t, name)
			files, err := Build(b, usual)
			require.NoError(t, err)
			all := readAll(t, files)
			shown := images(t, b)
			for file, r := range all {
				if !strings.HasSuffix(file, ".gbr") {
					continue
				}
				i := shown[file]
				assert.InDelta(t, covered(i), r.Area, 1e-6+covered(i)*3e-4, file)
				assert.Less(t, r.Shared, 1e-3, "%s: copper to add lies where none may be", file)
				assert.Equal(t, "gerber", r.Second.Filetype)
				assert.Equal(t, []any{4.0, 6.0}, r.Second.Counts["format"])
				assert.Contains(t, r.Second.Attributes, "%TF.FileFunction,"+i.function+"*%", file)
				assert.Contains(t, r.Second.Attributes, "%TF.Part,Single*%", file)
				assert.Contains(t, r.Second.Attributes, "%TF.FilePolarity,Positive*%", file)
			}
			outline := b.Outline().Path.Box()
			assert.InDeltaSlice(t, []float64{outline.Min.X / mm, outline.Min.Y / mm, outline.Max.X / mm, outline.Max.Y / mm}, all["profile.gbr"].Bounds, 1e-3)
			bits := rout.BitsOf(b, usual.RouterBit)
			for name, kind := range map[string]rout.Kind{"rout_plated.xnc": rout.First, "rout_final.xnc": rout.Final, "rout_tabs.xnc": rout.Removal} {
				long := 0.0
				for _, p := range bits.Passes(kind) {
					for _, g := range slices.Concat(p.In, p.Path, p.Out) {
						long += g.Length() / mm
					}
				}
				assert.InDelta(t, long, all[name].Length, 1e-3, name)
			}
		})
	}
}

// Worked by hand from the examples' texts.
func TestReadersSeeWhatTheTextSays(t *testing.T) { eachReader(t, readersSeeWhatTheTextSays) }

func readersSeeWhatTheTextSays(t *testing.T, readAll reader) {
	t.Helper()
	strip, err := Build(example(t, "ground_strip"), usual)
	require.NoError(t, err)
	all := readAll(t, strip)
	// 110 mm less three gaps of 5 mm are plated: a wrap of 1.2 mm inside, 0.5 mm past the profile.
	assert.InDelta(t, 95*(1.2+0.5), all["copper_L1_top_add.gbr"].Area, 1e-6)
	assert.InDelta(t, 95*1.2, all["copper_L1_top_add.gbr"].Inside, 1e-6)
	assert.Contains(t, all["copper_L1_top_add.gbr"].Second.Attributes, "%TO.N,CHASSIS*%")
	assert.InDelta(t, 95*1.3, all["mask_bottom_open.gbr"].Inside, 1e-6)
	// Four runs of 95 mm; each of their eight ends is short by half of 2.4·sin 15°, and
	// each run is led to and off aside: 2.4 mm along, half a millimetre out.
	short, aside := 1.2*math.Sin(math.Pi/12), math.Hypot(2.4, 0.5)
	assert.InDelta(t, 95-8*short+8*aside, all["rout_plated.xnc"].Length, 1e-4)
	// A bit of 2.4 mm leaves two fifths of a tab of 4 mm. In each gap of 5 mm one
	// is left to cut; on the other sides each tab's root takes 4 mm.
	assert.Equal(t, map[string]float64{"1": 2.4}, all["rout_final.xnc"].Tools)
	around := 2*(120-2) + 2*(25-2) + 2*math.Pi*1 - 110.0
	// Six of half a millimetre beside tabs, and six round the rest, short at its two
	// ends; round the corners the bit's middle is 1.2 mm farther out.
	assert.InDelta(t, 6*(0.5-short)+around+2*math.Pi*1.2-5*4-2*short+24*aside, all["rout_final.xnc"].Length, 1e-4)
	// Eight tabs of 4 mm with holes of 0.5 mm at 0.8 mm: five holes each.
	assert.Equal(t, map[string]float64{"1": 0.5}, all["drill_unplated.xnc"].Tools)
	assert.Len(t, all["drill_unplated.xnc"].Pads, 40)
	assert.Contains(t, all["drill_unplated.xnc"].Second.Attributes, "TF.FileFunction,NonPlated,1,2,NPTH,Drill")
	assert.Contains(t, all["drill_unplated.xnc"].Second.Attributes, "TA.AperFunction,MechanicalDrill,BreakOut")

	module, err := Build(example(t, "beacon_module"), usual)
	require.NoError(t, err)
	all = readAll(t, module)
	assert.Len(t, all["drill_plated.xnc"].Pads, 15)
	assert.Equal(t, []any{"1", 0.0, 2.5}, all["drill_plated.xnc"].Pads[0][:])
	assert.Contains(t, all["drill_plated.xnc"].Second.Attributes, "TA.AperFunction,CastellatedDrill")
	// North edge: 20 mm less its corners and a gap of 9 mm, joined to the plane of its net 1.6 mm
	// inside; fifteen lands of 1.2 by 1.1 mm.
	assert.InDelta(t, 10*1.6+15*1.2*1.1, all["copper_L2_bottom_add.gbr"].Inside, 1e-6)

	receiver := example(t, "receiver")
	files, err := Build(receiver, usual)
	require.NoError(t, err)
	all = readAll(t, files)
	assert.InDelta(t, receiver.WrapArea(receiver.Platings()[0], board.Top)/mm/mm, all["copper_L1_top_add.gbr"].Inside, 0.01)
	assert.NotContains(t, all, "copper_L3_power_add.gbr", "the supply is kept away from the wall")
	assert.Contains(t, all, "copper_L3_power_free.gbr")
	// Three launches of 5 mm and twelve half millimetres beside tabs, by a bit of 1.6 mm.
	short, aside = 0.8*math.Sin(math.Pi/12), math.Hypot(1.6, 0.5)
	assert.InDelta(t, 3*(5-2*short)+12*(0.5-short)+30*aside, all["rout_final.xnc"].Length, 1e-4)
}

// handWorked is a board whose layers are worked out by hand below. Its south
// edge is plated from 5 to 45 mm less two gaps: 3, 15.5 and 12.5 mm, 31 of a
// profile of 160 mm.
const handWorked = `board b { class 2 }
stack { copper top 35 um; dielectric a 0.5 mm; copper inner 35 um; dielectric b 0.5 mm; copper bottom 35 um }
outline rectangle 50 mm by 30 mm
plating w { along south from 5 mm to 45 mm; net GND; copper 25 um; wrap top 0.8 mm; wrap bottom 0.6 mm; extend 0.3 mm; layers top bottom }
gap g of w on south at 10 mm width 4 mm
gap h of w on south at 30 mm width 5 mm for rf
connector rf on south at 30 mm { body 9 mm; pin top width 1.2 mm length 3 mm }
tab t on north at 25 mm width 4 mm perforated hole 0.5 mm pitch 0.8 mm inset 0.1 mm
tab u on south at 10 mm width 2 mm solid
castellation c on west at 20 mm hole 0.8 mm land 1.4 mm by 1.1 mm net X
relief r over w on top reach 0.9 mm margin 0.2 mm
relief s over c on top reach 1.3 mm margin 0.1 mm
fence f along east inset 2 mm pitch 5 mm hole 0.3 mm land 0.5 mm net GND added`

func TestReadersSeeWhatWasWorkedByHand(t *testing.T) { eachReader(t, readersSeeWhatWasWorkedByHand) }

func readersSeeWhatWasWorkedByHand(t *testing.T, readAll reader) {
	t.Helper()
	files, err := Build(read(t, handWorked), usual)
	require.NoError(t, err)
	all := readAll(t, files)
	const chords = 1e-3 // of half a circle of 1.8 mm, of arcs replaced by chords

	// Copper to add on top: 0.8 mm of wrap and 0.3 mm past the profile along 31
	// mm, a land, and the pads of six vias.
	const pads = 6 * math.Pi * 0.25 * 0.25
	assert.InDelta(t, 31*0.8+1.4*1.1+pads, all["copper_L1_top_add.gbr"].Inside, chords)
	assert.InDelta(t, 31*(0.8+0.3)+1.4*1.1+pads, all["copper_L1_top_add.gbr"].Area, chords)
	assert.InDelta(t, 31*0.6+1.4*1.1+pads, all["copper_L3_bottom_add.gbr"].Inside, chords)
	assert.NotContains(t, all, "copper_L2_inner_add.gbr", "the inner layer is not joined")

	// To keep free on top: 0.25 mm along what is bare, corners once; the gaps as
	// deep as the wrap, 0.8 mm, less the pin's 1.2 mm in it; at the perforated tab, with
	// 0.6 mm on each side of it, as deep as its holes reach, 0.1 + 0.25, and 0.25 more;
	// the land is copper.
	frame := 160*0.25 - 4*0.25*0.25 - 31*0.25
	gaps := (4+5)*(0.8-0.25) - 1.2*0.8
	tab := (4 + 2*0.6) * (0.1 + 0.25 + 0.25 - 0.25)
	assert.InDelta(t, frame+gaps+tab-1.4*0.25, all["copper_L1_top_free.gbr"].Inside, 1e-6)
	// On the bottom the wrap is 0.6 mm, and no pin lies there.
	assert.InDelta(t, frame+(4+5)*(0.6-0.25)+tab-1.4*0.25, all["copper_L3_bottom_free.gbr"].Inside, 1e-6)

	// Inside, 0.4 mm along what is bare and 0.5 mm along the wall, which the layer is
	// not joined to; the tab 0.1 + 0.25 + 0.4 deep; and 0.2 mm round the half hole
	// of 0.8 mm, of which half lies on the board: less the part within the frame's 0.4 mm;
	// and 0.2 mm round six vias.
	const r, d = 0.4 + 0.2, 0.4
	beyond := r*r*math.Acos(d/r) - d*math.Sqrt(r*r-d*d)
	inner := 160*0.4 - 4*0.4*0.4 - 31*0.4 + 31*0.5 + (4+2*0.6)*(0.1+0.25+0.4-0.4) + beyond + 6*math.Pi*0.35*0.35
	assert.InDelta(t, inner, all["copper_L2_inner_free.gbr"].Inside, chords)

	// Mask: each of the three stretches is opened 0.2 mm longer at both ends; the land
	// 0.1 mm wider on both sides; and all of that 0.5 mm past the profile.
	assert.InDelta(t, (31+3*2*0.2)*0.9+(1.4+2*0.1)*1.3, all["mask_top_open.gbr"].Inside, 1e-6)
	assert.InDelta(t, (31+3*2*0.2)*(0.9+0.5)+(1.4+2*0.1)*(1.3+0.5), all["mask_top_open.gbr"].Area, 1e-6)
	assert.NotContains(t, all, "mask_bottom_open.gbr")

	// The fence keeps as far from the edge's ends as from the profile: 2, 7, ... 27 mm.
	drill := all["drill_plated.xnc"]
	assert.Equal(t, map[string]float64{"1": 0.8, "2": 0.3}, drill.Tools)
	var vias [][3]any
	for _, y := range []float64{2, 7, 12, 17, 22, 27} {
		vias = append(vias, [3]any{"2", 48.0, y})
	}
	assert.Equal(t, append([][3]any{{"1", 0.0, 20.0}}, vias...), drill.Pads)
	// Five holes 0.8 mm apart about the tab's middle, 0.1 mm inside.
	var holes [][3]any
	for _, x := range []float64{23.4, 24.2, 25, 25.8, 26.6} {
		holes = append(holes, [3]any{"1", x, 29.9})
	}
	assert.ElementsMatch(t, holes, all["drill_unplated.xnc"].Pads)
}

// At a sharp corner a strip along one edge reaches over the next one: what
// leaves the board is taken away again.
func TestReadersSeeNothingOffTheBoard(t *testing.T) { eachReader(t, readersSeeNothingOffTheBoard) }

func readersSeeNothingOffTheBoard(t *testing.T, readAll reader) {
	t.Helper()
	b := read(t, `board "a/b*c" { thickness 1 mm }
outline { start (0 mm, 0 mm); line floor to (40 mm, 0 mm); line slope to (5 mm, 12 mm); close back }
cutout eye rectangle 3 mm by 3 mm corner 1 mm at (12 mm, 3 mm)
plating w { along floor slope; net "N,1"; wrap top 2 mm; wrap bottom 1 mm }
plating v { along eye.south eye.east eye.north eye.west; net M; wrap top 1 mm; wrap bottom 1 mm; extend 0.1 mm }
relief r over w on top reach 3 mm`)
	files, err := Build(b, usual)
	require.NoError(t, err)
	all := readAll(t, files)
	add := all["copper_L1_top_add.gbr"]
	wraps := b.WrapArea(b.Platings()[0], board.Top) + b.WrapArea(b.Platings()[1], board.Top)
	assert.Greater(t, wraps/mm/mm, add.Inside, "the two wraps overlap")
	assert.InDelta(t, covered(images(t, b)["copper_L1_top_add.gbr"]), add.Area, 0.01)
	if add.Bounds != nil {
		assert.GreaterOrEqual(t, add.Bounds[1], 0.0, "nothing lies off the board")
		assert.LessOrEqual(t, add.Bounds[2], 40.0)
	}
	assert.Contains(t, add.Second.Attributes, `%TO.N,N\u002C1*%`)
	assert.Contains(t, add.Second.Attributes[1], `%TF.ProjectId,a/b\u002Ac,`)
	// Past the profile alone 0.1 mm in the eye's inside: a ring's area.
	// What lies off the board would be more.
	outside := add.Area - add.Inside
	assert.InDelta(t, 0, outside, 1e-3)
}

func TestFilesAreTheSameEveryTime(t *testing.T) {
	for _, name := range []string{"receiver", "mast_ring"} {
		one, err := Build(example(t, name), usual)
		require.NoError(t, err)
		two, err := Build(example(t, name), usual)
		require.NoError(t, err)
		assert.Equal(t, one, two)
		for _, f := range one {
			assert.NotContains(t, string(f.Data), "CreationDate", f.Name)
			assert.Equal(t, filepath.Base(f.Name), f.Name)
		}
	}
}
