package board

import "hemline/lang/syntax"

// Note is a line for the fabrication notes. Nothing is worked out from it.
type Note struct {
	Item
	Text Name
}

func (m *meaning) note(r *syntax.Reading, base Item) *Note { return &Note{base, nameOf(&r.Clause, 0)} }
