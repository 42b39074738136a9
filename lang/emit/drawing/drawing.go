// Package drawing lays a board out on sheets for the shop: both faces with
// what is plated and where it starts and ends, sections through the walls,
// details of tabs, gaps and half holes, tables, notes and findings. What it
// says comes from the board's text; what the text leaves open is left open.
//
// Conventions of ISO 128 (lines), 129-1 (dimensions), 5456-2 (projection) and
// 7200 (title block) are from memory: the standards could not be read here.
package drawing

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"hemline/lang/board"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
	"hemline/lang/emit/wording"
	"hemline/lang/quantity"
	"hemline/lang/rout"
)

// Options say how a board is drawn.
type Options struct {
	Format     string            // of the sheets; "" for A3
	Scale      string            // of the faces; "" for the largest that fits
	ThirdAngle bool              // the method of projection; the first angle's otherwise
	Date       time.Time         // of issue; zero leaves its field empty
	Notes      []wording.Section // the fabrication notes, in order
	Findings   []Finding         // what stands against the board, in order
	Accepted   int               // how many findings are agreed
	Field      *scene.Field      // of a mode of the planes, nil for none
	// Cut tells how the bits leave a tab; nil where that is not known.
	Cut func(*board.Tab) rout.TabCut
	// Marked draws the findings at what they are about, and no details or tables.
	Marked bool
}

// Finding is what was found, and the numbers of the scene's items that it is about.
type Finding struct {
	Category, Rule, Message, Where string
	Items                          []int
}

// ErrNoOutline is returned for a board without a closed outline.
var ErrNoOutline = errors.New("the board has no outline that closes; state one, such as: outline rectangle 62 mm by 38 mm")

const mm = quantity.NmPerMillimetre

// author lays one board out.
type author struct {
	b      *board.Board
	scene  *scene.Scene
	o      Options
	format sheet.Format
	scale  sheet.Scale
	sheets []*sheet.Sheet
	runs   []run
	left   bool // some kinds have no detail
	// min and max are the corners of what the faces show, mm; far tells that the datum
	// lies too far off the board to be within.
	min, max scene.Point
	far      bool
	free     bool     // the bottom face does not stand beside the top one
	unnamed  bool     // some names have no room on the faces
	ringless []string // numbers of findings that no ring had room for
	cover    bool     // it is the cover of a package, or another sheet without a view
	// document is what such a sheet is, where it is no cover.
	document string
	dense    int // what the faces leave to the tables: 0 nothing, 1 names, 2 ordinates too

	widths map[*board.Profile]float64 // of cutouts at their narrowest, nm, where the text states it
	bared  map[string][]board.Bared   // mask taken off, by what it is over
}

// run is a stretch of a profile, plated or bare.
type run struct {
	board.Stretch
	id    string
	label string // for a plated one: its plating and number
}

// Make draws a board on sheets. It fails where there is no outline, and where
// the format or the scale that is asked for does not do.
func Make(b *board.Board, s *scene.Scene, o Options) ([]*sheet.Sheet, error) {
	if b.Outline() == nil {
		return nil, ErrNoOutline
	}
	a := &author{b: b, scene: s, o: o}
	a.collect()
	plan, err := a.plan()
	if err != nil {
		return nil, err
	}
	for _, v := range a.faces(plan) {
		v.label(plan.inner)
	}
	blocks := a.blocks()
	a.flow(blocks)
	for i, x := range a.sheets {
		a.titleBlock(x, i+1, len(a.sheets))
	}
	a.strip(a.sheets[0])
	return a.sheets, nil
}

// collect numbers the stretches, the plated ones under their plating, and finds
// what is asked for of each plating or profile.
func (a *author) collect() {
	names := a.b.StretchNames()
	for _, p := range a.b.Profiles() {
		wall := a.b.Finished(p)
		for _, s := range wall.Plated {
			by := s.Plating.Name.Text
			a.runs = append(a.runs, run{s, "plated." + by + "." + names[s][len(by)+1:], names[s]})
		}
		for i, s := range wall.Bare {
			a.runs = append(a.runs, run{s, fmt.Sprintf("bare.%s.%d", p.Name, i+1), ""})
		}
	}
	a.extend()
	a.widths, a.bared = map[*board.Profile]float64{}, map[string][]board.Bared{}
	for _, c := range a.b.Cutouts() {
		if _, known := a.widths[c.Profile]; !known && c.Width.Given() {
			a.widths[c.Profile] = c.Width.Value
		}
	}
	for _, r := range a.b.Reliefs() {
		for _, o := range a.b.Openings(r, a.scene.MaskMargin) {
			a.bared[o.Over] = append(a.bared[o.Over], o)
		}
	}
}

// extend makes what the faces show hold the datum, where that is not much farther
// off the board than the board is large.
func (a *author) extend() {
	a.min, a.max = a.scene.Min, a.scene.Max
	off := math.Max(math.Max(a.min.X, -a.max.X), math.Max(a.min.Y, -a.max.Y))
	if a.far = off > math.Max(a.max.X-a.min.X, a.max.Y-a.min.Y); a.far {
		return
	}
	a.min = scene.Point{X: math.Min(a.min.X, 0), Y: math.Min(a.min.Y, 0)}
	a.max = scene.Point{X: math.Max(a.max.X, 0), Y: math.Max(a.max.Y, 0)}
}

// page starts a sheet.
func (a *author) page(title string) *sheet.Sheet {
	s := &sheet.Sheet{Format: a.format, Title: title}
	s.Frame()
	a.sheets = append(a.sheets, s)
	return s
}

// figure writes a length in mm to the micrometre, without idle zeros.
func figure(v float64) string { return wording.Millimetres(v * mm) }

// length writes a model's length.
func length(v board.Value) string { return wording.Millimetres(v.Value) }

// micrometres writes a model's length as thicknesses of copper are written.
func micrometres(v board.Value) string { return wording.Micrometres(v.Value) }

// shown makes a text one line that the lettering has, and cuts it to a number
// of characters, which the ellipsis shows; 0 for no limit.
func shown(s string, most int) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || !sheet.Has(r) {
			return '\uFFFD'
		}
		return r
	}, wording.OneLine(s))
	if list := []rune(s); most > 0 && len(list) > most {
		return string(list[:most-1]) + "…"
	}
	return s
}

func text(at sheet.Point, s string, height float64) sheet.Text {
	return sheet.Text{At: at, S: s, Height: height}
}

func bold(at sheet.Point, s string, height float64) sheet.Text {
	return sheet.Text{At: at, S: s, Height: height, Bold: true}
}

// framed is a rectangle of lines.
func framed(r sheet.Rect, l sheet.Line, f sheet.Fill) sheet.Shape {
	return sheet.Shape{Line: l, Fill: f, Paths: []sheet.Path{sheet.Box(r)}}
}

// arrow is an arrowhead (ISO 129-1: closed and filled) with its point at `to`.
func arrow(from, to sheet.Point) sheet.Shape {
	const long, half = 2.5, 0.42
	d := math.Hypot(to.X-from.X, to.Y-from.Y)
	if d == 0 {
		return sheet.Shape{Fill: sheet.Clear}
	}
	x, y := (to.X-from.X)/d, (to.Y-from.Y)/d
	back := to.Add(-long*x, -long*y)
	return sheet.Shape{Fill: sheet.Black, Paths: []sheet.Path{sheet.Polyline(true, to, back.Add(-half*y, half*x), back.Add(half*y, -half*x))}}
}

// dot is the end of a leader or a dimension line without room for an arrowhead.
func dot(at sheet.Point) sheet.Shape {
	return sheet.Shape{Fill: sheet.Black, Paths: []sheet.Path{sheet.Circle(at, 0.5)}}
}
