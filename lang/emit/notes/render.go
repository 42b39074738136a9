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

// Text writes numbered notes for a terminal or a letter, and beneath them the
// tables that they refer to.
func Text(w io.Writer, b *board.Board, list []Note, tables []wording.Table) error {
	var s strings.Builder
	s.WriteString(title(b) + "\n")
	number := 0
	for _, x := range Sections(list) {
		fmt.Fprintf(&s, "\n%s\n", x.Heading)
		for _, line := range x.Lines {
			number++
			fmt.Fprintf(&s, "%3d. %s\n", number, wording.OneLine(line))
		}
	}
	for _, t := range tables {
		s.WriteString("\n" + t.Text())
	}
	_, err := io.WriteString(w, s.String())
	return err
}

// Markdown writes numbered notes for a page, and beneath them the tables that
// they refer to.
func Markdown(w io.Writer, b *board.Board, list []Note, tables []wording.Table) error {
	var s strings.Builder
	fmt.Fprintf(&s, "# %s\n", wording.Markdown(title(b)))
	number := 0
	for _, x := range Sections(list) {
		fmt.Fprintf(&s, "\n## %s\n\n", x.Heading)
		for _, line := range x.Lines {
			number++
			fmt.Fprintf(&s, "%d. %s\n", number, wording.Markdown(line))
		}
	}
	if len(tables) > 0 {
		s.WriteString("\n## Tables\n")
	}
	for _, t := range tables {
		s.WriteString("\n" + t.Markdown())
	}
	_, err := io.WriteString(w, s.String())
	return err
}
