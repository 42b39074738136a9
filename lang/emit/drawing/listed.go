package drawing

import (
	"hemline/lang/board"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/wording"
	"hemline/lang/rout"
)

// Tables are the tables of a board's drawing that have rows, in the drawing's
// order, of a board without an outline too: what stands in them is written
// once, and notes that refer to them are whole without the sheets. cut tells how the
// bits leave a tab; nil where that is not known.
func Tables(b *board.Board, s *scene.Scene, cut func(*board.Tab) rout.TabCut) (list []wording.Table) {
	a := &author{b: b, scene: s, o: Options{Cut: cut}}
	a.collect()
	for _, t := range a.tables() {
		if len(t.rows) > 0 {
			list = append(list, wording.Table{Title: t.title, Head: t.head, Rows: t.rows})
		}
	}
	return list
}

// notes are numbered through all of their sections, whose headings have no number.
func (a *author) notes() table {
	t := table{title: "Notes (dimensions that a table states are auxiliary here)", kind: notesKind, head: []string{"", ""}}
	n := 0
	for _, s := range a.o.Notes {
		t.rows = append(t.rows, []string{"", s.Heading})
		for _, line := range s.Lines {
			n++
			t.rows = append(t.rows, []string{figure(float64(n)), line})
		}
	}
	return t
}

// notesKind is the word for notes among a sheet's contents.
const notesKind = "notes"

// heading tells whether a row is the heading of the rows under it.
func (t table) heading(i int) bool { return t.kind == notesKind && t.rows[i][0] == "" }
