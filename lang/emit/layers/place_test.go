package layers

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/emit/bundle"
	"hemline/lang/geom"
)

// movable is a board whose every coordinate is stated, moved by so many nm.
func movable(x, y int64) string {
	at := func(px, py float64) string {
		return fmt.Sprintf("(%d nm, %d nm)", int64(px*mm)-x, int64(py*mm)-y)
	}
	return `board "moved" { revision "A" }
stack { copper top 35 um; dielectric a 0.5 mm; copper one 35 um; dielectric b 0.5 mm; copper bottom 35 um }
outline { start ` + at(0, 0) + `; line south to ` + at(40, 0) + `; arc east to ` + at(40, 30) + ` around ` + at(40, 15) + `; line north to ` + at(0, 30) + `; close west }
cutout c circle 6 mm at ` + at(30, 15) + `
plating w { along south; along c.rim from 1.3 mm to 11.7 mm; net G; wrap top 1 mm; wrap bottom 1 mm; extend 0.2 mm }
castellation h on west at 15 mm hole 0.8 mm land 1.4 mm by 1.1 mm net X
relief r over w h on top
plane on one net G pullback 1.5 mm
feature f on top rectangle 2 mm by 1 mm at ` + at(10, 15) + ` net X
hole g diameter 3.2 mm at ` + at(5, 5) + ` plated net G land 5 mm
hole u diameter 2 mm at ` + at(5, 25) + ` unplated
fence v along north from 10 mm to 30 mm inset 3 mm pitch 2 mm hole 0.3 mm land 0.6 mm net G added
tab t on north at middle width 4 mm perforated hole 0.5 mm pitch 0.8 mm
tab s on east at 3 mm width 3 mm solid
`
}

// withoutPlace leaves out of files what says where their coordinates count from, and
// the checksum over that.
func withoutPlace(files []bundle.File) map[string]string {
	said := regexp.MustCompile(`(?m)^.*(?:\(0, 0\) (?:of every file )?is the point|%TF\.MD5).*$`)
	all := map[string]string{}
	for _, f := range files {
		all[f.Name] = said.ReplaceAllString(string(f.Data), "")
	}
	return all
}

// An origin is a move of all there is: the files are to the byte those of a text that is
// drawn from that point, whatever the point.
func TestAnOriginMovesAllAlike(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 14))
	for range 12 {
		x, y := r.Int64N(200e6)-100e6, r.Int64N(200e6)-100e6
		o := usual
		o.Origin = geom.Point{X: float64(x), Y: float64(y)}
		moved, err := Build(read(t, movable(0, 0)), o)
		require.NoError(t, err)
		drawn, err := Build(read(t, movable(x, y)), usual)
		require.NoError(t, err)
		assert.Equal(t, withoutPlace(drawn), withoutPlace(moved), "%d nm, %d nm", x, y)
		assert.NotEqual(t, drawn, moved, "they say where they count from")
	}
}

func TestReadersSeeTheOrigin(t *testing.T) { eachReader(t, readersSeeTheOrigin) }

func readersSeeTheOrigin(t *testing.T, readAll reader) {
	t.Helper()
	o := usual
	o.Origin = geom.Point{X: -7.5 * mm, Y: 12 * mm}
	files, err := Build(read(t, handWorked), o)
	require.NoError(t, err)
	all := readAll(t, files)
	assert.InDeltaSlice(t, []float64{7.5, -12, 57.5, 18}, all["profile.gbr"].Bounds, 1e-9)
	assert.Contains(t, all["drill_plated.xnc"].Pads, [3]any{"1", 7.5, 8.0}, "the half hole at (0, 20)")
	assert.Contains(t, all["drill_unplated.xnc"].Pads, [3]any{"1", 32.5, 17.9}, "a perforation at (25, 29.9)")
	for _, f := range files {
		assert.Contains(t, string(f.Data), "is the point (-7.5 mm, 12 mm) of the board's text", f.Name)
	}
}

func TestOriginOutOfReach(t *testing.T) {
	b := read(t, plain) // 40 mm by 30 mm
	build := func(x, y float64) error {
		o := usual
		o.Origin = geom.Point{X: x * mm, Y: y * mm}
		_, err := Build(b, o)
		return err
	}
	assert.NoError(t, build(2040, 30), "2 m off the board")
	assert.NoError(t, build(0, -2000))
	assert.EqualError(t, build(2040.001, 0), "origin (2040.001 mm, 0 mm): it lies 2.000 m off the board, farther than the 2 m that any artwork has its origin off; check its unit")
	assert.EqualError(t, build(10, -12000), "origin (10 mm, -12000 mm): it lies 12.000 m off the board, farther than the 2 m that any artwork has its origin off; check its unit")
	assert.ErrorContains(t, build(1e300, 0), "off the board, farther than")
	far := read(t, "outline { start (-4.9 m, 0 mm); line a to (0 mm, 0 mm); line b to (0 mm, 30 mm); close c }")
	o := usual
	o.Origin = geom.Point{X: 1000 * mm}
	_, err := Build(far, o)
	assert.ErrorContains(t, err, "outline reaches farther than 5 m from the origin")
}

func TestParseOrigin(t *testing.T) {
	for text, want := range map[string]geom.Point{
		"10mm,5mm":         {X: 10 * mm, Y: 5 * mm},
		" 10 mm , -5 mm ":  {X: 10 * mm, Y: -5 * mm},
		"-1 in,100mil":     {X: -25.4 * mm, Y: 2.54 * mm},
		"0 mm,0.000001 mm": {X: 0, Y: 1},
	} {
		p, err := ParseOrigin(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want.X, p.X, 1e-6, text)
		assert.InDelta(t, want.Y, p.Y, 1e-6, text)
	}
	for _, text := range []string{"", ",", "10mm", "10,5", "10 mm 5 mm", "10mm,5mm,0mm", "10mm,5GHz", "--1mm,0mm", "+1mm,0mm", "(1mm,2mm)", "x,y", "10 mm,5%", "1e999mm,0mm", "\xff,1mm"} {
		_, err := ParseOrigin(text)
		assert.ErrorContains(t, err, "expected two lengths with units, as 10mm,5mm", text)
	}
}

// idents are what the files of a board carry in .SameCoordinates, each once.
func idents(t *testing.T, text string, p Place) (list []string) {
	t.Helper()
	o := usual
	o.Place = p
	files, err := Build(read(t, text), o)
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, f := range files[:len(files)-1] {
		m := regexp.MustCompile(`(?m)^(?:%|; #@! )TF\.SameCoordinates,(.*?)(?:\*%)?$`).FindAllStringSubmatch(string(f.Data), -1)
		require.Len(t, m, 1, f.Name)
		if !seen[m[0][1]] {
			list = append(list, m[0][1])
		}
		seen[m[0][1]] = true
	}
	return list
}

// The ident that is stated is in every file, letter for letter; where none is, all files of a
// board share one, and no board that lies otherwise has it.
func TestSameCoordinates(t *testing.T) {
	const text = plain + "plating w { along south; net G; wrap top 1 mm; wrap bottom 1 mm }\nhole h diameter 2 mm at (20 mm, 15 mm) unplated"
	assert.Equal(t, []string{`2-\u002C x`}, idents(t, text, Place{Same: `2-\u002C x`}))
	own := idents(t, text, Place{})
	require.Len(t, own, 1)
	assert.Regexp(t, `^[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$`, own[0])
	assert.Equal(t, own, idents(t, text+"\nrelief r over w on top", Place{}), "the same place")
	for what, other := range map[string][]string{
		"another origin":  idents(t, text, Place{Origin: geom.Point{X: 1}}),
		"another outline": idents(t, strings.Replace(text, "30 mm", "30.000001 mm", 1), Place{}),
		"another board":   idents(t, strings.Replace(text, "board b", "board c", 1), Place{}),
		"arcs as lines":   idents(t, strings.Replace(text, "40 mm by 30 mm", "40 mm by 30 mm corner 1 mm", 1), Place{}),
	} {
		assert.NotEqual(t, own, other, what)
	}
}

func TestCheckSame(t *testing.T) {
	for _, good := range []string{"a", "Sheet 1", "61275a81-cfce-51cf-b5f8-ef4e06b2af28", `a\u002Cb`, `\U0001F600`, "größe"} {
		assert.NoError(t, CheckSame(good), good)
	}
	for _, bad := range []string{"", " ", "a,b", "a*", "50%", "a\nb", "a\x7f", `a\b`, `\u12`, "\xff", "\u0085"} {
		assert.ErrorContains(t, CheckSame(bad), "letter for letter", "%q", bad)
	}
}

// Names of any letters stand in the files escaped, as the format escapes them, and are
// read back as they were; they end no comment and no line.
func TestOddNames(t *testing.T) {
	files, all := made(t, `board "a*b%c,d\\µ😀" { revision "é" }
stack { copper "µ*%" 35 um; dielectric d 1 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm
plating w { along south; net "+3V3*µ,%"; wrap top 1 mm; wrap bottom 1 mm; extend 0.1 mm }
castellation c on north at 10 mm hole 0.4 mm land 1.4 mm by 1.1 mm net "N%,*"`, usual)
	name := `a\u002Ab\u0025c\u002Cd\u005C\u00B5\U0001F600`
	for _, f := range files[:len(files)-1] {
		assert.Contains(t, string(f.Data), "TF.ProjectId,"+name+",", f.Name)
		assert.Contains(t, string(f.Data), `,\u00E9`, f.Name)
		assert.Regexp(t, `^[\n -~]*$`, string(f.Data), f.Name)
		assert.Regexp(t, `^[A-Za-z0-9_-]+\.(gbr|xnc)$`, f.Name)
	}
	assert.Contains(t, all["copper_L1_____add.gbr"].Labels, `Conductor +3V3\u002A\u00B5\u002C\u0025`)
	assert.Equal(t, []string{`CastellatedDrill N\u0025\u002C\u002A`}, all["drill_plated.xnc"].Labels)
}

// The flag is of the contour that the file shows, the outline.
func TestProfileIsPlatedWhereItsContourIs(t *testing.T) {
	for plated, want := range map[string]string{
		"":                                "NP",
		"along c.rim":                     "NP",
		"along south from 10 mm to 12 mm": "P",
		"along c.rim; along south from 10 mm to 12 mm": "P",
	} {
		text := plain + "cutout c circle 6 mm at (20 mm, 15 mm)\n"
		if plated != "" {
			text += "plating w { " + plated + "; net G; wrap top 1 mm; wrap bottom 1 mm }\n"
		}
		files, all := made(t, text, usual)
		assert.Contains(t, file(t, files, "profile.gbr"), "%TF.FileFunction,Profile,"+want+"*%\n", plated)
		assert.Equal(t, 1, all["profile.gbr"].Regions, "cutouts are in the rout files")
	}
	files, _ := made(t, plain+"castellation c on north at 10 mm hole 0.4 mm land 1.4 mm by 1.1 mm net X", usual)
	assert.Contains(t, file(t, files, "profile.gbr"), "%TF.FileFunction,Profile,NP*%\n", "half holes are no plated edge")
}
