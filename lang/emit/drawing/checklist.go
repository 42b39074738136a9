package drawing

import (
	"fmt"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/article"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
	"hemline/lang/emit/wording"
)

// Checklist draws the sheets on which the first boards of an order are measured:
// a line for each thing, with room to write what was read. Of the options the date
// and what checking came to count.
func Checklist(b *board.Board, s *scene.Scene, list []article.Line, o Options) []*sheet.Sheet {
	a := &author{b: b, scene: s, o: Options{Date: o.Date, Findings: o.Findings, Accepted: o.Accepted}, cover: true, document: "First-article checklist", format: sheet.Formats[0]}
	a.first("Checklist", append([]*block{a.articleHead(len(list))}, a.list(a.article(list))...))
	return a.sheets
}

// articleHead says what the sheets are of, and has room for who measured.
func (a *author) articleHead(n int) *block {
	l := a.headed("First-article checklist", sheet.Large)
	says := wording.Plural(n, "line") + ". A limit is the text's, or whose it says; computed ones are bounds, to be agreed."
	if n == 0 {
		says = "The text states nothing to measure."
	}
	l.write(says, sheet.Small, false)
	l.write(wording.Caution, sheet.Small, false)
	l.y -= 4
	for _, row := range [][]string{{"Board no.", "Lot", "Date"}, {"Measured by", "Instruments", "Accepted by"}} {
		l.y -= 10
		w := (l.width - 4) / float64(len(row))
		for i, word := range row {
			x := float64(i) * w
			l.Write(sheet.Text{At: sheet.Point{X: x, Y: l.y}, S: word, Height: sheet.Small})
			l.Add(sheet.Strokes(sheet.Thin, sheet.Point{X: x + 24, Y: l.y - 0.5}, sheet.Point{X: x + w - 3, Y: l.y - 0.5}))
		}
	}
	l.y -= 3
	return l.block("checklist")
}

// article is the table, its last column left free to write in.
func (a *author) article(list []article.Line) table {
	t := table{title: "To measure", kind: "checklist", head: []string{"", "what", "where", "limit", "whose", "measured"}}
	// The rest of what the column of numbers and the one to write in leave.
	const number, free = 8.0, 36.0
	rest := a.columnW() - number - free
	t.w = []float64{number, rest * 0.30, rest * 0.29, rest * 0.26, rest * 0.15, free}
	for i, l := range list {
		t.rows = append(t.rows, []string{fmt.Sprint(i + 1), shown(l.What, 0), shown(l.Where, 0), shown(l.Limit, 0), shown(l.By, 0), strings.Join(l.Readings, " ")})
	}
	for _, row := range t.rows {
		t.cells = append(t.cells, cells(row, t.w, false))
	}
	for i, l := range list {
		// Two lines at least are free to write in, and one for each reading.
		t.cells[i][5] = []string{"", ""}
		if len(l.Readings) > 0 {
			t.cells[i][5] = l.Readings
		}
		t.tall = append(t.tall, t.cells[i].height())
	}
	return t
}
