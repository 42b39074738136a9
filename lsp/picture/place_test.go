package picture

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/emit/scene"
)

func TestThePointThatAMessageNames(t *testing.T) {
	for message, want := range map[string]*scene.Point{
		"the wrap meets the bare edge at (32.00 mm, 29.20 mm); standard asks": {X: 32, Y: 29.2},
		"at (1 in, -50 mil) and at (3 mm, 4 mm)":                              {X: 25.4, Y: -1.27},
		"at (250 um, 0.00 mm)":                                                {X: 0.25, Y: 0},
		"at (2 GHz, 3 mm)":                                                    nil,
		"at (1.2.3 mm, 3 mm)":                                                 nil,
		"at (1 furlong, 3 mm)":                                                nil,
		"tab c at 9 mm":                                                       nil,
		"a slot that (3 mm, 4 mm) lies in":                                    nil,
	} {
		assert.Equal(t, want, pointIn(message), message)
	}
}

// framed writes a text, and gives the frame of it.
func framed(t *testing.T, text string) Frame {
	t.Helper()
	path := filepath.Join(t.TempDir(), "b.hem")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return frameOf(t, path)
}

func only(t *testing.T, f Frame, rule string) (list []Finding) {
	t.Helper()
	for _, x := range f.Findings {
		if x.Rule == rule {
			list = append(list, x)
		}
	}
	require.NotEmpty(t, list, "%v", f.Findings)
	return list
}

// A finding of a rounded corner stands on that corner, one of a point there.
func TestFindingsStandWhereTheyAre(t *testing.T) {
	f := frameOf(t, "../../examples/broken/sensor_neck.hem")
	corner := only(t, f, "corner_too_sharp")[0]
	require.NotNil(t, corner.At)
	assert.InDelta(t, 46-0.0879, corner.At.X, 0.01, "the round of 0.3 mm by (46, 24)")
	assert.InDelta(t, 24+0.0879, corner.At.Y, 0.01)
	at := only(t, f, "tab_gap_tight")[0].At
	require.NotNil(t, at)
	assert.InDelta(t, 20.5, at.X, 1e-9)
	assert.InDelta(t, 30, at.Y, 1e-9)
	assert.Nil(t, only(t, f, "slot_narrow")[0].At, "at its item")
}

// What is found of a member of a row is marked at that member.
func TestFindingsOfARowStandAtTheirMembers(t *testing.T) {
	f := framed(t, "outline rectangle 60 mm by 30 mm\nplating w { along south; net GND; copper 25 um; wrap top bottom 0.8 mm; extend 0.1 mm }\n"+
		"tab a on south at 3 mm, 30 mm width 3 mm solid opens margin 0.5 mm\n")
	for _, x := range only(t, f, "tab_corner") {
		assert.Contains(t, x.Message, "a.1")
		for _, id := range x.Items {
			assert.NotContains(t, id, "a.2")
		}
		assert.True(t, strings.Contains(strings.Join(x.Items, " "), "a.1"))
	}
}

// Planes keep clear of copper of other nets, and no other of them.
func TestPlanesGiveWay(t *testing.T) {
	f := framed(t, "stack { copper top 35 um; dielectric a 0.5 mm; copper in1 35 um; dielectric b 0.5 mm; copper bottom 35 um }\noutline rectangle 60 mm by 30 mm\n"+
		"hole h diameter 1 mm at (20 mm, 15 mm) plated net GND land 2 mm\nplane on in1 net V3 pullback 1 mm\nplane on bottom net GND pullback 1 mm\n")
	less := map[string]int{}
	for _, i := range f.Scene.Items {
		for _, p := range i.Parts {
			if p.Role != scene.Plane {
				continue
			}
			for _, l := range p.Less {
				if l.Start.X > 19 && l.Start.X < 22 && l.Start.Y > 14 && l.Start.Y < 16 {
					less[p.Layer]++
				}
			}
		}
	}
	assert.Equal(t, map[string]int{"in1": 1}, less)
}
