package report

import (
	"slices"
	"strings"
)

// part is a part of the report: rows of cells under a title, as a terminal and
// Markdown show them.
type part struct {
	title string
	head  []string
	rows  [][]string
	right []bool // columns that stand to the right
	// list tells that a terminal needs no head for the rows; figures, that they are a
	// figure each, with its value and its note.
	list, figures bool
	notes         []string // under the rows
}

// footnotes are those of a table: each reason and condition once.
type footnotes struct{ said []string }

// mark is the mark of a note, behind a cell.
func (n *footnotes) mark(note string) string {
	if note == "" {
		return ""
	}
	i := slices.Index(n.said, note)
	if i < 0 {
		i = len(n.said)
		n.said = append(n.said, note)
	}
	return " " + letter(i)
}

// lines are the notes, each behind its mark.
func (n *footnotes) lines() []string {
	var out []string
	for i, s := range n.said {
		out = append(out, letter(i)+" "+s)
	}
	return out
}

// letter is the mark of the note with an index: a), b), … z), aa), ab), …
func letter(i int) string {
	s := ""
	for i++; i > 0; i = (i - 1) / 26 {
		s = string(rune('a'+(i-1)%26)) + s
	}
	return s + ")"
}

// line is a row of a table: items that are alike but for their names.
type line struct {
	names   []string
	figures map[string]Figure
}

// tabulate shows items of one kind side by side: a row each, those that are
// wholly alike as one; a column for each figure that any of them has. What all
// have alike is said once, under the rows.
func tabulate(items []Item) part {
	columns := names(items)
	rows := lines(items, columns)
	if len(rows) == 1 {
		kind := items[0].Kind
		if len(items) > 1 {
			kind += "s"
		}
		return list(kind+" "+strings.Join(rows[0].names, ", "), items[0].Figures)
	}
	p := part{title: items[0].Kind + "s", head: []string{""}, right: []bool{false}}
	for _, r := range rows {
		p.rows = append(p.rows, []string{strings.Join(r.names, ", ")})
	}
	var n footnotes
	var all []string
	for _, name := range columns {
		if f, ok := alike(rows, name); ok {
			all = append(all, f.said())
		} else {
			p.column(rows, name, &n)
		}
	}
	p.notes = append(p.notes, n.lines()...)
	if len(all) > 0 {
		p.notes = append(p.notes, "all: "+strings.Join(all, "; "))
	}
	return p
}

// column adds a figure of the rows. A note that all its values have is said under
// the table with the figure's name; others, and reasons, stand there behind a mark.
func (p *part) column(rows []line, name string, n *footnotes) {
	head, unit := name, ""
	shared, first := "", true
	for _, r := range rows {
		f, ok := r.figures[name]
		if !ok || f.Value == nil {
			continue
		}
		if first {
			shared, first = f.Note, false
		} else if f.Note != shared {
			shared = ""
		}
		unit = f.Unit
	}
	if shared != "" {
		p.notes = append(p.notes, head+": "+shared)
	}
	if unit != "" {
		head += ", " + unit
	}
	p.head, p.right = append(p.head, head), append(p.right, true)
	for i, r := range rows {
		cell := "—"
		if f, ok := r.figures[name]; ok {
			cell = f.cell()
			if f.Note != shared {
				cell += n.mark(f.Note)
			}
		}
		p.rows[i] = append(p.rows[i], cell)
	}
}

// names are the names of the items' figures, each once, in the order in which an
// item has them.
func names(items []Item) []string {
	var out []string
	for _, i := range items {
		at := 0
		for _, f := range i.Figures {
			if k := slices.Index(out, f.Name); k >= 0 {
				at = k + 1
				continue
			}
			out = slices.Insert(out, at, f.Name)
			at++
		}
	}
	return out
}

// lines puts items that read alike, but for their names, on one line, where the first of them is.
func lines(items []Item, columns []string) []line {
	var rows []line
	at := map[string]int{}
	for _, item := range items {
		figures := map[string]Figure{}
		for _, f := range item.Figures {
			figures[f.Name] = f
		}
		var reads strings.Builder
		for _, name := range columns {
			if f, ok := figures[name]; ok {
				reads.WriteString(f.Line())
			}
			reads.WriteByte('\n')
		}
		if k, ok := at[reads.String()]; ok {
			rows[k].names = append(rows[k].names, item.Name)
			continue
		}
		at[reads.String()] = len(rows)
		rows = append(rows, line{[]string{item.Name}, figures})
	}
	return rows
}

// alike is the figure of a name, where it reads alike in all rows.
func alike(rows []line, name string) (Figure, bool) {
	first, ok := rows[0].figures[name]
	for _, r := range rows {
		f, has := r.figures[name]
		if !ok || !has || f.Line() != first.Line() {
			return Figure{}, false
		}
	}
	return first, true
}

// list shows figures a row each. Those without a value come last, a row for each reason.
func list(title string, figures []Figure) part {
	p := part{title: strings.TrimSpace(title), head: []string{"figure", "value", ""}, right: make([]bool, 3), list: true, figures: true}
	var reasons []string
	of := map[string][]string{}
	for _, f := range figures {
		if f.told {
			p.rows = append(p.rows, []string{f.Name, f.Show(), ""})
			continue
		}
		if f.Value != nil {
			p.rows = append(p.rows, []string{f.Name, f.Show(), f.Note})
			continue
		}
		if of[f.Note] == nil {
			reasons = append(reasons, f.Note)
		}
		of[f.Note] = append(of[f.Note], f.Name)
	}
	for _, why := range reasons {
		p.notes = append(p.notes, "does not apply: "+strings.Join(of[why], ", ")+" ("+why+")")
	}
	return p
}
