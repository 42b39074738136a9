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
	area   sheet.Rect // for both, or for each where they are parted
	tracks [4][]label
	inner  []label // that stand inside the top face
	layout layout
}

// layout is how the two faces stand.
type layout int

const (
	abreast layout = iota // the bottom face where the method of projection has it
	below                 // the bottom face below the top
	parted                // each on a sheet of its own
)

// plan chooses the scale, and how the faces stand: at full size or larger both on
// one sheet, else each on its own; where neither will do the largest smaller scale.
// Where not all labels have room, names go to the tables, then ordinates too.
func (a *author) plan() (*plan, error) {
	a.format, _ = sheet.FormatNamed("A3")
	scales := sheet.Scales
	if a.o.Format != "" {
		f, ok := sheet.FormatNamed(a.o.Format)
		if !ok {
			return nil, fmt.Errorf("there is no sheet %q; sheets are %s", a.o.Format, formatNames())
		}
		a.format = f
	}
	if a.o.Scale != "" {
		s, ok := sheet.ScaleNamed(a.o.Scale)
		if !ok {
			return nil, fmt.Errorf("%q is no scale of ISO 5455; scales are 50:1 20:1 10:1 5:1 2:1 1:1 1:2 1:5 1:10 and on to 1:10000", a.o.Scale)
		}
		scales = []sheet.Scale{s}
	}
	if p := a.fit(scales); p != nil {
		return p, nil
	}
	return nil, a.tooLarge(scales[len(scales)-1])
}

// fit finds labels, layout and scale.
func (a *author) fit(scales []sheet.Scale) *plan {
	least := 0
	if a.o.Marked {
		least = 2
	}
	plans := [3]*plan{}
	for a.dense = least; a.dense <= 2; a.dense++ {
		tracks, inner := a.tracks()
		plans[a.dense] = &plan{area: a.areaOf(a.format), tracks: tracks, inner: inner}
	}
	full := 0
	for full < len(scales) && scales[full].Factor() >= 1 {
		full++
	}
	half := min(full+1, len(scales)) // down to half the size names count for more than the scale
	for a.dense = least; a.dense <= 2; a.dense++ {
		p := plans[a.dense]
		if a.try(p, scales[:full]) || a.try(p, scales[full:half]) {
			return p
		}
	}
	for _, s := range scales[half:] {
		for a.dense = least; a.dense <= 2; a.dense++ {
			if a.try(plans[a.dense], []sheet.Scale{s}) {
				return plans[a.dense]
			}
		}
	}
	a.dense = 2
	return nil
}

// try finds the largest of some scales at which a plan's faces have room, both on
// one sheet, or else each on its own.
func (a *author) try(p *plan, scales []sheet.Scale) bool {
	for _, layouts := range [...][]layout{{abreast, below}, {parted}} {
		for _, s := range scales {
			for _, p.layout = range layouts {
				if a.fits(p, s) {
					a.scale = s
					return true
				}
			}
		}
	}
	return false
}

// fits tells whether a plan's faces and labels have room at a scale.
func (a *author) fits(p *plan, s sheet.Scale) bool {
	w, h := a.need(p, s.Factor())
	return w <= p.area.W() && h <= p.area.H() && a.roomy(p.tracks, s.Factor())
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
	return a.max.X - a.min.X, a.max.Y - a.min.Y
}

// need is what the faces take at a scale, side by side, one below the other, or
// the top one alone.
func (a *author) need(p *plan, k float64) (w, h float64) {
	bw, bh := a.size()
	topW, topH := bw*k+depth(p.tracks[0])+depth(p.tracks[2]), bh*k+depth(p.tracks[1])+depth(p.tracks[3])+titleH
	botW, botH := bw*k+2*6, bh*k+2*6+titleH
	switch p.layout {
	case abreast:
		return topW + gutter + botW, math.Max(topH, botH)
	case below:
		return math.Max(topW, botW), topH + botH
	}
	return topW, topH
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
func (a *author) tooLarge(s sheet.Scale) error {
	tracks, _ := a.tracks()
	p := &plan{area: a.areaOf(a.format), tracks: tracks, layout: parted}
	w, h := a.need(p, s.Factor())
	hint := ""
	if best := a.fit(sheet.Scales); best != nil {
		hint = fmt.Sprintf("; the largest scale that fits is %s", a.scale)
	}
	return fmt.Errorf("the board does not fit on %s at %s: a face takes %.0f mm by %.0f mm, the sheet has %.0f mm by %.0f mm for it%s", a.format.Name, s, w, h, p.area.W(), p.area.H(), hint)
}

// faces draws the two faces on the first sheet, or on the first two.
func (a *author) faces(p *plan) [2]*view {
	first := a.page("Faces")
	second := first
	k := a.scale.Factor()
	w, h := a.size()
	needW, needH := a.need(p, k)
	dx, dy := (p.area.W()-needW)/2, (p.area.H()-needH)/2
	// The top face with its labels in the middle of what is left; the bottom one beside
	// it, to the right in the first angle's method and to the left in the third's.
	at := sheet.Point{X: p.area.Min.X + (p.area.W()-w*k-depth(p.tracks[0])-depth(p.tracks[2]))/2 + depth(p.tracks[2])}
	corner := sheet.Point{X: p.area.Min.X + (p.area.W()-w*k)/2, Y: p.area.Min.Y + dy*2/3 + 6}
	if p.layout == below {
		dy = dy * 2 / 3
	}
	at.Y = p.area.Max.Y - dy - titleH - depth(p.tracks[1]) - h*k
	switch {
	case p.layout == abreast && a.o.ThirdAngle:
		dx = dx * 2 / 3
		at.X = p.area.Max.X - dx - depth(p.tracks[0]) - w*k
		corner = sheet.Point{X: p.area.Min.X + dx + 6, Y: at.Y}
	case p.layout == abreast:
		dx = dx * 2 / 3
		at.X = p.area.Min.X + dx + depth(p.tracks[2])
		corner = sheet.Point{X: p.area.Max.X - dx - 6 - w*k, Y: at.Y}
	case p.layout == parted:
		first.Title = "Top face"
		second = a.page("Bottom face")
		corner.Y = p.area.Min.Y + (p.area.H()-h*k-titleH)/2
	}
	top, bottom := a.view(first, scene.Top, at), a.view(second, scene.Bottom, corner)
	for _, v := range [...]*view{top, bottom} {
		v.draw()
		v.area = p.area
	}
	for side, list := range p.tracks {
		top.track(side, list)
	}
	top.title(top.box.Max.Y+depth(p.tracks[1])+1.5, "Top face")
	bottom.title(bottom.box.Max.Y+7.5, "Bottom face, seen from below")
	a.free = p.layout != abreast
	return [2]*view{top, bottom}
}

// title writes a face's title over it.
func (v *view) title(y float64, words string) {
	t := bold(sheet.Point{X: v.box.Min.X, Y: y}, words, sheet.Large)
	t.At.X = math.Max(v.area.Min.X, math.Min(t.At.X, v.area.Max.X-t.Width()))
	v.sheet.Write(t)
}

// label labels what lies inside a face: the findings' numbers first, which must
// find room.
func (v *view) label(inner []label) {
	v.datum()
	v.place = newPlacer(v.sheet, v.area)
	v.marks()
	if v.side == scene.Top {
		v.inner(inner)
		return
	}
	v.features()
	v.edgeNames()
}

// view places one face, its drawing's lower left corner at a point.
func (a *author) view(s *sheet.Sheet, side scene.Side, corner sheet.Point) *view {
	k := a.scale.Factor()
	w, h := a.size()
	v := &view{a: a, sheet: s, side: side, name: "top", k: k}
	v.origin = corner.Add(-a.min.X*k, -a.min.Y*k)
	if side == scene.Bottom {
		v.name, v.mirror = "bottom", true
		v.origin.X = corner.X + a.max.X*k
	}
	v.box = sheet.Rect{Min: corner, Max: corner.Add(w*k, h*k)}
	return v
}

// named labels something on the face; where that has no room the legend says so.
func (v *view) named(at, foot sheet.Point, words string) {
	const reach = 28
	if !v.place.label(at, words, "", reach, foot) {
		v.a.unnamed = true
	}
}

// inner labels what lies inside the board: cutouts, holes, the stretches round them,
// what no track takes, and the edges' names.
func (v *view) inner(list []label) {
	if o := v.origin; !v.a.o.Marked && !v.a.far {
		v.place.label(o.Add(4, 4), "datum", v.name+".datum.name", 45, o)
	}
	for _, c := range v.a.b.Cutouts() {
		if c.Profile != nil && v.a.dense < 2 {
			at := v.model(c.Centre)
			if c.Kind == "start" {
				at = v.model(c.Profile.Path.Centroid())
			}
			v.named(at, at, cutoutLabel(c))
		}
	}
	for _, h := range v.a.b.Holes() {
		if v.a.dense < 2 {
			v.named(v.model(h.Centre), v.model(h.Centre), holeLabel(h))
		}
	}
	for _, r := range v.a.runs {
		if r.Plating != nil && r.Profile.Cutout && v.a.dense < 2 {
			at := v.model(r.Profile.Path.At(r.From + r.Length()/3))
			v.named(at, at, shown(r.label, 24))
		}
	}
	for _, l := range list {
		foot, out := v.model(l.at), v.way(l.out)
		v.named(foot.Add(4*out.X, 4*out.Y), foot, l.text)
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
			half := (f.Shape.Box().Max.Y - f.Shape.Box().Min.Y) / 2 / mm * v.k
			v.named(v.model(f.Centre).Add(0, half+2.5), v.model(f.Centre).Add(0, half), shown(f.Name.Text, 16))
		}
	}
}

// holeLabel tells plated holes from those that are not: both are circles.
func holeLabel(h *board.Hole) string {
	return shown(h.Name.Text, 24) + " " + aside("⌀"+length(h.Diameter)) + " " + h.State()
}

func cutoutLabel(c *board.Cutout) string {
	name := shown(c.Name.Text, 24)
	switch c.Kind {
	case "slot":
		s := figure(c.SlotLength()/mm) + " × " + length(c.Width)
		if d := turned(c); d != 0 {
			s += ", " + figure(d) + "°"
		}
		return name + " " + aside(s)
	case "circle", "rectangle":
		s := shapeOf(c)
		if list := c.Profile.Corners; len(list) > 0 {
			s += ", R" + figure(radius(c.Profile, list[0])/mm)
		}
		return name + " " + aside(s)
	}
	return name
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
		if c, ok := v.place.find(beside, foot, box.W(), box.H(), 30); ok {
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

// marks are the numbers of findings, each in a ring at what it is about. Where
// none has room the legend says so.
func (v *view) marks() {
	reach := math.Hypot(v.area.W(), v.area.H())
	tried := 0
	for n, f := range v.a.o.Findings {
		for _, i := range f.Items {
			item := &v.a.scene.Items[i]
			if !v.shows(item) {
				continue
			}
			if !v.mark(fmt.Sprint(n+1), item, i, math.Min(reach, 60)) && (tried > 8 || !v.mark(fmt.Sprint(n+1), item, i, reach)) {
				tried++
				v.a.ringless = append(v.a.ringless, fmt.Sprint(n+1))
			}
			break // once a face; the list names the rest
		}
	}
}

// mark draws one ring, as near to an item as there is room for it.
func (v *view) mark(number string, item *scene.Item, i int, reach float64) bool {
	t := sheet.Text{S: number, Height: sheet.Small, Align: sheet.Centre, Bold: true}
	at, out, r := v.at(item.At), v.way2(item.Out), math.Max(2.6, t.Width()/2+0.8)
	c, ok := v.place.find(at.Add((r+1.5)*out.X, (r+1.5)*out.Y), at, 2*r, 2*r, reach)
	if !ok {
		return false
	}
	if d := math.Hypot(at.X-c.X, at.Y-c.Y); d > r {
		edge := c.Add((at.X-c.X)/d*r, (at.Y-c.Y)/d*r)
		v.sheet.Add(dot(at), sheet.Strokes(sheet.Thin, edge, at))
	}
	v.sheet.Add(sheet.Shape{ID: v.name + ".finding." + number + "." + fmt.Sprint(i), Line: sheet.Thick, Fill: sheet.White, Paths: []sheet.Path{sheet.Circle(c, r)}})
	t.At = c.Add(0, -sheet.Small/2)
	v.sheet.Write(t)
	within := sheet.Rect{Min: c, Max: c}.Grow(r * math.Sqrt2 / 2)
	v.place.boxes.add(within, within) // no leader crosses it
	return true
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
