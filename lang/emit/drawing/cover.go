package drawing

import (
	"fmt"
	"math"
	"strings"
	"time"

	"hemline/lang/board"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
)

// Package is what the cover of a package says beside the board.
type Package struct {
	Date     time.Time
	Limits   string // whose limits the board was checked against
	Queries  string // how many are answered, open and left to the shop
	Open     []string
	Findings []Finding // what stands against the board
	Files    []bundle.File
}

// Cover draws the first page of a package: what it is of, what stands against
// it, what is left open, and which files it holds.
func Cover(b *board.Board, s *scene.Scene, p Package) []*sheet.Sheet {
	a := &author{b: b, scene: s, o: Options{Date: p.Date, Findings: p.Findings}, cover: true, format: sheet.Formats[0]}
	first := a.page("Cover")
	room := first.Format.Room()
	width := room.W() - 2*margin
	head := &sketch{}
	y := 0.0
	line := func(s string, height float64) {
		t := bold(sheet.Point{}, shown(s, 0), height)
		for _, part := range wrapped(t.S, (width-4)*sheet.Small/height, true) {
			y -= height * 1.7
			head.Write(bold(sheet.Point{Y: y}, part, height))
		}
	}
	line("Fabrication package", sheet.Huge)
	if s.Title != "" {
		line(s.Title, sheet.Huge)
	}
	if s.Name != "" {
		line(s.Name, sheet.Large)
	}
	if s.Revision != "" {
		line("Revision "+s.Revision, sheet.Large)
	}
	y -= 3
	if n := len(p.Findings); n > 0 {
		top := y
		y -= 1.5
		line(fmt.Sprintf("Not clean: packed despite %s that %s against the board, listed below. Clear them with the designer before anything is built.",
			Plural(n, "finding"), map[bool]string{true: "stands", false: "stand"}[n == 1]), sheet.Large)
		y -= 2.5
		head.Add(framed(sheet.Rect{Min: sheet.Point{X: -1.5, Y: y}, Max: sheet.Point{X: width - 1.5, Y: top}}, sheet.Border, sheet.Clear))
		y -= 2
	} else {
		line("No finding stands against the board.", sheet.Small)
	}
	line("Limits: "+p.Limits+".", sheet.Small)
	line("Questions that a shop would ask: "+p.Queries+".", sheet.Small)
	for _, s := range []string{
		"The fabricator's word, local codes and licensed practice come first; computed figures are bounds.",
		"The layers say what to add to the board's own artwork and what to keep free; the artwork itself is not part of this package.",
	} {
		for _, part := range wrapped(s, width, false) {
			y -= lineH
			head.Write(text(sheet.Point{Y: y}, part, sheet.Small))
		}
	}
	list := []*block{head.block("cover")}
	add := func(t table) {
		if len(t.rows) > 0 {
			list = append(list, t.shown().block(width))
		}
	}
	add(a.findings())
	open := table{title: "Open questions", head: []string{"", ""}}
	for i, q := range p.Open {
		open.rows = append(open.rows, []string{fmt.Sprint(i + 1), q})
	}
	add(open)
	files := table{title: "Files", head: []string{"file", "holds", "SHA-256"}}
	for _, f := range p.Files {
		h := f.Hash()
		files.rows = append(files.rows, []string{f.Name, f.About, h[:32] + " " + h[32:]})
	}
	// Half a hash a line, the widest of which any may be, and of the rest the names first.
	half := sheet.Text{S: strings.Repeat("d", 32), Height: sheet.Small}.Width() + 2*cellX + 0.2
	name := math.Min(files.natural(strings.Fields)[0], 56)
	files.w = []float64{name, width - name - half, half}
	add(files)
	a.flowFrom(list, []slot{{first, sheet.Rect{Min: sheet.Point{X: room.Min.X + margin, Y: room.Min.Y + blockH + gutter}, Max: sheet.Point{X: room.Max.X - margin, Y: room.Max.Y - margin}}}})
	for i, x := range a.sheets {
		a.titleBlock(x, i+1, len(a.sheets))
	}
	return a.sheets
}

// Plural is a count with its noun, which takes an s.
func Plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
