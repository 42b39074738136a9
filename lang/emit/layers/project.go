package layers

import (
	"cmp"

	"hemline/lang/board"
)

// Polarity is every file's .FilePolarity.
const Polarity = "Positive"

// DateLayout is how dates are written in files.
const DateLayout = "2006-01-02T15:04:05+00:00"

// Project is what a board's files call what they are of.
type Project struct {
	Name string
	// ID is made of the name alone, so that it is the same in all files of a board.
	ID string
	// Revision is "none" where the text states none.
	Revision string
}

// ProjectOf is a board's .ProjectId.
func ProjectOf(b *board.Board) Project {
	p := Project{Name: FileStem(b)}
	if i := b.Info(); i != nil {
		p.Name, p.Revision = cmp.Or(i.Name.Text, p.Name), i.Revision.Text
	}
	p.ID, p.Revision = guid(p.Name), cmp.Or(p.Revision, "none")
	return p
}
