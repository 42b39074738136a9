package drawing

import (
	"fmt"
	"math"

	"hemline/lang/board"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
)

// Sizes of the sheet's fixed parts, mm: the title block (ISO 7200, from
// memory: 180 wide) and the gap between things.
const (
	blockW = 180.0
	blockH = 36.0
	gutter = 4.0
	titleH = 9.0 // a view's title
	column = 122.0
	margin = 6.5 // from the frame to what stands in columns: the centring marks reach 5 in
)

// plan is where the faces go.
type plan struct {
	area   sheet.Rect // for both
	tracks [4][]label
	beside bool // the bottom face stands beside the top, or else below it
}

// plan chooses the sheet and the scale: the smallest format from A3 on that
// takes the faces at 1:1 or larger, and there the largest scale. Where they fit
// nowhere with all labels, names go to the tables, then ordinates too.
func (a *author) plan() (*plan, error) {
	formats, scales := sheet.Formats[2:], sheet.Scales
	if a.o.Format != "" {
		f, ok := sheet.FormatNamed(a.o.Format)
		if !ok {
			return nil, fmt.Errorf("there is no sheet %q; sheets are %s", a.o.Format, formatNames())
		}
		formats = []sheet.Format{f}
	}
	if a.o.Scale != "" {
		s, ok := sheet.ScaleNamed(a.o.Scale)
		if !ok {
			return nil, fmt.Errorf("%q is no scale of ISO 5455; scales are 50:1 20:1 10:1 5:1 2:1 1:1 1:2 1:5 1:10 and on to 1:10000", a.o.Scale)
		}
		scales = []sheet.Scale{s}
	}
	least := 0
	if a.o.Marked {
		least = 2
	}
	for a.dense = least; a.dense <= 2; a.dense++ {
		tracks := a.tracks()
		if p := a.fit(formats, scales, tracks); p != nil {
			return p, nil
		}
	}
	a.dense = 2
	return nil, a.tooLarge(formats, scales)
}

// fit finds format and scale for one set of labels.
func (a *author) fit(formats []sheet.Format, scales []sheet.Scale, tracks [4][]label) *plan {
	for i, f := range formats {
		for _, s := range scales {
			if s.Factor() < 1 && i+1 < len(formats) && len(scales) > 1 {
				break // a larger sheet may take it at full size
			}
			for _, beside := range [...]bool{true, false} {
				p := &plan{area: a.areaOf(f), tracks: tracks, beside: beside}
				if w, h := a.need(p, s.Factor()); w <= p.area.W() && h <= p.area.H() && a.roomy(tracks, s.Factor()) {
					a.format, a.scale = f, s
					return p
				}
			}
		}
	}
	return nil
}

// areaOf is what a sheet has for the faces: the frame's inside above the title
// block, and beside the list of findings where there is one.
func (a *author) areaOf(f sheet.Format) sheet.Rect {
	r := f.Room()
	r.Min.Y += blockH + gutter
	r.Min, r.Max = r.Min.Add(2, 0), r.Max.Add(-2, -2)
	if a.o.Marked && f.W > 2*column {
		r.Max.X -= column + margin
	}
	return r
}

// size is the board's drawing, mm on the board.
func (a *author) size() (w, h float64) {
	return a.scene.Max.X - a.scene.Min.X, a.scene.Max.Y - a.scene.Min.Y
}

// need is what both faces take at a scale, side by side or one below the other.
func (a *author) need(p *plan, k float64) (w, h float64) {
	bw, bh := a.size()
	topW, topH := bw*k+depth(p.tracks[0])+depth(p.tracks[2]), bh*k+depth(p.tracks[1])+depth(p.tracks[3])+titleH
	botW, botH := bw*k+2*6, bh*k+2*6+titleH
	if p.beside {
		return topW + gutter + botW, math.Max(topH, botH)
	}
	return math.Max(topW, botW), topH + botH
}

// roomy tells whether every track takes its labels.
func (a *author) roomy(tracks [4][]label, k float64) bool {
	w, h := a.size()
	for s, list := range tracks {
		long := w * k
		if upright(s) {
			long = h * k
		}
		if float64(len(list)-1)*pitch > long+2*overlap-3.6 {
			return false
		}
	}
	return true
}

func formatNames() string {
	s := ""
	for i, f := range sheet.Formats {
		if i > 0 {
			s += " "
		}
		s += f.Name
	}
	return s
}

// tooLarge says what does not fit, and what would.
func (a *author) tooLarge(formats []sheet.Format, scales []sheet.Scale) error {
	f := formats[len(formats)-1]
	s := scales[len(scales)-1]
	tracks := a.tracks()
	p := &plan{area: a.areaOf(f), tracks: tracks, beside: true}
	w, h := a.need(p, s.Factor())
	hint := ""
	if best := a.fit(formats, sheet.Scales, tracks); best != nil {
		hint = fmt.Sprintf("; the largest scale that fits is %s", a.scale)
	}
	return fmt.Errorf("the board does not fit on %s at %s: both faces take %.0f mm by %.0f mm, the sheet has %.0f mm by %.0f mm for them%s", f.Name, s, w, h, p.area.W(), p.area.H(), hint)
}

// faces draws the first sheet.
func (a *author) faces(p *plan) {
	s := a.page("Faces")
	k := a.scale.Factor()
	w, h := a.size()
	needW, needH := a.need(p, k)
	dx, dy := (p.area.W()-needW)/2, (p.area.H()-needH)/2
	if p.beside {
		dx = (p.area.W() - needW) / 3
	} else {
		dy = (p.area.H() - needH) / 3
	}
	top := a.view(s, scene.Top, sheet.Point{X: p.area.Min.X + dx + depth(p.tracks[2]), Y: p.area.Max.Y - dy - titleH - depth(p.tracks[1]) - h*k})
	corner := sheet.Point{X: p.area.Max.X - dx - 6 - w*k, Y: p.area.Min.Y + p.area.H()/2 - (h*k+titleH)/2}
	if p.beside {
		corner.Y = top.box.Min.Y
	} else {
		top = a.view(s, scene.Top, sheet.Point{X: p.area.Min.X + (p.area.W()-w*k-depth(p.tracks[0])-depth(p.tracks[2]))/2 + depth(p.tracks[2]), Y: top.box.Min.Y})
		corner = sheet.Point{X: p.area.Min.X + (p.area.W()-w*k)/2, Y: p.area.Min.Y + dy + 6}
	}
	bottom := a.view(s, scene.Bottom, corner)
	for _, v := range [...]*view{top, bottom} {
		v.draw()
	}
	for side, list := range p.tracks {
		top.track(side, list)
	}
	up := top.box.Max.Y + depth(p.tracks[1]) + 1.5
	title := func(v *view, y float64, words string) {
		t := bold(sheet.Point{X: v.box.Min.X, Y: y}, words, sheet.Large)
		t.At.X = math.Max(p.area.Min.X, math.Min(t.At.X, p.area.Max.X-t.Width()))
		s.Write(t)
	}
	title(top, up, "Top face")
	title(bottom, bottom.box.Max.Y+7.5, "Bottom face, seen from below")
	for _, v := range [...]*view{top, bottom} {
		v.datum()
		v.place = newPlacer(s, p.area)
		if a.o.Marked {
			v.marks()
		}
	}
	top.inner()
	bottom.features()
	bottom.edgeNames()
	if !a.o.Marked && len(a.o.Findings) > 0 {
		top.marks()
		bottom.marks()
	}
}

// view places one face, its drawing's lower left corner at a point.
func (a *author) view(s *sheet.Sheet, side scene.Side, corner sheet.Point) *view {
	k := a.scale.Factor()
	w, h := a.size()
	v := &view{a: a, sheet: s, side: side, name: "top", k: k}
	v.origin = corner.Add(-a.scene.Min.X*k, -a.scene.Min.Y*k)
	if side == scene.Bottom {
		v.name, v.mirror = "bottom", true
		v.origin.X = corner.X + a.scene.Max.X*k
	}
	v.box = sheet.Rect{Min: corner, Max: corner.Add(w*k, h*k)}
	return v
}

// inner labels what lies inside the board: cutouts, holes, the stretches round them,
// and the edges' names.
func (v *view) inner() {
	const reach = 45
	if o := v.at(scene.Point{}); !v.a.o.Marked && v.box.Grow(1).Holds(sheet.Rect{Min: o, Max: o}) {
		v.place.label(o.Add(4, 4), "datum", v.name+".datum.name", reach, o)
	}
	for _, c := range v.a.b.Cutouts() {
		if c.Profile != nil && v.a.dense < 2 {
			v.place.label(v.model(c.Profile.Path.Centroid()), cutoutLabel(c), "", reach, v.model(c.Profile.Path.Centroid()))
		}
	}
	for _, h := range v.a.b.Holes() {
		if v.a.dense < 2 {
			v.place.label(v.model(h.Centre), holeLabel(h), "", reach, v.model(h.Centre))
		}
	}
	for _, r := range v.a.runs {
		if r.Plating != nil && r.Profile.Cutout && v.a.dense < 2 {
			at := v.model(r.Profile.Path.At(r.From + r.Length()/3))
			v.place.label(at, shown(r.label, 24), "", reach, at)
		}
	}
	v.features()
	v.edgeNames()
}

// features names the copper that lies on the face, where there is room.
func (v *view) features() {
	if v.a.dense >= 1 {
		return
	}
	for _, f := range v.a.b.Features() {
		face, ok := v.a.b.FaceOf(f.Layer.Text)
		if ok && f.Shape != nil && (face == board.Bottom) == (v.side == scene.Bottom) {
			const near = 12
			half := (f.Shape.Box().Max.Y - f.Shape.Box().Min.Y) / 2 / mm * v.k
			v.place.label(v.model(f.Centre).Add(0, half+2.5), shown(f.Name.Text, 16), "", near, v.model(f.Centre).Add(0, half))
		}
	}
}

// holeLabel tells plated holes from those that are not: both are circles.
func holeLabel(h *board.Hole) string {
	return shown(h.Name.Text, 24) + " ⌀" + length(h.Diameter) + " " + h.State()
}

func cutoutLabel(c *board.Cutout) string {
	name := shown(c.Name.Text, 24)
	box := c.Profile.Path.Box()
	switch c.Kind {
	case "circle":
		return name + " ⌀" + figure((box.Max.X-box.Min.X)/mm)
	case "slot":
		return name + " " + figure(slotLength(c)/mm) + " × " + length(c.Width)
	case "rectangle":
		return name + " " + figure((box.Max.X-box.Min.X)/mm) + " × " + figure((box.Max.Y-box.Min.Y)/mm)
	}
	return name
}

// slotLength is a slot's over all: its rim is two straights and a full circle.
func slotLength(c *board.Cutout) float64 {
	w := c.Width.Value
	return (c.Profile.Path.Perimeter()-math.Pi*w)/2 + w
}

// edgeNames letters the outline's edges inside the board, with a leader where
// there is no room beside the edge.
func (v *view) edgeNames() {
	if v.a.dense >= 2 {
		return
	}
	for _, e := range v.a.b.Outline().Edges {
		middle := e.Position((e.From + e.To) / 2)
		in := v.way(e.Inward(middle))
		foot := v.model(e.Point(middle))
		t := sheet.Text{S: shown(e.Name, 24), Height: sheet.Small, Align: sheet.Centre}
		box := t.Box()
		off := 3 + math.Abs(in.X)*box.W()/2 + math.Abs(in.Y)*box.H()/2
		beside := foot.Add(in.X*off, in.Y*off)
		if c, ok := v.place.find(beside, box.W(), box.H(), 30); ok {
			t.At = c.Add(0, -sheet.Small/2)
			if moved := math.Hypot(c.X-beside.X, c.Y-beside.Y); moved > 4 && moved > v.along(e)/3 {
				v.place.lead(foot, t.Box(), v.name+".edge."+e.Name)
			}
			v.sheet.Write(t)
		}
	}
}

// along is how long an edge is drawn, mm.
func (v *view) along(e *board.Edge) float64 { return (e.To - e.From) / mm * v.k }

// marks are the numbers of findings, each in a ring at what it is about.
func (v *view) marks() {
	for n, f := range v.a.o.Findings {
		for _, i := range f.Items {
			item := &v.a.scene.Items[i]
			if !v.shows(item) {
				continue
			}
			at := v.at(item.At)
			const r = 2.6
			c, ok := v.place.find(at.Add(4*v.way2(item.Out).X, 4*v.way2(item.Out).Y), 2*r, 2*r, 60)
			if !ok {
				continue
			}
			d := math.Hypot(at.X-c.X, at.Y-c.Y)
			if d > r {
				edge := c.Add((at.X-c.X)/d*r, (at.Y-c.Y)/d*r)
				v.sheet.Add(dot(at), sheet.Strokes(sheet.Thin, edge, at))
			}
			v.sheet.Add(sheet.Shape{ID: fmt.Sprintf("%s.finding.%d.%d", v.name, n+1, i), Line: sheet.Thick, Fill: sheet.White, Paths: []sheet.Path{sheet.Circle(c, r)}})
			v.sheet.Write(sheet.Text{At: c.Add(0, -sheet.Small/2), S: fmt.Sprint(n + 1), Height: sheet.Small, Align: sheet.Centre, Bold: true})
			break // once a face; the list names the rest
		}
	}
}

func (v *view) way2(p scene.Point) scene.Point {
	if v.mirror {
		p.X = -p.X
	}
	return p
}

// shows tells whether an item is drawn on the face: what lies on the bottom
// alone, or on the top or through the board, which the top face shows.
func (v *view) shows(i *scene.Item) bool {
	bottom, other := false, len(i.Parts) == 0
	for _, p := range i.Parts {
		if p.Side == scene.Bottom {
			bottom = true
		} else {
			other = true
		}
	}
	if v.side == scene.Bottom {
		return bottom && !other
	}
	return other
}
