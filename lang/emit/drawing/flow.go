package drawing

import (
	"slices"
	"strings"

	"hemline/lang/emit/sheet"
)

// block is something that stands in a column: a section, a detail, a table.
type block struct {
	kind string // the word for it among a sheet's contents
	w, h float64
	// draw draws it, its upper left corner at a point.
	draw func(s *sheet.Sheet, at sheet.Point)
	// split cuts it to a height, where that can be done.
	split func(h float64) (head, rest *block, ok bool)
}

// slot is a free place for blocks on a sheet.
type slot struct {
	sheet *sheet.Sheet
	room  sheet.Rect
}

// columns are those of a new sheet, left to right, clear of its centring
// marks; the last stand over the title block.
func (a *author) columns(s *sheet.Sheet) []slot {
	room := s.Format.Room()
	n := a.columnsOf()
	w := (room.W() - 2*margin - float64(n-1)*gutter) / float64(n)
	var list []slot
	for i := range n {
		x := room.Min.X + margin + float64(i)*(w+gutter)
		r := sheet.Rect{Min: sheet.Point{X: x, Y: room.Min.Y + margin}, Max: sheet.Point{X: x + w, Y: room.Max.Y - margin}}
		if r.Max.X > room.Max.X-blockW {
			r.Min.Y = room.Min.Y + blockH + gutter
		}
		list = append(list, slot{s, r})
	}
	return list
}

// columnsOf is how many columns a sheet has.
func (a *author) columnsOf() int {
	return max(1, int((a.format.Room().W()-2*margin+gutter)/(column+gutter)))
}

// columnW is how wide a table may be: as all of the sheet where there is one
// column.
func (a *author) columnW() float64 {
	if a.columnsOf() == 1 {
		return a.format.Room().W() - 2*margin
	}
	return column
}

// contains notes what a sheet holds in its title.
func contains(s *sheet.Sheet, b *block) {
	words := strings.Split(s.Title, ", ")
	switch {
	case s.Title == "":
		s.Title = capital(b.kind)
	case !slices.Contains(words, b.kind) && words[0] != capital(b.kind):
		s.Title += ", " + b.kind
	}
}

// flow sets blocks into columns, from the first sheet's own column where it
// has one.
func (a *author) flow(list []*block) {
	var free []slot
	if first := a.sheets[0]; a.o.Marked {
		free = a.listColumn(first)
	}
	a.flowFrom(list, free)
}

// flowFrom sets blocks into free places, and on further sheets where these end.
func (a *author) flowFrom(list []*block, free []slot) {
	for len(list) > 0 {
		if len(free) == 0 {
			free = a.columns(a.page(""))
		}
		at := free[0]
		b := list[0]
		h := at.room.H()
		if b.h > h {
			if b.split != nil {
				if head, rest, ok := b.split(h); ok {
					a.put(head, at)
					list[0], free = rest, free[1:]
					continue
				}
			}
			if len(free) > 1 || h < a.format.Room().H()-blockH-3*margin {
				free = free[1:]
				continue
			}
		}
		a.put(b, at)
		free[0].room.Max.Y -= b.h + 6
		list = list[1:]
	}
}

func (a *author) put(b *block, at slot) {
	b.draw(at.sheet, sheet.Point{X: at.room.Min.X, Y: at.room.Max.Y})
	if at.sheet != a.sheets[0] {
		contains(at.sheet, b)
	}
}

// listColumn is where the first sheet has its list of findings: the right
// column, or none on a narrow sheet.
func (a *author) listColumn(s *sheet.Sheet) []slot {
	room := s.Format.Room()
	if s.Format.W <= 2*column {
		return nil
	}
	return []slot{{s, sheet.Rect{
		Min: sheet.Point{X: room.Max.X - column - margin, Y: room.Min.Y + blockH + gutter},
		Max: sheet.Point{X: room.Max.X - margin, Y: room.Max.Y - margin},
	}}}
}
