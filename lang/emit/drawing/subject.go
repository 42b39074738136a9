package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hemline/lang/board"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
	"hemline/lang/emit/wording"
	"hemline/lang/geom"
)

// tabLength is how long a tab is drawn, mm.
func (c *closeup) tabLength() float64 {
	if t := c.s.tab; t.Length.Given() {
		return t.Length.Value / mm
	}
	return scene.TabReach
}

// tab draws the bridge, the finished profile through it, and its row of holes.
func (c *closeup) tab(t *board.Tab) {
	l, r := c.x(t.From()), c.x(t.To())
	l, r = math.Min(l, r), math.Max(l, r)
	high := c.tabLength() * c.k
	high = math.Max(high, c.rounds(t, l, r))
	c.Add(sheet.Shape{ID: "detail.tab", Line: sheet.Thick, Fill: sheet.Clear, Paths: []sheet.Path{c.flank(t, l, high, -1), c.flank(t, r, high, 1)}})
	c.platedFlanks(t, l, r)
	c.cutOff(sheet.Point{X: l - 1.5, Y: high}, sheet.Point{X: r + 1.5, Y: high})
	c.Add(sheet.Strokes(sheet.Phantom, sheet.Point{X: l}, sheet.Point{X: r}))
	c.across(l, r, high, 1, length(t.Width))
	if t.Length.Given() {
		c.up(0, high, r, 1, length(t.Length))
	}
	n := float64(t.HoleCount())
	if n == 0 {
		return
	}
	y, radius, step := -t.Inset.Value/mm*c.k, t.Hole.Value/2/mm*c.k, t.Pitch.Value/mm*c.k
	first := (l+r)/2 - (n-1)/2*step
	for i := 0.0; i < n; i++ {
		c.Add(sheet.Shape{ID: "detail.hole", Line: sheet.Thick, Fill: sheet.White, Paths: []sheet.Path{sheet.Circle(sheet.Point{X: first + i*step, Y: y}, radius)}})
	}
	c.Add(sheet.Strokes(sheet.ChainThin, sheet.Point{X: first - radius - 2, Y: y}, sheet.Point{X: first + (n-1)*step + radius + 2, Y: y}))
	if n > 1 {
		c.across(first, first+step, y-radius, -1, length(t.Pitch))
	}
	if t.Inset.Value != 0 {
		c.up(0, y, first+(n-1)*step+radius+2, 1, figure(math.Abs(t.Inset.Value)/mm))
	}
	c.point(sheet.Point{X: first + (n-1)*step + radius*math.Sqrt2/2, Y: y - radius*math.Sqrt2/2}, aside(fmt.Sprintf("%g× ⌀%s", n, length(t.Hole))))
}

// flank is a side of a tab up to a height: straight, or where the bit is known the
// round that the slot beside it ends in, as wide as the bit. Where the tab says how
// long it is the slot is as wide, and the passes side by side all end there.
func (c *closeup) flank(t *board.Tab, x, high, side float64) sheet.Path {
	p := sheet.Path{Start: sheet.Point{X: x}}
	if c.a.o.Cut != nil {
		if r := c.a.o.Cut(t).Radius / mm * c.k; r > 0 {
			if t.Length.Given() && high > 2*r {
				waist := x - side*r
				round := func(to, centre sheet.Point) sheet.Step {
					return sheet.Step{To: to, Arc: true, Clockwise: side > 0, Centre: centre}
				}
				p.Steps = append(p.Steps, round(sheet.Point{X: waist, Y: r}, sheet.Point{X: x, Y: r}),
					sheet.Step{To: sheet.Point{X: waist, Y: high - r}}, round(sheet.Point{X: x, Y: high}, sheet.Point{X: x, Y: high - r}))
				return p
			}
			p.Steps = append(p.Steps, sheet.Step{To: sheet.Point{X: x, Y: 2 * r}, Arc: true, Clockwise: side > 0, Centre: sheet.Point{X: x, Y: r}})
		}
	}
	return sheet.Path{Start: p.Start, Steps: append(p.Steps, sheet.Step{To: sheet.Point{X: x, Y: high}})}
}

// platedFlanks draws the line of a treated surface along the rounds of a tab that
// plating runs up to: the first pass ends there, and its end is plated.
func (c *closeup) platedFlanks(t *board.Tab, l, r float64) {
	if c.a.o.Cut == nil {
		return
	}
	radius := c.a.o.Cut(t).Radius / mm * c.k
	for _, at := range []struct{ x, side float64 }{{l, -1}, {r, 1}} {
		upTo := slices.ContainsFunc(c.plated, func(p part) bool {
			out := at.x + at.side*0.1
			return p.l <= out && out <= p.r
		})
		if !upTo || radius <= apart {
			continue
		}
		end := sheet.Point{X: at.x, Y: 2*radius - apart}
		if t.Length.Given() && c.tabLength()*c.k > 2*radius {
			end = sheet.Point{X: at.x - at.side*(radius-apart), Y: radius}
		}
		arc := sheet.Step{To: end, Arc: true, Clockwise: at.side > 0, Centre: sheet.Point{X: at.x, Y: radius}}
		c.Add(sheet.Shape{ID: "detail.treated", Line: sheet.ChainThick, Fill: sheet.Clear, Paths: []sheet.Path{{Start: sheet.Point{X: at.x, Y: apart}, Steps: []sheet.Step{arc}}}})
	}
}

// rounds measures what the bit leaves between a tab's sides, and is how high its
// rounds reach.
func (c *closeup) rounds(t *board.Tab, l, r float64) float64 {
	if c.a.o.Cut == nil {
		return 0
	}
	cut := c.a.o.Cut(t)
	radius := cut.Radius / mm * c.k
	if half := cut.Waist / 2 / mm * c.k; half > 0 {
		c.across((l+r)/2-half, (l+r)/2+half, radius, 1, figure(cut.Waist/mm))
	}
	c.point(sheet.Point{X: r - radius*math.Sqrt2/2, Y: radius * (1 - math.Sqrt2/2)}, aside("R"+figure(cut.Radius/mm)))
	return 2 * radius
}

// connector draws the body over the edge and the pins on the top face.
func (c *closeup) connector() {
	x := c.s.connector
	if x == nil {
		return
	}
	if w := x.Body.Value / 2 / mm * c.k; w > 0 {
		at, reach, out := c.x(x.Position), x.BodyReach.Value/mm*c.k, scene.BodyOut(x)/mm*c.k
		body := framed(sheet.Rect{Min: sheet.Point{X: at - w, Y: -reach}, Max: sheet.Point{X: at + w, Y: out}}, sheet.Phantom, sheet.Clear)
		body.ID = "detail.body"
		c.Add(body)
		c.across(at-w, at+w, out, 1, length(x.Body))
		if reach > 0 {
			c.up(-reach, 0, at-w, -1, length(x.BodyReach))
		}
		if x.Overhang.Given() {
			c.up(0, out, at+w, 1, length(x.Overhang))
		}
	}
	c.legs(x)
	for _, p := range x.Pins {
		if p.Face != board.Top || p.Width.Value <= 0 {
			continue
		}
		at, half, long := c.x(x.Position), p.Width.Value/2/mm*c.k, p.Length.Value/mm*c.k
		c.Add(sheet.Shape{ID: "detail.pin", Line: sheet.Thin, Fill: sheet.White, Paths: []sheet.Path{sheet.Box(sheet.Rect{Min: sheet.Point{X: at - half, Y: -long}, Max: sheet.Point{X: at + half}})}})
		c.across(at-half, at+half, -long, -1, length(p.Width))
		c.up(-long, 0, at+half, 1, length(p.Length))
	}
}

// legs draws a connector's ground legs on the top face.
func (c *closeup) legs(x *board.Connector) {
	if x.Legs == nil || !slices.Contains(x.Legs.Faces, board.Top) {
		return
	}
	half, long := x.Legs.Width.Value/2/mm*c.k, x.Legs.Length.Value/mm*c.k
	var at []float64
	for _, p := range x.LegsAt() {
		at = append(at, c.x(p))
		c.Add(sheet.Shape{ID: "detail.leg", Line: sheet.Thin, Fill: sheet.White, Paths: []sheet.Path{sheet.Box(sheet.Rect{Min: sheet.Point{X: c.x(p) - half, Y: -long}, Max: sheet.Point{X: c.x(p) + half}})}})
	}
	left, right := slices.Min(at), slices.Max(at)
	c.across(left, right, -long, -1, length(x.Legs.Spacing))
	c.across(right-half, right+half, -long, -1, length(x.Legs.Width))
	c.up(-long, 0, right+half, 1, length(x.Legs.Length))
}

// sample is which half holes stand for a row in its detail: of one with a pitch
// some, of those that stand each at its place the first.
func sample(row *board.Castellation) []float64 {
	if !row.Pitch.Given() {
		return row.Centres[:1]
	}
	return row.Centres[:min(len(row.Centres), 3)]
}

// row draws the first half holes with their lands.
func (c *closeup) row(row *board.Castellation) {
	radius, wide, long := row.Hole.Value/2/mm*c.k, row.LandWidth.Value/mm*c.k, row.LandLength.Value/mm*c.k
	open := c.a.opened(row.Name.Text)[board.Top]
	seen := wide > 0 && long > 0 && c.a.b.LandsOn(row, c.a.b.OuterLayer(board.Top))
	centres := sample(row)
	for _, p := range centres {
		if half := wide/2 + open.margin/mm*c.k; open.reach > 0 {
			c.area(c.x(p)-half, 0, c.x(p)+half, -open.reach/mm*c.k, sheet.Light, "detail.opening")
		}
	}
	for _, p := range centres {
		x := c.x(p)
		if seen {
			c.area(x-wide/2, 0, x+wide/2, -long, sheet.Medium, "detail.land")
		}
		half := sheet.Path{Start: sheet.Point{X: x - radius}, Steps: []sheet.Step{{To: sheet.Point{X: x + radius}, Arc: true, Centre: sheet.Point{X: x}}}}
		c.Add(sheet.Shape{Fill: sheet.White, Paths: []sheet.Path{half}}, sheet.Shape{ID: "detail.half", Line: sheet.Thick, Fill: sheet.Clear, Paths: []sheet.Path{half}})
		if r := radius - apart; r > 1 {
			c.Add(sheet.Shape{ID: "detail.treated", Line: sheet.ChainThick, Fill: sheet.Clear, Paths: []sheet.Path{
				{Start: sheet.Point{X: x - r}, Steps: []sheet.Step{{To: sheet.Point{X: x + r}, Arc: true, Centre: sheet.Point{X: x}}}}}})
		}
	}
	at := make([]float64, len(centres))
	for i, p := range centres {
		at[i] = c.x(p)
	}
	if len(at) > 1 {
		c.across(at[0], at[1], radius, 1, wording.Millimetres(math.Abs(centres[1]-centres[0])))
	}
	left, right := slices.Min(at), slices.Max(at)
	if seen {
		c.across(left-wide/2, left+wide/2, -long, -1, length(row.LandWidth))
		c.up(-long, 0, left-wide/2, -1, length(row.LandLength))
	}
	words := "⌀" + length(row.Hole)
	if n := len(row.Centres); n > 1 {
		words = fmt.Sprintf("%d× %s", n, words)
	}
	c.point(sheet.Point{X: right + radius*math.Sqrt2/2, Y: -radius * math.Sqrt2 / 2}, aside(words))
}

// point notes a leader with a text, which is drawn below the view at its right.
func (c *closeup) point(at sheet.Point, s string) { c.leaders = append(c.leaders, leader{at, s}) }

// leader is a line from a place to a text.
type leader struct {
	at sheet.Point
	s  string
}

func (c *closeup) pointed() {
	for i, l := range c.leaders {
		to := sheet.Point{X: c.right + 4, Y: -c.deep*c.k - 3 + float64(i)*(pitch+1)}
		t := text(to.Add(4, -sheet.Small/2), l.s, sheet.Small)
		c.Add(sheet.Strokes(sheet.Thin, l.at, to, to.Add(3, 0)), arrow(to, l.at),
			sheet.Shape{Fill: sheet.White, Paths: []sheet.Path{sheet.Box(t.Box().Grow(0.2))}})
		c.Write(t)
	}
}

func isArc(s geom.Segment) bool { return s.Arc }

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

func hundredths(v float64) float64 { return math.Round(v*100) + 0 }

// alike tells drawings apart: the same for those that no reader could tell
// from one another.
func alike(k *sketch) string {
	var list []string
	for _, s := range k.Shapes {
		if s.ID == "" && !s.Line.Heavy() {
			continue // leaders and dimension lines, which go with the figures
		}
		for _, p := range s.Paths {
			r := between(p.Flat()...)
			list = append(list, fmt.Sprint(s.ID, s.Line, s.Fill, hundredths(r.Min.X), hundredths(r.Min.Y), hundredths(r.Max.X), hundredths(r.Max.Y)))
		}
	}
	for _, t := range k.Texts {
		list = append(list, t.S)
	}
	slices.Sort(list)
	return strings.Join(list, "|")
}
