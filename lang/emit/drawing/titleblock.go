package drawing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"hemline/lang/board"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
	"hemline/lang/emit/wording"
)

// titleBlock draws the fields of ISO 7200. Those that the text says nothing of
// stay empty, to be filled in by hand.
func (a *author) titleBlock(s *sheet.Sheet, n, of int) {
	room := s.Format.Room()
	x, y := room.Max.X-blockW, room.Min.Y
	const row = blockH / 4
	s.Add(framed(sheet.Rect{Min: sheet.Point{X: x, Y: y}, Max: sheet.Point{X: x + blockW, Y: y + blockH}}, sheet.Thick, sheet.White))
	field := func(at, w float64, line int, caption, value string) {
		low := y + float64(line)*row
		s.Add(framed(sheet.Rect{Min: sheet.Point{X: x + at, Y: low}, Max: sheet.Point{X: x + at + w, Y: low + row}}, sheet.Thin, sheet.Clear))
		s.Write(text(sheet.Point{X: x + at + 1, Y: low + row - sheet.Small - 0.6}, caption, sheet.Small))
		t := text(sheet.Point{X: x + at + 1, Y: low + 1.2}, shown(value, 0), sheet.Large)
		if t.Width() > w-2 {
			t.S, t.Height = fitted(value, w-2), sheet.Small
		}
		s.Write(t)
	}
	name, title, revision := a.scene.Name, a.scene.Title, a.scene.Revision
	var owner, author, approver, date, status string
	if i := a.b.Info(); i != nil {
		owner, author, approver, date, status = i.Owner.Text, i.Author.Text, i.Approver.Text, i.Date.Text, i.Status.Text
		name = cmp.Or(i.Number.Text, name)
	}
	if !a.o.Date.IsZero() {
		date = a.o.Date.Format(time.DateOnly)
	}
	kind := "Fabrication drawing"
	switch {
	case a.o.Marked:
		kind = "Picture of findings"
	case a.cover:
		kind = cmp.Or(a.document, "Cover of a package")
	}
	field(0, 55, 3, "Legal owner", owner)
	field(55, 40, 3, "Created by", author)
	field(95, 40, 3, "Approved by", approver)
	field(135, 45, 3, "Document type", kind)
	field(0, 120, 2, "Title", title)
	field(120, 60, 2, "Identification number", name)
	field(0, 50, 1, "Contents", s.Title)
	scale := a.scale.String()
	switch {
	case a.cover:
		scale = "–"
	case n > 1 && strings.HasSuffix(s.Title, "face"):
	case n > 1 && !strings.Contains(strings.ToLower(s.Title), "section") && !strings.Contains(strings.ToLower(s.Title), "details"):
		scale = "–"
	case n > 1:
		scale = "as stated"
	}
	field(50, 27, 1, "Scale", scale)
	word := "first angle"
	if a.o.ThirdAngle {
		word = "third angle"
	}
	if a.cover {
		word = "–"
	} else {
		projection(s, sheet.Point{X: x + 114, Y: y + 1.5*row}, a.o.ThirdAngle)
	}
	field(77, 50, 1, "Projection", word)
	field(127, 27, 1, "Dimensions in", "mm")
	field(154, 26, 1, "Sheet size", s.Format.Name[:2])
	field(0, 20, 0, "Revision", revision)
	field(20, 26, 0, "Date of issue", date)
	field(46, 18, 0, "Language", "en")
	field(64, 34, 0, "Document status", status)
	field(98, 60, 0, "Check", a.checked())
	field(158, 22, 0, "Sheet", fmt.Sprintf("%d / %d", n, of))
}

// checked says what checking the board came to, whatever the text says of its status.
func (a *author) checked() string {
	k := len(a.o.Findings)
	return wording.Plural(k, "finding") + map[bool]string{true: " stands", false: " stand"}[k == 1] + fmt.Sprintf(", %d accepted", a.o.Accepted)
}

// projection draws the symbol of the method of projection (ISO 5456-2, from
// memory): a cut cone from the side, and from its narrow end, which the first
// angle's method puts to the right and the third's to the left.
func projection(s *sheet.Sheet, at sheet.Point, third bool) {
	const big, small, apart = 3.0, 1.5, 8.5
	cone, rings := at, at.Add(apart, 0)
	if third {
		cone, rings = rings, cone
	}
	s.Add(
		sheet.Shape{ID: "projection", Line: sheet.Thin, Fill: sheet.Clear, Paths: []sheet.Path{
			sheet.Polyline(true, cone.Add(-big, -small), cone.Add(big, -big), cone.Add(big, big), cone.Add(-big, small)),
			sheet.Circle(rings, big), sheet.Circle(rings, small)}},
		sheet.Strokes(sheet.ChainThin, cone.Add(-big-1, 0), cone.Add(big+1, 0)),
		sheet.Strokes(sheet.ChainThin, rings.Add(-big-1, 0), rings.Add(big+1, 0)),
		sheet.Strokes(sheet.ChainThin, rings.Add(0, -big-1), rings.Add(0, big+1)))
}

// legendOnFirst tells whether the first sheet has room beside its title block.
func (a *author) legendOnFirst() bool { return a.format.Room().W()-blockW >= column }

// strip fills what is left of the first sheet's title block.
func (a *author) strip(s *sheet.Sheet) {
	room := s.Format.Room()
	at := sheet.Point{X: room.Min.X + gutter, Y: room.Min.Y + blockH - 1}
	if !a.legendOnFirst() {
		return
	}
	a.legend(room.W()-blockW-2*gutter).draw(s, at)
}

// remarks are the sentences under the legend.
func (a *author) remarks() []string {
	list := []string{"Ordinates in mm from the datum. They apply to both faces. Figures in brackets are auxiliary: a table states them."}
	if a.free {
		list = append(list, "The bottom face, turned about the y axis, stands free of the method of projection.")
	}
	if a.far {
		list = append(list, "The datum lies farther off the board than its mark is drawn.")
	}
	// A legend on a later sheet is drawn before what follows is known.
	if n := len(a.sheets); a.legendOnFirst() && n == 2 && !a.o.Marked {
		list = append(list, a.sheets[1].Title+": sheet 2.")
	} else if a.legendOnFirst() && n > 2 && !a.o.Marked {
		list = append(list, fmt.Sprintf("%s: sheets 2 to %d.", a.rest(), n))
	}
	if a.o.Marked {
		list = []string{"Numbers are those of the list of findings."}
	} else if len(a.o.Findings) > 0 {
		list = append(list, "Findings stand; their numbers are in rings, their list is on a later sheet.")
	}
	if n := len(a.ringless); n > 0 {
		list = append(list, "No room for the rings of "+wording.Plural(n, "finding")+": "+enumerated(a.ringless)+".")
	}
	if a.left {
		list = append(list, "Too many kinds of walls, tabs, gaps or half holes to draw each: some are in the tables alone.")
	}
	switch {
	case a.o.Marked:
	case a.dense == 1:
		list = append(list, "Too dense for names: these are in the tables alone.")
	case a.dense == 2:
		list = append(list, "Too dense for labels: names and ordinates are in the tables alone.")
	case a.unnamed:
		list = append(list, "Some names have no room on the faces: these are in the tables alone.")
	}
	return list
}

// rest is what the sheets after the first one hold.
func (a *author) rest() string {
	all := sheet.Sheet{}
	for _, s := range a.sheets[1:] {
		for word := range strings.SplitSeq(strings.ToLower(s.Title), ", ") {
			contains(&all, &block{kind: word})
		}
	}
	return all.Title
}

// key is a line or fill of the legend and what it stands for.
type key struct {
	draw func(s *sheet.Sheet, at sheet.Point)
	word string
}

// keys are those of what is drawn.
func (a *author) keys() (list []key) {
	shown := func(roles ...scene.Role) bool {
		return slices.ContainsFunc(a.scene.Items, func(i scene.Item) bool {
			return slices.ContainsFunc(i.Parts, func(p scene.Part) bool { return slices.Contains(roles, p.Role) })
		})
	}
	add := func(has bool, draw func(s *sheet.Sheet, at sheet.Point), word string) {
		if has {
			list = append(list, key{draw, word})
		}
	}
	var boxed []string
	for _, x := range []struct {
		role scene.Role
		word string
	}{{scene.Tab, "tab"}, {scene.Copper, "copper feature"}, {scene.Pin, "pin"}} {
		if shown(x.role) {
			boxed = append(boxed, x.word)
		}
	}
	body := "connector"
	if slices.ContainsFunc(a.b.Connectors(), func(c *board.Connector) bool { return !c.Overhang.Given() }) {
		body += "; depth not stated"
	}
	add(slices.ContainsFunc(a.b.Platings(), a.b.Runs), line(sheet.ChainThick), "the edge alongside is plated")
	add(shown(scene.Wrap, scene.Land), patch(sheet.Medium), "copper on the face: wrap, land")
	add(shown(scene.Opening), patch(sheet.Light), "solder mask opening past it")
	add(shown(scene.Body), line(sheet.Phantom), body)
	add(len(boxed) > 0, func(s *sheet.Sheet, at sheet.Point) {
		s.Add(framed(sheet.Rect{Min: at.Add(1, -0.3), Max: at.Add(11, 2.8)}, sheet.Thin, sheet.Clear))
	}, strings.Join(boxed, ", "))
	add(true, func(s *sheet.Sheet, at sheet.Point) { datum(s, at.Add(6, 1.2), "") }, "datum: origin of ordinates")
	return list
}

// legend explains the lines and fills.
func (a *author) legend(width float64) *block {
	const row = 5.0
	entries := a.keys()
	cols := max(1, min(3, int(width/66)))
	lines := (len(entries) + cols - 1) / cols
	b := &block{kind: "legend", w: width, h: float64(lines)*row + 7*lineH + 2}
	b.draw = func(s *sheet.Sheet, at sheet.Point) {
		for i, e := range entries {
			p := at.Add(float64(i/lines)*width/float64(cols), -float64(i%lines+1)*row)
			e.draw(s, p)
			s.Write(text(p.Add(14, 0), e.word, sheet.Small))
		}
		y := at.Y - float64(lines)*row - 2
		for i, r := range a.remarks() {
			for _, part := range wrapped(r, width, i > 0) {
				y -= lineH
				t := text(sheet.Point{X: at.X, Y: y}, part, sheet.Small)
				t.Bold = i > 0
				s.Write(t)
			}
		}
	}
	return b
}

func line(l sheet.Line) func(*sheet.Sheet, sheet.Point) {
	return func(s *sheet.Sheet, at sheet.Point) { s.Add(sheet.Strokes(l, at.Add(0, 1.2), at.Add(12, 1.2))) }
}

func patch(f sheet.Fill) func(*sheet.Sheet, sheet.Point) {
	return func(s *sheet.Sheet, at sheet.Point) {
		s.Add(framed(sheet.Rect{Min: at.Add(1, -0.3), Max: at.Add(11, 2.8)}, sheet.Thin, f))
	}
}
