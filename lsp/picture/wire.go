package picture

import (
	"encoding/json"
	"math"
	"strconv"

	"hemline/lang/emit/scene"
	"hemline/lang/source"
)

// Frame is one state of the picture.
type Frame struct {
	File     string // the text's name, as people know it
	Scene    *scene.Scene
	Findings []Finding
	// NotVerified is what the board asks for that could not be worked out.
	NotVerified []Request
	Accepted    []Accepted
	// Field is that of a mode of the planes, nil for none; Waits tells that it is
	// still being worked out.
	Field *scene.Field
	Waits bool
	// Trouble says why the picture is not of the text as it is now; "" where it is.
	Trouble string
	// CanGo tells whether a click moves the editor.
	CanGo bool
}

// Finding is one thing found, and the items it is marked at.
type Finding struct {
	Category, Rule, Message string
	Place                   source.Place
	File                    string // "" for the text itself, else the name of the one it lies in
	Line                    int    // from 1
	Items                   []string
	At                      *scene.Point // where on the board it is, mm; nil: at its items
}

// Request is something that the board asks for and that is not verified.
type Request struct {
	Asked    string `json:"asked"`
	Why      string `json:"why"`
	Accepted bool   `json:"accepted,omitempty"` // as it is
}

// Accepted is a finding that is agreed, and why.
type Accepted struct {
	Rule    string `json:"rule"`
	Message string `json:"message"`
	Because string `json:"because"`
	Until   string `json:"until,omitempty"`
}

// The types below are the page's: short names, since a frame is sent with
// every change of the text.
type wireFrame struct {
	Serial    uint64        `json:"serial"`
	File      string        `json:"file"`
	CanGo     bool          `json:"go"`
	Name      string        `json:"name"`
	Title     string        `json:"title"`
	Revision  string        `json:"revision"`
	Thickness float64       `json:"thickness"`
	Drawn     float64       `json:"drawn"` // the thickness of the solid view
	Levels    []wireLevel   `json:"levels"`
	Box       [4]float64    `json:"box"`
	Outline   string        `json:"outline"`
	Cutouts   string        `json:"cutouts"`
	Inner     []string      `json:"inner"`
	Items     []wireItem    `json:"items"`
	Edges     []wireEdge    `json:"edges"`
	Findings  []wireFinding `json:"findings"`

	Trouble     string     `json:"trouble,omitempty"`
	NotVerified []Request  `json:"notVerified"`
	Accepted    []Accepted `json:"accepted"`

	Field *wireField `json:"field,omitempty"`
	Waits bool       `json:"waits,omitempty"`
}

type wireLevel struct {
	Name     string  `json:"name"`
	Copper   bool    `json:"copper,omitempty"`
	Top      float64 `json:"top"` // depths below the top face
	Bottom   float64 `json:"bottom"`
	Material string  `json:"material,omitempty"`
}

type wireField struct {
	Title string          `json:"title"`
	Met   bool            `json:"met,omitempty"`
	At    [2]float64      `json:"at"`
	Lines []wireFieldLine `json:"lines"`
}

type wireFieldLine struct {
	Share float64 `json:"share"`
	Path  string  `json:"d"`
}

type wireItem struct {
	ID    string       `json:"id"`
	Kind  string       `json:"kind"`
	Name  string       `json:"name"`
	Of    string       `json:"of,omitempty"`
	At    [2]float64   `json:"at"`
	Out   [2]float64   `json:"out"`
	Ends  [][4]float64 `json:"ends,omitempty"`
	Parts []wirePart   `json:"parts,omitempty"`
	Facts [][3]any     `json:"facts,omitempty"` // label, number or text, unit
}

type wirePart struct {
	Role    scene.Role `json:"role"`
	Side    string     `json:"side"` // "" through the board, top, bottom, or an inner layer behind a slash
	Path    string     `json:"d"`
	Less    string     `json:"less,omitempty"`
	Clip    bool       `json:"clip,omitempty"`
	Width   float64    `json:"w,omitempty"`
	Nominal bool       `json:"nominal,omitempty"`
	Rise    float64    `json:"rise,omitempty"`
}

type wireEdge struct {
	Name   string     `json:"name"`
	At     [2]float64 `json:"at"`
	Out    [2]float64 `json:"out"`
	Way    [2]float64 `json:"way"`
	Length float64    `json:"length"`
	Cutout bool       `json:"cutout,omitempty"`
	Closed bool       `json:"closed,omitempty"`
}

type wireFinding struct {
	Category string      `json:"category"`
	Rule     string      `json:"rule"`
	Message  string      `json:"message"`
	File     string      `json:"file,omitempty"`
	Line     int         `json:"line"`
	Items    []string    `json:"items"`
	At       *[2]float64 `json:"at,omitempty"`
	Go       bool        `json:"go"`
}

// encode writes a frame as the page reads it.
func encode(f Frame, serial uint64) []byte {
	s := f.Scene
	if s == nil {
		s = &scene.Scene{}
	}
	w := wireFrame{
		Serial: serial, File: source.Visible(f.File), CanGo: f.CanGo, Name: source.Visible(s.Name), Title: source.Visible(s.Title), Revision: source.Visible(s.Revision), Thickness: s.Thickness, Drawn: s.Drawn(),
		Levels:  make([]wireLevel, len(s.Levels)),
		Box:     [4]float64{s.Min.X, s.Min.Y, s.Max.X, s.Max.Y},
		Outline: pathData(s.Outline), Cutouts: pathData(s.Cutouts),
		Inner: append([]string{}, s.Inner...),
		Items: make([]wireItem, len(s.Items)), Edges: make([]wireEdge, len(s.Edges)), Findings: make([]wireFinding, len(f.Findings)),
		Trouble: source.Visible(f.Trouble), NotVerified: append([]Request{}, f.NotVerified...), Accepted: append([]Accepted{}, f.Accepted...),
	}
	for i := range w.NotVerified {
		w.NotVerified[i].Asked, w.NotVerified[i].Why = source.Visible(w.NotVerified[i].Asked), source.Visible(w.NotVerified[i].Why)
	}
	for i := range w.Accepted {
		w.Accepted[i].Because = source.Visible(w.Accepted[i].Because)
	}
	if w.Waits = f.Waits; f.Field != nil {
		w.Field = &wireField{Title: f.Field.Title, Met: f.Field.Met, At: pair(f.Field.Strongest), Lines: []wireFieldLine{}}
		for _, l := range f.Field.Lines {
			w.Field.Lines = append(w.Field.Lines, wireFieldLine{l.Share, pathData(l.Paths)})
		}
	}
	for i, l := range s.Levels {
		w.Levels[i] = wireLevel{Name: l.Name.Text, Copper: l.Copper, Top: round(l.Top), Bottom: round(l.Bottom), Material: l.Material.Text}
	}
	for i := range s.Items {
		w.Items[i] = wireItemOf(&s.Items[i])
	}
	for i, e := range s.Edges {
		w.Edges[i] = wireEdge{Name: source.Visible(e.Name), At: pair(e.Middle), Out: pair(e.Out), Way: pair(e.Way), Length: round(e.Length), Cutout: e.Cutout, Closed: e.Closed}
	}
	for i, x := range f.Findings {
		w.Findings[i] = wireFinding{Category: x.Category, Rule: x.Rule, Message: x.Message, File: x.File, Line: x.Line,
			Items: append([]string{}, x.Items...), Go: f.CanGo && x.Place.Anchor != nil}
		if x.At != nil {
			at := pair(*x.At)
			w.Findings[i].At = &at
		}
	}
	data, err := json.Marshal(w)
	if err != nil { // only a number that is none could do it, and round lets none through
		return []byte("null")
	}
	return data
}

func wireItemOf(i *scene.Item) wireItem {
	w := wireItem{ID: i.ID, Kind: i.Kind, Name: source.Visible(i.Name), Of: source.Visible(i.Of), At: pair(i.At), Out: pair(i.Out)}
	for _, e := range i.Ends {
		w.Ends = append(w.Ends, [4]float64{round(e.At.X), round(e.At.Y), round(e.In.X), round(e.In.Y)})
	}
	for _, p := range i.Parts {
		w.Parts = append(w.Parts, wirePart{Role: p.Role, Side: side(p), Path: pathData(p.Paths), Less: pathData(p.Less), Clip: p.Clipped, Width: round(p.Width), Nominal: p.Nominal, Rise: round(p.Rise)})
	}
	for _, f := range i.Facts {
		var value any = round(f.Value)
		if f.Text != "" {
			value = source.Visible(f.Text)
		}
		w.Facts = append(w.Facts, [3]any{f.Label, value, f.Unit})
	}
	return w
}

func side(p scene.Part) string {
	switch p.Side {
	case scene.Top:
		return "top"
	case scene.Bottom:
		return "bottom"
	case scene.Inside:
		return "/" + p.Layer
	}
	return ""
}

func pair(p scene.Point) [2]float64 { return [2]float64{round(p.X), round(p.Y)} }

// round keeps a nanometre, and makes 0 of what is no number.
func round(v float64) float64 {
	r := math.Round(v*1e6) / 1e6
	if math.IsNaN(r) || math.IsInf(r, 0) {
		return 0
	}
	return r + 0 // no minus before zero
}

// pathData writes paths as SVG does, arcs as arcs, in mm with y upwards.
func pathData(list []scene.Path) string {
	var b []byte
	for _, p := range list {
		if len(p.Steps) == 0 {
			continue
		}
		b = point(append(b, 'M'), p.Start)
		from := p.Start
		for _, s := range p.Steps {
			b = step(b, from, s)
			from = s.To
		}
		if p.Closed {
			b = append(b, 'Z')
		}
	}
	return string(b)
}

// step appends a line or an arc; a full circle is two halves, since an arc of
// SVG cannot end where it starts.
func step(b []byte, from scene.Point, s scene.Step) []byte {
	if !s.Arc {
		return point(append(b, 'L'), s.To)
	}
	dx, dy := from.X-s.Centre.X, from.Y-s.Centre.Y
	radius := math.Hypot(dx, dy)
	if from == s.To {
		b = arc(b, radius, false, s.Clockwise, scene.Point{X: s.Centre.X - dx, Y: s.Centre.Y - dy})
		return arc(b, radius, false, s.Clockwise, s.To)
	}
	turn := math.Atan2(dx*(s.To.Y-s.Centre.Y)-dy*(s.To.X-s.Centre.X), dx*(s.To.X-s.Centre.X)+dy*(s.To.Y-s.Centre.Y))
	if s.Clockwise {
		turn = -turn
	}
	return arc(b, radius, turn < 0, s.Clockwise, s.To)
}

func arc(b []byte, radius float64, large, clockwise bool, to scene.Point) []byte {
	b = number(append(b, 'A'), radius)
	b = number(append(b, ' '), radius)
	b = append(b, " 0 0 0 "...)
	if large {
		b[len(b)-4] = '1'
	}
	if !clockwise { // y upwards: counterclockwise is the direction of growing angles
		b[len(b)-2] = '1'
	}
	return point(b, to)
}

func point(b []byte, p scene.Point) []byte {
	return number(append(number(b, p.X), ' '), p.Y)
}

func number(b []byte, v float64) []byte { return strconv.AppendFloat(b, round(v), 'f', -1, 64) }
