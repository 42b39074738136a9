package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// reliefs is a board of many short platings, four in five along its edges and
// the rest on cutouts, each with its mask taken off on both faces.
func reliefs(platings int) string {
	each := platings / 5
	var b strings.Builder
	fmt.Fprintf(&b, `hem 1
board reliefs_bench { thickness 1.6 mm }
outline rectangle %[1]d mm by %[1]d mm
leave tab_places to shop because "its usual frame"
`, each*6+12)
	plate := func(name, along string) {
		fmt.Fprintf(&b, "plating %[1]s { along %[2]s; net GND; copper 25 um; wrap top 0.8 mm; wrap bottom 0.8 mm; extend 0.5 mm; finish ENIG }\n"+
			"relief lid_%[1]s over %[1]s on top bottom reach 0.9 mm\n", name, along)
	}
	for i := range each {
		for _, edge := range []string{"south", "east", "north", "west"} {
			plate(fmt.Sprintf("%s%d", edge, i), fmt.Sprintf("%s from %d mm to %d mm", edge, 6*i+8, 6*i+11))
		}
		fmt.Fprintf(&b, "cutout c%[1]d slot 8 mm by 3 mm at (%d mm, %d mm)\n", i, 12*(i%(each/3))+20, 12*(i/(each/3))+20)
		plate(fmt.Sprintf("inner%d", i), fmt.Sprintf("c%d.rim from 2 mm to 6 mm", i))
	}
	return b.String()
}

// beside is a board of many short platings along its edges, each with a cutout
// of its own beside it.
func beside(platings int) string {
	each := platings / 4
	size := float64(each)*1.9 + 12
	var b strings.Builder
	fmt.Fprintf(&b, `hem 1
fabricator bench {
  offers edge_plating
  limit span_length minimum 0.5 mm
  limit gap_width minimum 1 mm
  limit neck minimum 0.5 mm
}
board beside_bench { thickness 1.6 mm }
outline rectangle %[1]g mm by %[1]g mm
leave tab_places to shop because "its usual frame"
`, size)
	for i := range each {
		at := 1.9*float64(i) + 7
		for _, edge := range []string{"south", "east", "north", "west"} {
			x, y := at, 4.0
			if edge == "east" || edge == "west" {
				x, y = y, x
			}
			switch edge {
			case "east":
				x = size - x
			case "north":
				y = size - y
			}
			fmt.Fprintf(&b, "plating %[1]s%[2]d { along %[1]s from %[3]g mm to %[4]g mm; net GND; copper 25 um; wrap top 0.4 mm; wrap bottom 0.4 mm; extend 0.2 mm; finish ENIG }\n"+
				"cutout hole_%[1]s%[2]d circle 1.2 mm at (%[5]g mm, %[6]g mm)\n", edge, i, at-0.4, at+0.4, x, y)
		}
	}
	return b.String()
}

// runs is a board of many short platings that a plane of their net runs to.
func runs(platings int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "board runs_bench { thickness 1.6 mm }\noutline rectangle %d mm by 40 mm\nleave tab_places to shop because \"its usual frame\"\nplane on top net GND pullback 1 mm\n", 4*platings+20)
	for i := range platings {
		fmt.Fprintf(&b, "plating p%d { along south from %d mm to %d mm; net GND; copper 25 um; wrap top 0.8 mm; wrap bottom 0.8 mm; extend 0.2 mm }\n", i, 4*i+4, 4*i+6)
	}
	return b.String()
}

// Boards of very many statements, through what reads them whole.
func BenchmarkLarge(b *testing.B) {
	shops := filepath.Join("..", "..", "examples", "shops", "standard.hem")
	for _, board := range []struct {
		name, text string
	}{
		{"reliefs1500", reliefs(1500)},
		{"beside10000", beside(10_000)},
		{"runs1100", runs(1100)},
	} {
		folder := b.TempDir()
		path := filepath.Join(folder, board.name+".hem")
		require.NoError(b, os.WriteFile(path, []byte(board.text), 0o666))
		out := filepath.Join(folder, "out")
		for _, c := range []struct {
			name string
			args []string
		}{
			{"check", []string{"check", path}},
			{"layers", []string{"layers", path, "-o", out}},
			{"drawSVG", []string{"draw", path, "-o", out + ".svg"}},
			{"drawPDF", []string{"draw", path, "-o", out + ".pdf"}},
			{"drawPNG", []string{"draw", path, "-o", out + ".png"}},
			{"pack", []string{"pack", path, "-o", out + ".zip", "--despite"}},
			{"shops", []string{"shops", path, "--with", shops}},
			{"report", []string{"report", path}},
			{"notes", []string{"notes", path}},
			{"queries", []string{"queries", path}},
		} {
			b.Run(board.name+"/"+c.name, func(b *testing.B) {
				for b.Loop() {
					require.NotEqual(b, exitFailed, run(c.args, &streams{out: &strings.Builder{}, err: &strings.Builder{}}))
				}
			})
		}
	}
}
