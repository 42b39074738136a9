package report

import (
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// across is how many columns a terminal is taken to have.
const across = 100

const (
	apart     = 2  // spaces before each column
	leastText = 16 // a column of words is not made narrower
	leastHead = 12 // nor is a head broken before this
	fewRows   = 2  // a table of so few figures is turned: its items side by side
)

// text is the part in lines that fit across a terminal: as it stands, turned, or
// in several tables that each begin with the first column.
func (p part) text() []string {
	out := []string{p.title}
	if p.figures {
		out = append(out, p.pairs()...)
	} else {
		out = append(out, p.tables()...)
	}
	for _, s := range p.notes {
		out = append(out, hang("  ", s)...)
	}
	return out
}

// pairs are figures, of which two that follow each other without a note share a line where they fit.
func (p part) pairs() []string {
	var rows [][]string // name, value and note, or two names with their values
	for _, r := range p.rows {
		if n := len(rows); n > 0 && r[2] == "" && len(rows[n-1]) == 3 && rows[n-1][2] == "" {
			rows[n-1] = append(rows[n-1][:2:2], r[:2]...)
		} else {
			rows = append(rows, r)
		}
	}
	var widths [4]int
	for _, r := range rows {
		for k := range r {
			if k < 2 || len(r) == 4 {
				widths[k] = max(widths[k], utf8.RuneCountInString(r[k]))
			}
		}
	}
	if total(widths[:]) > across {
		return part{rows: p.rows, head: p.head, right: p.right, list: true}.lines()
	}
	var out []string
	for _, r := range rows {
		width := widths[:]
		if len(r) == 3 {
			width = []int{widths[0], widths[1], across - total(widths[:2]) - apart}
		}
		out = append(out, part{right: make([]bool, 4)}.row(r, width, false)...)
	}
	return out
}

// tables are the part's lines, in one table or several.
func (p part) tables() []string {
	var out []string
	for _, t := range p.fitted() {
		out = append(out, t.lines()...)
	}
	return out
}

// fitted is the part as it fits.
func (p part) fitted() []part {
	numbers := slices.Index(p.right, false) == 0 && !slices.Contains(p.right[1:], false)
	switch t := p.turned(); {
	case len(p.rows) == 0:
		return nil
	case p.list:
		return []part{p}
	case numbers && len(p.rows) > len(t.rows) && len(t.rows) <= fewRows && t.fits():
		return []part{t}
	case p.fits():
		return []part{p}
	case numbers && len(p.rows) < len(t.rows) && t.fits():
		return []part{t}
	}
	var out []part
	for from := 1; from < len(p.head); {
		to := from + 1
		for to < len(p.head) && p.columns(from, to+1).fits() {
			to++
		}
		out = append(out, p.columns(from, to))
		from = to
	}
	return out
}

// columns is the table with the first column and some others.
func (p part) columns(from, to int) part {
	take := func(r []string) []string { return append(slices.Clone(r[:1]), r[from:to]...) }
	out := part{head: take(p.head), right: append(slices.Clone(p.right[:1]), p.right[from:to]...)}
	for _, r := range p.rows {
		out.rows = append(out.rows, take(r))
	}
	return out
}

// turned is the table with its rows as columns.
func (p part) turned() part {
	out := part{head: []string{p.head[0]}, right: []bool{false}}
	for _, r := range p.rows {
		out.head, out.right = append(out.head, r[0]), append(out.right, true)
	}
	for k := 1; k < len(p.head); k++ {
		row := []string{p.head[k]}
		for _, r := range p.rows {
			row = append(row, r[k])
		}
		out.rows = append(out.rows, row)
	}
	return out
}

// fits tells that the table fits across.
func (p part) fits() bool { return total(p.widths()) <= across }

// widths are the columns' widths: heads are broken and columns of words give way
// as far as it takes, the widest first.
func (p part) widths() []int {
	cells := make([]int, len(p.head))
	for _, r := range p.rows {
		for k, c := range r {
			cells[k] = max(cells[k], utf8.RuneCountInString(c))
		}
	}
	widths := cells
	for most := across; most >= leastHead && !p.list; most-- {
		widths = slices.Clone(cells)
		for k, h := range p.head {
			for _, s := range wrap(h, max(widths[k], most)) {
				widths[k] = max(widths[k], utf8.RuneCountInString(s))
			}
		}
		if total(widths) <= across {
			break
		}
	}
	for total(widths) > across {
		widest := -1
		for k, w := range widths {
			if !p.right[k] && w > leastText && (widest < 0 || w > widths[widest]) {
				widest = k
			}
		}
		if widest < 0 {
			break
		}
		widths[widest]--
	}
	return widths
}

func total(widths []int) int {
	sum := 0
	for _, w := range widths {
		sum += apart + w
	}
	return sum
}

// lines are the rows under their heads.
func (p part) lines() []string {
	widths := p.widths()
	var out []string
	if !p.list {
		out = p.row(p.head, widths, true)
	}
	for _, r := range p.rows {
		out = append(out, p.row(r, widths, false)...)
	}
	return out
}

// row is one row, in as many lines as its cells take; a head stands at its foot.
func (p part) row(cells []string, widths []int, foot bool) []string {
	broken := make([][]string, len(cells))
	height := 0
	for k, c := range cells {
		broken[k] = wrap(c, widths[k])
		height = max(height, len(broken[k]))
	}
	out := make([]string, height)
	for i := range out {
		for k, lines := range broken {
			at := i
			if foot {
				at -= height - len(lines)
			}
			s := ""
			if at >= 0 && at < len(lines) {
				s = lines[at]
			}
			space := strings.Repeat(" ", max(0, widths[k]-utf8.RuneCountInString(s)))
			if p.right[k] {
				s = space + s
			} else {
				s += space
			}
			out[i] += strings.Repeat(" ", apart) + s
		}
		out[i] = strings.TrimRight(out[i], " ")
	}
	return out
}

// wrap breaks a text at spaces into lines of so many runes, as far as its words let it.
func wrap(s string, width int) []string {
	var out []string
	line := ""
	for _, word := range words(s) {
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= width:
			line += " " + word
		default:
			out = append(out, line)
			line = word
		}
	}
	return append(out, line)
}

// unit is a unit behind a number, from which it is not broken.
var unit = regexp.MustCompile(`^(mm²|N·mm|dB|%|K|°C|[kMG]?Hz|[µmk]?[mAVWgΩN])[,;:)]*$`)

// words are a text's words, a number and its unit being one.
func words(s string) (out []string) {
	for _, word := range strings.Fields(s) {
		if n := len(out); n > 0 && unit.MatchString(word) && strings.ContainsAny(out[n-1][len(out[n-1])-1:], "0123456789") {
			out[n-1] += " " + word
		} else {
			out = append(out, word)
		}
	}
	return out
}

// hang breaks a text across a terminal, its lines set in, all but the first a little more.
func hang(in, s string) []string {
	out := wrap(s, across-len(in)-2)
	for i := range out {
		if i > 0 {
			out[i] = "  " + out[i]
		}
		out[i] = in + out[i]
	}
	return out
}
