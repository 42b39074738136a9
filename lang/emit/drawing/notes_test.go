package drawing

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks/report"
	"hemline/lang"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/wording"
	"hemline/lang/rout"
	"hemline/lang/source"
)

// The receiver's notes take three lines each of the column that they stand in, 122 mm
// wide.
func TestNotesTakeThreeLines(t *testing.T) {
	f, err := source.Read("../../../examples/receiver.hem")
	require.NoError(t, err)
	a := lang.Analyze(f, source.Read, nil)
	sections := notes.Sections(notes.Make(a.Board(), report.NoteFigures(a, nil)))
	x := author{b: a.Board(), scene: scene.Build(a.Board(), 0), o: Options{Notes: sections}}
	rows := x.notes()
	w := rows.widths(column)
	n := 0
	for i, row := range rows.rows {
		assert.LessOrEqual(t, len(cells(row, w, rows.heading(i))[1]), 3, row[1])
		if !rows.heading(i) {
			n++
			assert.Equal(t, fmt.Sprint(n), row[0])
		}
	}
	assert.Equal(t, len(rows.rows), n+len(sections))
}

// Headings stand in bold above what is under them, and never last in a column.
func TestNotesHaveHeadings(t *testing.T) {
	var sections []wording.Section
	for i := range 30 {
		sections = append(sections, wording.Section{Heading: fmt.Sprintf("Heading %d", i), Lines: []string{"a line", strings.Repeat("a longer line ", i)}})
	}
	sheets := drawn(t, example(t, "receiver"), Options{Format: "A4", Notes: sections})
	found := 0
	for _, s := range sheets {
		for _, h := range s.Texts {
			if !strings.HasPrefix(h.S, "Heading ") {
				continue
			}
			found++
			assert.True(t, h.Bold, h.S)
			below := false
			for _, x := range s.Texts {
				below = below || x.S == "a line" && x.At.X == h.At.X && h.At.Y-x.At.Y < 2*lineH && x.At.Y < h.At.Y
			}
			assert.True(t, below, "%s stands alone at the end of a column", h.S)
		}
	}
	assert.Equal(t, 30, found)
}

// The tables are told of a board without an outline too, and those that the sheets
// have are the same.
func TestTablesAreTheSheets(t *testing.T) {
	b := example(t, "front_end")
	words := ""
	cut := rout.BitsOf(b, 0.8*mm).Tab
	for _, s := range drawn(t, b, Options{Cut: cut}) {
		for _, x := range s.Texts {
			words += x.S + "\n"
		}
	}
	list := Tables(b, scene.Build(b, 0), cut)
	assert.Len(t, list, 13)
	for _, x := range list {
		assert.Contains(t, words, x.Title)
		for _, row := range x.Rows {
			assert.Len(t, row, len(x.Head))
			assert.Contains(t, words, "\n"+strings.Fields(row[0])[0])
		}
	}
	bare := read(t, "marking \"lot\" on top at (1 mm, 2 mm)")
	assert.Equal(t, []wording.Table{{Title: "Marks by the shop (mm)", Head: []string{"mark", "face", "centre x, y"}, Rows: [][]string{{"lot", "top", "1, 2"}}}}, Tables(bare, scene.Build(bare, 0), nil))
}

// A finish is told with the thicknesses of its layers.
func TestPlatingsTellTheirFinish(t *testing.T) {
	b := read(t, "outline rectangle 60 mm by 30 mm\nplating w { along south; finish ENIG thickness 4 um, 50 nm }\nplating v { along north; finish ENIG }\nplating u { along east }")
	for i, want := range []string{"ENIG 4 µm, 0.05 µm", "ENIG", "–"} {
		assert.Equal(t, want, Tables(b, scene.Build(b, 0), nil)[0].Rows[i][7])
	}
}
