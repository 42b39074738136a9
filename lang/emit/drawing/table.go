package drawing

import (
	"cmp"
	"math"
	"strings"

	"hemline/lang/emit/sheet"
)

// table is rows of cells under a head.
type table struct {
	title string
	kind  string // among a sheet's contents; "" for tables
	head  []string
	rows  [][]string
	more  bool      // it goes on from another place
	w     []float64 // of the columns; computed where there are none
	cells []lines   // of the rows in columns of that width; computed where there are none
	tall  []float64 // what each row takes, mm
}

// Sizes of a table, mm.
const (
	lineH = 4.2
	cellX = 1.2
	nameH = 6.0
)

// wrapped breaks a text into lines of a width, between words where it can be.
func wrapped(s string, width float64, strong bool) []string {
	fits := func(s string) bool {
		return sheet.Text{S: s, Height: sheet.Small, Bold: strong}.Width() <= width
	}
	var lines []string
	line := ""
	for word := range strings.FieldsSeq(s) {
		if line != "" && fits(line+" "+word) {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for line = word; !fits(line); {
			list := []rune(line)
			n := len(list) - 1
			for n > 1 && !fits(string(list[:n])) {
				n--
			}
			if n < 1 {
				break
			}
			lines, line = append(lines, string(list[:n])), string(list[n:])
			if len(list) == n {
				break
			}
		}
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// widths are those of the columns within a width: heads on one line where they
// have room, else broken between words; columns that are wider than their share
// are broken into lines.
func (t table) widths(most float64) []float64 {
	if t.w != nil {
		return t.w
	}
	whole := t.natural(func(head string) []string { return []string{head} })
	if sum(whole) <= most {
		return whole
	}
	w := t.natural(strings.Fields)
	for sum(w) > most {
		widest := 0
		second := 0.0
		for i := range w {
			if w[i] > w[widest] {
				widest = i
			}
		}
		for i := range w {
			if i != widest {
				second = math.Max(second, w[i])
			}
		}
		over := sum(w) - most
		cut := math.Min(over, math.Max(w[widest]-second, 2))
		if w[widest]-cut < 8 {
			break
		}
		w[widest] -= cut
	}
	return w
}

// natural are the widths that the cells take on one line, and the pieces of heads.
func (t table) natural(pieces func(head string) []string) []float64 {
	w := make([]float64, len(t.head))
	grow := func(i int, s string, strong bool) {
		w[i] = math.Max(w[i], sheet.Text{S: s, Height: sheet.Small, Bold: strong}.Width()+2*cellX+0.1)
	}
	for i, h := range t.head {
		for _, piece := range pieces(h) {
			grow(i, piece, true)
		}
	}
	for _, row := range t.rows {
		for i, s := range row {
			grow(i, s, false)
		}
	}
	return w
}

func sum(list []float64) float64 {
	s := 0.0
	for _, v := range list {
		s += v
	}
	return s
}

// lines are those of each cell of a row.
type lines [][]string

func cells(row []string, w []float64, strong bool) lines {
	list := make(lines, len(row))
	for i, s := range row {
		list[i] = wrapped(s, w[i]-2*cellX, strong)
	}
	return list
}

// height is what a row takes.
func (l lines) height() float64 {
	most := 0
	for _, c := range l {
		most = max(most, len(c))
	}
	return float64(most)*lineH + 0.8
}

// block makes a table a block of a width, which can be split between rows.
func (t table) block(most float64) *block {
	w := t.widths(most)
	t.w = w
	if len(t.head) == 2 && sum(w) < most && t.head[1] == "" {
		w[1] = most - w[0]
	}
	if t.cells == nil {
		t.cells, t.tall = make([]lines, len(t.rows)), make([]float64, len(t.rows))
		for i, row := range t.rows {
			t.cells[i] = cells(row, w, t.heading(i))
			t.tall[i] = t.cells[i].height()
		}
	}
	top := float64(len(t.titles(most))) * nameH
	if t.headed() {
		top += cells(t.head, w, true).height()
	}
	b := &block{kind: cmp.Or(t.kind, "tables"), w: sum(w), h: top + sum(t.tall)}
	b.draw = func(s *sheet.Sheet, at sheet.Point) { t.draw(s, at, w, t.titles(most)) }
	b.split = func(h float64) (head, rest *block, ok bool) {
		n, used := 0, top
		for n < len(t.rows) && used+t.tall[n] <= h {
			used += t.tall[n]
			n++
		}
		if n == len(t.rows)-1 {
			n-- // no row stands alone
		}
		if n > 0 && n < len(t.rows) && t.heading(n-1) {
			n-- // nor a heading without what is under it
		}
		if n < 2 && n < len(t.rows) {
			return nil, nil, false
		}
		first, second := t, t
		first.rows, second.rows, second.more = t.rows[:n], t.rows[n:], true
		first.cells, second.cells = t.cells[:n], t.cells[n:]
		first.tall, second.tall = t.tall[:n], t.tall[n:]
		return first.block(most), second.block(most), true
	}
	return b
}

// titles are the lines of its title, no wider than the column.
func (t table) titles(most float64) []string {
	title := t.title
	if t.more {
		title += ", continued"
	}
	return wrapped(shown(title, 0), most*sheet.Small/sheet.Large, true)
}

func (t table) headed() bool { return strings.Join(t.head, "") != "" }

// draw draws it with its upper left corner at a point.
func (t table) draw(s *sheet.Sheet, at sheet.Point, w []float64, titles []string) {
	y := at.Y
	for _, line := range titles {
		s.Write(bold(sheet.Point{X: at.X, Y: y - sheet.Large - 0.3}, line, sheet.Large))
		y -= nameH
	}
	total := sum(w)
	rule := func(y float64, l sheet.Line) {
		s.Add(sheet.Strokes(l, sheet.Point{X: at.X, Y: y}, sheet.Point{X: at.X + total, Y: y}))
	}
	top := y
	rule(y, sheet.Thick)
	row := func(list lines, strong bool) {
		x := at.X
		for i, cell := range list {
			for k, line := range cell {
				s.Write(sheet.Text{At: sheet.Point{X: x + cellX, Y: y - float64(k+1)*lineH + 0.8}, S: line, Height: sheet.Small, Bold: strong})
			}
			x += w[i]
		}
		y -= list.height()
	}
	if t.headed() {
		row(cells(t.head, w, true), true)
		rule(y, sheet.Thick)
	}
	for i, list := range t.cells {
		row(list, t.heading(i))
		if i+1 < len(t.cells) {
			rule(y, sheet.Thin)
		}
	}
	rule(y, sheet.Thick)
	x := at.X
	for i := 0; i <= len(w); i++ {
		l := sheet.Thin
		if i == 0 || i == len(w) {
			l = sheet.Thick
		}
		s.Add(sheet.Strokes(l, sheet.Point{X: x, Y: top}, sheet.Point{X: x, Y: y}))
		if i < len(w) {
			x += w[i]
		}
	}
}
