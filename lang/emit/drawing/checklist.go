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
	first := a.page("Checklist")
	room := first.Format.Room()
	blocks := append([]*block{a.articleHead(len(list))}, a.list(a.article(list))...)
	a.flowFrom(blocks, []slot{{first, sheet.Rect{Min: room.Min.Add(margin, blockH+gutter), Max: room.Max.Add(-margin, -margin)}}})
	for i, x := range a.sheets {
		a.titleBlock(x, i+1, len(a.sheets))
	}
	return a.sheets
}

// articleHead says what the sheets are of, and has room for who measured.
func (a *author) articleHead(n int) *block {
	k, y, width := &sketch{}, 0.0, a.columnW()
	write := func(s string, height float64, strong bool) {
		for _, part := range wrapped(shown(s, 0), (width-4)*sheet.Small/height, strong) {
			y -= height * 1.7
			k.Write(sheet.Text{At: sheet.Point{Y: y}, S: part, Height: height, Bold: strong})
		}
	}
	write("First-article checklist", sheet.Huge, true)
	for _, s := range []string{a.scene.Title, a.scene.Name} {
		if s != "" {
			write(s, sheet.Large, true)
		}
	}
	if a.scene.Revision != "" {
		write("Revision "+a.scene.Revision, sheet.Large, true)
	}
	says := wording.Plural(n, "line") + ". A limit is the text's, or whose it says; computed ones are bounds, to be agreed."
	if n == 0 {
		says = "The text states nothing to measure."
	}
	write(says, sheet.Small, false)
	write(wording.Caution, sheet.Small, false)
	y -= 4
	for _, row := range [][]string{{"Board no.", "Lot", "Date"}, {"Measured by", "Instruments", "Accepted by"}} {
		y -= 10
		w := (width - 4) / float64(len(row))
		for i, word := range row {
			x := float64(i) * w
			k.Write(sheet.Text{At: sheet.Point{X: x, Y: y}, S: word, Height: sheet.Small})
			k.Add(sheet.Strokes(sheet.Thin, sheet.Point{X: x + 24, Y: y - 0.5}, sheet.Point{X: x + w - 3, Y: y - 0.5}))
		}
	}
	y -= 3
	return k.block("checklist")
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
