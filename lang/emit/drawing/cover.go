package drawing

import (
	"fmt"
	"math"
	"strings"
	"time"

	"hemline/lang/board"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
	"hemline/lang/emit/wording"
)

// Package is what the cover of a package says beside the board.
type Package struct {
	Date    time.Time
	Limits  string // whose limits the board was checked against
	Queries string // how many are answered, open and left to the shop
	Open    []string
	// Left is what is left to the shop, each with the reason.
	Left     []string
	Findings []Finding // what stands against the board
	Accepted []Accepted
	// NotVerified is what the board asks for that could not be worked out, and why.
	NotVerified []string
	// Coupons are the coupons that go with the board, and what stands against each.
	Coupons []string
	Files   []bundle.File
}

// Accepted is a finding that is agreed, and why.
type Accepted struct {
	Finding
	Because, Until string // Until is empty where it holds for good
}

// Cover draws the first pages of a package: what it is of, what stands against
// it, what is left open, and which files it holds.
func Cover(b *board.Board, s *scene.Scene, p Package) []*sheet.Sheet {
	a := &author{b: b, scene: s, o: Options{Date: p.Date, Findings: p.Findings, Accepted: len(p.Accepted)}, cover: true, format: sheet.Formats[0]}
	a.first("Cover", append([]*block{a.heading(p)}, a.list(a.findings(), a.notVerified(p), a.accepted(p), a.open(p), a.leftToShop(p), numbered("Coupons", p.Coupons), a.contents(p))...))
	return a.sheets
}

// first lays blocks out from the first sheet on, on which nothing else stands.
func (a *author) first(contents string, list []*block) {
	s := a.page(contents)
	room := s.Format.Room()
	a.flowFrom(list, []slot{{s, sheet.Rect{Min: room.Min.Add(margin, blockH+gutter), Max: room.Max.Add(-margin, -margin)}}})
	for i, x := range a.sheets {
		a.titleBlock(x, i+1, len(a.sheets))
	}
}

// letterhead are texts set under one another, down from a block's top.
type letterhead struct {
	*sketch
	y, width float64
}

// headed are lines that begin with what a sheet without a view is, and the board's names.
func (a *author) headed(document string, title float64) *letterhead {
	l := &letterhead{sketch: &sketch{}, width: a.columnW()}
	l.write(document, sheet.Huge, true)
	if a.scene.Title != "" {
		l.write(a.scene.Title, title, true)
	}
	if a.scene.Name != "" {
		l.write(a.scene.Name, sheet.Large, true)
	}
	if a.scene.Revision != "" {
		l.write("Revision "+a.scene.Revision, sheet.Large, true)
	}
	return l
}

func (l *letterhead) write(s string, height float64, strong bool) {
	// Texts are measured in small letters.
	for _, part := range wrapped(shown(s, 0), (l.width-4)*sheet.Small/height, strong) {
		l.y -= height * 1.7
		l.Write(sheet.Text{At: sheet.Point{Y: l.y}, S: part, Height: height, Bold: strong})
	}
}

// heading is the cover's top: the board's names, what stands against it, whose
// limits it was held to.
func (a *author) heading(p Package) *block {
	l := a.headed("Fabrication package", sheet.Huge)
	l.y -= 3
	if n := len(p.Findings); n > 0 {
		top := l.y
		l.y -= 1.5
		them := "them"
		if n == 1 {
			them = "it"
		}
		l.write(fmt.Sprintf("Packed with %s unresolved, listed below. Clear %s with the designer before anything is built.", wording.Plural(n, "finding"), them), sheet.Large, true)
		l.y -= 2.5
		l.Add(framed(sheet.Rect{Min: sheet.Point{X: -1.5, Y: l.y}, Max: sheet.Point{X: l.width - 1.5, Y: top}}, sheet.Border, sheet.Clear))
		l.y -= 2
	} else {
		l.write("No finding stands against the board.", sheet.Small, true)
	}
	if n := len(p.NotVerified); n > 0 {
		l.write(wording.Plural(n, "request")+" of the board could not be verified, listed below.", sheet.Small, true)
	}
	if n := len(p.Accepted); n > 0 {
		l.write(wording.Plural(n, "finding")+" accepted, listed below with the reasons.", sheet.Small, true)
	}
	l.write("Limits: "+p.Limits+".", sheet.Small, true)
	l.write("Questions that a shop would ask: "+p.Queries+".", sheet.Small, true)
	l.write(wording.Caution, sheet.Small, false)
	l.write("The layers say what to add to the board's own artwork and what to keep free; the artwork itself is not part of this package.", sheet.Small, false)
	return l.block("cover")
}

// notVerified is what the board asks for that nothing has been held against.
func (a *author) notVerified(p Package) table {
	return numbered("Asked and not verified", p.NotVerified)
}

func (a *author) accepted(p Package) table {
	lines := make([]string, len(p.Accepted))
	for i, f := range p.Accepted {
		until := ""
		if f.Until != "" {
			until = ", until " + f.Until
		}
		lines[i] = fmt.Sprintf("%s. Accepted%s because: %s", f.line(), until, f.Because)
	}
	return numbered("Accepted findings", lines)
}

func (a *author) open(p Package) table { return numbered("Open questions", p.Open) }

func (a *author) leftToShop(p Package) table { return numbered("Left to the shop", p.Left) }

// numbered is a table of lines, each with its number.
func numbered(title string, lines []string) table {
	t := table{title: title, head: []string{"", ""}}
	for i, line := range lines {
		t.rows = append(t.rows, []string{fmt.Sprint(i + 1), line})
	}
	return t
}

// contents are the files with their hashes, half a hash a line.
func (a *author) contents(p Package) table {
	t := table{title: "Files", head: []string{"file", "holds", "SHA-256"}}
	for _, f := range p.Files {
		h := f.Hash()
		t.rows = append(t.rows, []string{f.Name, f.About, h[:len(h)/2] + " " + h[len(h)/2:]})
	}
	// As wide as the widest hash may be, and of the rest the names first.
	hash := sheet.Text{S: strings.Repeat("d", 32), Height: sheet.Small}.Width() + 2*cellX + 0.2
	name := math.Min(t.natural(strings.Fields)[0], 56)
	t.w = []float64{name, a.columnW() - name - hash, hash}
	return t
}
