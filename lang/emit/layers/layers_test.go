package layers

import (
	"crypto/md5"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/emit/bundle"
	"hemline/lang/langtest"
)

func file(t testing.TB, files []bundle.File, name string) string {
	t.Helper()
	for _, f := range files {
		if f.Name == name {
			return string(f.Data)
		}
	}
	require.Fail(t, "no file "+name)
	return ""
}

func TestHeader(t *testing.T) {
	o := usual
	o.Same = `of\u002Cthe artwork`
	var err error
	o.Created, err = ParseDate("2026-03-04T05:06:07+01:00")
	require.NoError(t, err)
	files, err := Build(example(t, "receiver"), o)
	require.NoError(t, err)
	text := file(t, files, "copper_L2_ground_add.gbr")
	want := `%TF.GenerationSoftware,hemline,hemline,0.0.0*%
%TF.CreationDate,2026-03-04T04:06:07+00:00*%
%TF.ProjectId,slope_receiver,61275a81-cfce-51cf-b5f8-ef4e06b2af28,B*%
%TF.Part,Single*%
%TF.FileFunction,Other,Edge copper to add on L2 Inr*%
%TF.SameCoordinates,of\u002Cthe artwork*%
%TF.FilePolarity,Positive*%
%FSLAX46Y46*%
%MOMM*%
`
	assert.Equal(t, want, text[:len(want)])
	assert.Contains(t, text, "%TA.AperFunction,Conductor*%\n%TO.N,GND*%\nG36*\n")
	for _, f := range files {
		if strings.HasSuffix(f.Name, ".gbr") {
			before, after, ok := strings.Cut(string(f.Data), "%TF.MD5,")
			require.True(t, ok, f.Name)
			sum := md5.Sum([]byte(strings.ReplaceAll(before, "\n", "")))
			assert.Equal(t, fmt.Sprintf("%x*%%\nM02*\n", sum), after, f.Name)
		}
		if strings.HasSuffix(f.Name, ".xnc") {
			assert.Contains(t, string(f.Data), "; #@! TF.CreationDate,2026-03-04T04:06:07+00:00\n")
			assert.True(t, strings.HasSuffix(string(f.Data), "M30\n"))
		}
	}
}

func TestArcsStayArcs(t *testing.T) {
	files, err := Build(example(t, "mast_ring"), usual)
	require.NoError(t, err)
	profile := file(t, files, "profile.gbr")
	assert.Contains(t, profile, "G75*")
	assert.Equal(t, 2, strings.Count(profile, "I-25000000")+strings.Count(profile, "I25000000"), "a circle in two halves")
	assert.Len(t, regexp.MustCompile(`D01\*`).FindAllString(profile, -1), 2)
	rout := file(t, files, "rout_plated.xnc")
	assert.Contains(t, rout, "G02X", "in a cutout clockwise, the board to the left")
	assert.NotContains(t, rout, "G03X")
	assert.Contains(t, file(t, files, "rout_final.xnc"), "G03X", "round the outline counterclockwise")
}

func TestOneBitForEachRoom(t *testing.T) {
	b := read(t, `board b { thickness 1 mm }
outline rectangle 40 mm by 30 mm
cutout a slot 8 mm by 1.7 mm at (10 mm, 15 mm)
cutout c rectangle 9 mm by 9 mm corner 1 mm at (25 mm, 15 mm)
plating w { along south; net G; wrap top 1 mm; wrap bottom 1 mm; copper 25 um }
gap g of w on south at middle width 6 mm
tab t on south at middle width 4 mm solid`)
	files, err := Build(b, usual)
	require.NoError(t, err)
	final := file(t, files, "rout_final.xnc")
	assert.Contains(t, final, "T01C2.4\n", "the outline: two fifths of 4 mm are left of the tab")
	assert.Contains(t, final, "T02C1.6\n", "the slot of 1.7 mm")
	assert.Contains(t, final, "T03C2.0\n", "corners of 1 mm")
	assert.Contains(t, final, "G01X17.310583Y-1.2\nG01X18.0Y-1.2\n", "from half of 2.4·sin 15° past the plated end to the tab's root")
}

func TestFolderNames(t *testing.T) {
	b := read(t, `board "../../etc" { revision "a,b" }
stack { copper "../top" 35 um; dielectric d 1 mm; copper "b/o\\t" 35 um }
outline rectangle 40 mm by 30 mm
plating w { along south; net G; wrap top 1 mm; wrap bottom 1 mm }`)
	files, err := Build(b, usual)
	require.NoError(t, err)
	for _, f := range files {
		assert.Regexp(t, `^[A-Za-z0-9_-]+\.(gbr|xnc|txt)$`, f.Name)
	}
	assert.Equal(t, "______etc", FileStem(b))
	file(t, files, "copper_L1____top_add.gbr")
}

func TestWhatCannotBeDrawn(t *testing.T) {
	_, err := Build(read(t, `board b { thickness 1 mm }`), usual)
	assert.ErrorIs(t, err, ErrNoOutline)
	_, err = Build(read(t, "outline rectangle 40 mm by 30 mm\ncutout s rectangle 8 mm by 0.4 mm at (20 mm, 15 mm)\n"+
		"plating w { along s.south; net G; wrap top 1 mm; wrap bottom 1 mm; extend 0.5 mm }"), usual)
	assert.ErrorContains(t, err, "plating w: copper drawn 0.50 mm past the profile reaches over an opening")
	_, err = Build(read(t, "outline rectangle 6 m by 30 mm"), usual)
	assert.ErrorContains(t, err, "farther than 5 m")
	_, err = ParseDate("yesterday")
	assert.ErrorContains(t, err, `date "yesterday": expected a day`)
}

// No text of the repository, broken ones included, stops the layers.
func TestNoTextStopsTheLayers(t *testing.T) {
	built := 0
	langtest.EveryText(t, "../../..", func(path string, a *lang.Analysis) {
		files, err := Build(a.Board(), usual)
		if err != nil {
			return // it says which statement cannot be drawn
		}
		built++
		for _, f := range files {
			assert.NotContains(t, string(f.Data), "NaN", "%s: %s", path, f.Name)
			assert.NotContains(t, string(f.Data), "Inf", "%s: %s", path, f.Name)
		}
	})
	assert.Greater(t, built, 300)
}

func TestEveryLevelIsWritten(t *testing.T) {
	b := read(t, `stack { copper only 35 um; dielectric d 1 mm }
outline rectangle 40 mm by 30 mm
plating w { along south; net G; wrap top 1 mm; wrap bottom 2 mm }
tab t on north at middle width 4 mm perforated hole 0.5 mm pitch 1 mm inset 0.1 mm`)
	files, err := Build(b, usual)
	require.NoError(t, err)
	file(t, files, "copper_L2_bottom_add.gbr")
	assert.Contains(t, file(t, files, "drill_unplated.xnc"), "X18.5Y29.9\n")
	// The tab's zone is as deep as its holes reach, 0.1 + 0.25 mm, and the clearance.
	assert.Contains(t, file(t, files, "copper_L1_only_free.gbr"), "Y29400000")
}
