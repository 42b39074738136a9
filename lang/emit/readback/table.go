package readback

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"hemline/lang/emit/sheet"
)

// Table is a ruled table as it is read off a sheet. Blank space is left out of its
// cells, since a cell's lines may be broken anywhere.
type Table struct {
	Title string // without what follows a bracket or a colon, and without "continued"
	Head  []string
	Rows  [][]string
}

// tablesOf reads the tables of a sheet, and which of its texts are theirs.
func tablesOf(s *sheet.Sheet) (list []Table, theirs map[int]bool) {
	theirs = map[int]bool{}
	upright, level := strokes(s)
	for _, top := range level {
		// A table hangs from its top rule, by a line at each end of it.
		var x []float64
		bottom, found := 0.0, false
		for _, v := range upright {
			if v.to == top.at && v.at == top.from {
				bottom, found = v.from, true
			}
		}
		for _, v := range upright {
			if found && v.to == top.at && v.from == bottom && top.from <= v.at && v.at <= top.to {
				x = append(x, v.at)
			}
		}
		if slices.Sort(x); len(x) < 2 || x[len(x)-1] != top.to {
			continue
		}
		y := []float64{}
		for _, h := range level {
			if h.from == top.from && h.to == top.to && bottom <= h.at && h.at <= top.at {
				y = append(y, h.at)
			}
		}
		slices.SortFunc(y, func(a, b float64) int { return cmp.Compare(b, a) })
		list = append(list, read(s, x, slices.Compact(y), theirs))
	}
	return list, theirs
}

// stroke is a straight line along an axis: where it lies across it, and its ends.
type stroke struct{ at, from, to float64 }

func strokes(s *sheet.Sheet) (upright, level []stroke) {
	fine := func(v float64) float64 { return math.Round(v*1e6) / 1e6 }
	for _, x := range s.Shapes {
		if x.Line == sheet.NoLine || len(x.Paths) != 1 || len(x.Paths[0].Steps) != 1 || x.Paths[0].Closed {
			continue
		}
		a, b := x.Paths[0].Start, x.Paths[0].Steps[0].To
		switch {
		case math.Abs(a.X-b.X) < 1e-9:
			upright = append(upright, stroke{fine(a.X), fine(min(a.Y, b.Y)), fine(max(a.Y, b.Y))})
		case math.Abs(a.Y-b.Y) < 1e-9:
			level = append(level, stroke{fine(a.Y), fine(min(a.X, b.X)), fine(max(a.X, b.X))})
		}
	}
	return upright, level
}

// read reads one table between its lines.
func read(s *sheet.Sheet, x, y []float64, theirs map[int]bool) Table {
	t := Table{}
	type line struct {
		y float64
		s string
	}
	var title []line
	cells := make([][][]line, len(y)-1)
	strong := true
	for r := range cells {
		cells[r] = make([][]line, len(x)-1)
	}
	for i, v := range s.Texts {
		const most = 20 // mm that the title takes
		if v.Bold && v.Height == sheet.Large && math.Abs(v.At.X-x[0]) < 0.01 && y[0] < v.At.Y && v.At.Y < y[0]+most {
			title = append(title, line{v.At.Y, v.S})
			theirs[i] = true
		}
		for r := range cells {
			for c := range cells[r] {
				if x[c] < v.At.X && v.At.X < x[c+1] && y[r+1] < v.At.Y && v.At.Y < y[r] {
					cells[r][c] = append(cells[r][c], line{v.At.Y, v.S})
					theirs[i] = true
					strong = strong && (r > 0 || v.Bold)
				}
			}
		}
	}
	join := func(list []line) string {
		slices.SortStableFunc(list, func(a, b line) int { return cmp.Compare(b.y, a.y) })
		out := ""
		for _, l := range list {
			out += l.s + " "
		}
		return strings.TrimSpace(out)
	}
	for r, row := range cells {
		var words []string
		for _, c := range row {
			words = append(words, tight(join(c)))
		}
		if r == 0 && strong {
			t.Head = words
			continue
		}
		t.Rows = append(t.Rows, words)
	}
	// Of two tables below each other the nearer title is the table's.
	t.Title = join(title)
	for _, mark := range [...]string{" (", ":", ", continued"} {
		t.Title, _, _ = strings.Cut(t.Title, mark)
	}
	return t
}

func tight(s string) string { return strings.Join(strings.Fields(s), "") }
