package wording

import (
	"strings"
	"unicode/utf8"
)

// Table is rows under a title, as a drawing has them and a text repeats them.
// Rows have as many cells as the head.
type Table struct {
	Title string // what it lists, with the units of its columns
	Head  []string
	Rows  [][]string
}

// Section is lines under a heading.
type Section struct {
	Heading string
	Lines   []string
}

// apart is how many spaces stand between the columns of a table in a text.
const apart = 2

// Text is a table in columns, each as wide as its widest cell.
func (t Table) Text() string {
	rows := append([][]string{t.Head}, t.Rows...)
	widths := make([]int, len(t.Head))
	for _, row := range rows {
		for i, s := range row {
			widths[i] = max(widths[i], utf8.RuneCountInString(OneLine(s)))
		}
	}
	var w strings.Builder
	w.WriteString(OneLine(t.Title) + "\n")
	for _, row := range rows {
		line := ""
		for i, s := range row {
			s = OneLine(s)
			line += strings.Repeat(" ", apart) + s + strings.Repeat(" ", widths[i]-utf8.RuneCountInString(s))
		}
		w.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	return w.String()
}

// Markdown is a table of a page, its title in bold above it.
func (t Table) Markdown() string {
	var w strings.Builder
	row := func(cells []string) {
		w.WriteString("|")
		for _, s := range cells {
			w.WriteString(" " + Markdown(s) + " |")
		}
		w.WriteString("\n")
	}
	w.WriteString("**" + Markdown(t.Title) + "**\n\n")
	row(t.Head)
	w.WriteString("|" + strings.Repeat(" --- |", len(t.Head)) + "\n")
	for _, cells := range t.Rows {
		row(cells)
	}
	return w.String()
}
