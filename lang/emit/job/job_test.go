package job_test

import (
	"encoding/json"
	"path"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/job"
	"hemline/lang/emit/layers"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

var day = time.Date(2026, 3, 4, 5, 6, 7, 0, time.UTC)

// read reads a job file back, by the format's own keys alone.
func read(t *testing.T, b *board.Board, files []bundle.File) map[string]any {
	t.Helper()
	data, err := job.Make(b, job.Options{Version: "0.0.0", Created: day, Files: files}).JSON()
	require.NoError(t, err)
	var out map[string]any
	require.NoError(t, json.Unmarshal(data, &out))
	return out
}

// attribute reads what a layer file says of itself.
func attribute(data []byte, name string) string {
	m := regexp.MustCompile(`(?m)^%TF\.` + name + `,(.*)\*%$`).FindSubmatch(data)
	if m == nil {
		return ""
	}
	return string(m[1])
}

// What the job file says of each layer file is what that says of itself, of every
// example: function, polarity, project, part. It lists all of them and nothing else.
func TestTheJobSaysWhatTheFilesDo(t *testing.T) {
	n := 0
	for _, s := range langtest.Examples(t, "../../..") {
		b := s.Analyze().Board()
		files, err := layers.Build(b, layers.Options{Version: "0.0.0", Created: day})
		if err != nil {
			continue // a broken one that cannot be drawn
		}
		files = bundle.Under("layers", files)
		j := read(t, b, files)
		listed := map[string]map[string]any{}
		for _, x := range j["FilesAttributes"].([]any) {
			f := x.(map[string]any)
			assert.NotContains(t, listed, f["Path"], s.Name())
			listed[f["Path"].(string)] = f
		}
		specs := j["GeneralSpecs"].(map[string]any)
		project := specs["ProjectId"].(map[string]any)
		for _, f := range files {
			if path.Ext(f.Name) != ".gbr" {
				assert.NotContains(t, listed, f.Name, s.Name())
				continue
			}
			n++
			require.Contains(t, listed, f.Name, s.Name())
			assert.Equal(t, attribute(f.Data, "FileFunction"), listed[f.Name]["FileFunction"], "%s %s", s.Name(), f.Name)
			assert.Equal(t, attribute(f.Data, "FilePolarity"), listed[f.Name]["FilePolarity"], "%s %s", s.Name(), f.Name)
			assert.Equal(t, strings.Split(attribute(f.Data, "ProjectId"), ","), []string{project["Name"].(string), project["GUID"].(string), project["Revision"].(string)}, s.Name())
			assert.Equal(t, attribute(f.Data, "CreationDate"), j["Header"].(map[string]any)["CreationDate"])
			if function := listed[f.Name]["FileFunction"].(string); !strings.HasPrefix(function, "Profile,") {
				assert.True(t, strings.HasPrefix(function, "Other,"), "%s: no whole layer is claimed", function)
			}
			delete(listed, f.Name)
		}
		assert.Empty(t, listed, s.Name())
	}
	assert.Greater(t, n, 80)
}

func of(t *testing.T, text string) *board.Board {
	t.Helper()
	a := lang.Analyze(source.New("b.hem", text), nil, nil)
	require.Empty(t, a.Findings())
	return a.Board()
}

// Only what is so is said: no finish of the board where only the edge has one, no
// thickness that is not stated, and the edge is plated where the outline is.
func TestOnlyWhatIsSo(t *testing.T) {
	specs := func(text string) map[string]any { return read(t, of(t, text), nil)["GeneralSpecs"].(map[string]any) }
	plain := specs("outline rectangle 60 mm by 1600 mil")
	assert.Equal(t, map[string]any{"X": 60.0, "Y": 40.64}, plain["Size"])
	assert.Equal(t, 2.0, plain["LayerNumber"])
	for _, absent := range []string{"BoardThickness", "Finish", "ImpedanceControlled"} {
		assert.NotContains(t, plain, absent)
	}
	assert.Equal(t, false, plain["EdgePlating"])
	assert.Equal(t, false, plain["Castellated"])
	edge := specs("board b { thickness 1.6 mm; impedance none }\noutline rectangle 60 mm by 40 mm\nplating w along south net GND copper 25 um finish ENIG")
	assert.NotContains(t, edge, "Finish")
	assert.Equal(t, []any{1.6, false, true}, []any{edge["BoardThickness"], edge["ImpedanceControlled"], edge["EdgePlating"]})
	inside := specs("board b { finish OSP; impedance \"50 ohm\" }\noutline rectangle 60 mm by 40 mm\ncutout c rectangle 10 mm by 10 mm at (30 mm, 20 mm)\nplating w along c.south net GND copper 25 um\ncastellation h on north at middle hole 0.8 mm land 1.2 mm by 1 mm net GND")
	assert.Equal(t, []any{"OSP", true, false, true}, []any{inside["Finish"], inside["ImpedanceControlled"], inside["EdgePlating"], inside["Castellated"]})
	// A tab whose root is bare once it is cut takes no plating from the outline.
	assert.Equal(t, true, specs("outline circle 30 mm\nplating w along rim net GND copper 25 um\ntab t on rim at 0 mm width 3 mm solid premetallised")["EdgePlating"])
}

// The stack is the text's, top first, thicknesses in mm.
func TestTheStackIsTheTexts(t *testing.T) {
	j := read(t, of(t, `stack { copper "top" 35 um; dielectric core 10 mil permittivity 4.3 loss 0.02 material "FR-4"; copper bottom 1 oz }`+"\noutline rectangle 60 mm by 40 mm"), nil)
	assert.Equal(t, []any{
		map[string]any{"Type": "Copper", "Name": "top", "Thickness": 0.035},
		map[string]any{"Type": "Dielectric", "Name": "core", "Thickness": 0.254, "DielectricConstant": 4.3, "LossTangent": 0.02, "Material": "FR-4"},
		map[string]any{"Type": "Copper", "Name": "bottom", "Thickness": j["MaterialStackup"].([]any)[2].(map[string]any)["Thickness"]},
	}, j["MaterialStackup"])
	assert.InDelta(t, 0.0348, j["MaterialStackup"].([]any)[2].(map[string]any)["Thickness"], 0.0003) // 1 oz, IPC-4562, from memory: 34.3 to 34.8 µm
	assert.Equal(t, 2.0, j["GeneralSpecs"].(map[string]any)["LayerNumber"])
}
