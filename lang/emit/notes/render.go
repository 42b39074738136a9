package notes

import (
	"fmt"
	"io"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
)

// title names the board as far as its text does.
func title(b *board.Board) string {
	parts := []string{}
	if i := b.Info(); i != nil {
		if i.Title.Given() {
			parts = append(parts, i.Title.Text)
		}
		if i.Name.Text != "" {
			parts = append(parts, i.Name.Text)
		}
		if i.Revision.Given() {
			parts = append(parts, "revision "+i.Revision.Text)
		}
	}
	s := "Fabrication notes"
	if len(parts) > 0 {
		s += ": " + strings.Join(parts, ", ")
	}
	return wording.OneLine(s)
}

// Text writes numbered notes for a terminal or a letter.
func Text(w io.Writer, b *board.Board, list []Note) error {
	var s strings.Builder
	fmt.Fprintf(&s, "%s\n\n", title(b))
	for i, n := range list {
		fmt.Fprintf(&s, "%3d. %s\n", i+1, wording.OneLine(n.Text))
	}
	_, err := io.WriteString(w, s.String())
	return err
}

// Markdown writes numbered notes for a page.
func Markdown(w io.Writer, b *board.Board, list []Note) error {
	var s strings.Builder
	fmt.Fprintf(&s, "# %s\n\n", wording.Markdown(title(b)))
	for i, n := range list {
		fmt.Fprintf(&s, "%d. %s\n", i+1, wording.Markdown(n.Text))
	}
	_, err := io.WriteString(w, s.String())
	return err
}
