// Package build writes what a shop's own programs need of a board as one JSON
// document: its size, its stack, what is plated where, tabs, half holes, how it
// is cut, and every file of the package with its role and its hash.
//
// Lengths are in mm, with the unit in the key, to the nanometre; thicknesses of
// copper and finish too. What the text does not state is left out. Schema holds
// the document's form; its number changes where a key changes its meaning.
package build

import (
	_ "embed"
	"encoding/json"
	"math"
	"slices"
	"time"

	"hemline/lang/board"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/wording"
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/rout"
	"hemline/lang/source"
)

// Name is the document's place in a package.
const Name = "build.json"

// Format and Version say which document it is.
const (
	Format  = "hemline build"
	Version = 1
)

// Schema is the JSON Schema (draft 2020-12) of the document.
//
//go:embed schema.json
var Schema []byte

// Options are what the document says beside the board.
type Options struct {
	Program string // hemline's version
	Text    string // the board's own text among the files
	Date    time.Time
	Bits    *rout.Bits
	Check   Check
	Files   []bundle.File
}

// Document is all of it, its keys in this order.
type Document struct {
	Format   string    `json:"format"`
	Version  int       `json:"version"`
	Program  Program   `json:"program"`
	Date     string    `json:"date,omitempty"`
	Text     string    `json:"text,omitempty"`
	Board    Board     `json:"board"`
	Size     Size      `json:"size"`
	Stack    []Layer   `json:"stack"`
	Finish   []Finish  `json:"finish"`
	Exact    Exact     `json:"tolerances"`
	Platings []Plating `json:"platings"`
	Tabs     []Tab     `json:"tabs"`
	Rows     []Row     `json:"halfHoles"`
	Routs    []Rout    `json:"routs"`
	Files    []File    `json:"files"`
	Check    Check     `json:"check"`
	Caution  string    `json:"caution"`
}

// Check is what checking the board came to when the package was made.
type Check struct {
	Stand    int  `json:"findingsStanding"`
	Accepted int  `json:"findingsAccepted"`
	Open     int  `json:"queriesOpen"`
	Despite  bool `json:"packedDespiteFindings"`
}

// Program is what wrote the document.
type Program struct {
	Name    string `json:"name"`
	Version string `json:"version"`
}

// Board is what the board is called and built to.
type Board struct {
	Name     string `json:"name,omitempty"`
	Title    string `json:"title,omitempty"`
	Number   string `json:"number,omitempty"`
	Revision string `json:"revision,omitempty"`
	Status   string `json:"status,omitempty"`
	Class    int    `json:"class,omitempty"` // of IPC-6012
	Laminate string `json:"laminate,omitempty"`
	Mask     string `json:"mask,omitempty"`
	Legend   string `json:"legend,omitempty"`
}

// Size is the box round the outline, and the finished thickness: all layers of
// the stack, copper included, solder mask not.
type Size struct {
	Width     float64  `json:"widthMm"`
	Height    float64  `json:"heightMm"`
	Thickness *float64 `json:"thicknessMm,omitempty"`
	Perimeter float64  `json:"outlineLengthMm"`
}

// Layer is one of the stack, top first.
type Layer struct {
	Name         string   `json:"name"`
	Kind         string   `json:"kind"` // copper or dielectric
	Thickness    *float64 `json:"thicknessMm,omitempty"`
	Base         *float64 `json:"foilMm,omitempty"`
	Permittivity *float64 `json:"permittivity,omitempty"`
	Loss         *float64 `json:"lossTangent,omitempty"`
	Material     string   `json:"material,omitempty"`
}

// Finish is what something is finished in: the board, a plating or a row of half holes.
type Finish struct {
	Of     string    `json:"of"`
	Name   string    `json:"name,omitempty"` // of the plating or the row
	Finish string    `json:"finish"`
	Layers []float64 `json:"layersMm,omitempty"` // from the copper outward
}

// Exact is how far off sizes and places may be, either way.
type Exact struct {
	Outline   *float64 `json:"outlineMm,omitempty"`
	Thickness *float64 `json:"thicknessMm,omitempty"`
	Share     *float64 `json:"thicknessPercent,omitempty"`
	Gaps      *float64 `json:"gapsMm,omitempty"`
	Cutouts   *float64 `json:"cutoutsMm,omitempty"`
	Holes     *float64 `json:"holesMm,omitempty"`
	HalfHoles *float64 `json:"halfHolesMm,omitempty"`
	Position  *float64 `json:"positionMm,omitempty"`
	Mask      *float64 `json:"maskMm,omitempty"`
}

// Point is a place in mm from the origin of the text.
type Point struct {
	X float64 `json:"xMm"`
	Y float64 `json:"yMm"`
}

// Tab is a tab: its place is its middle on the profile.
type Tab struct {
	Name          string   `json:"name"`
	Edge          string   `json:"edge"`
	At            Point    `json:"at"`
	Width         float64  `json:"widthMm"`
	Length        *float64 `json:"lengthMm,omitempty"`
	Kind          string   `json:"kind"` // solid or perforated
	Premetallised bool     `json:"premetallised"`
	Holes         *Holes   `json:"perforation,omitempty"`
	Removal       *Removal `json:"removal,omitempty"`
}

// Holes are a perforation's.
type Holes struct {
	Count    int     `json:"count"`
	Diameter float64 `json:"diameterMm"`
	Pitch    float64 `json:"pitchMm"`
	Inset    float64 `json:"insetMm"`
}

// Removal is how a tab is taken off, as far as the text says.
type Removal struct {
	How    string   `json:"how"` // rout or hand
	By     string   `json:"by,omitempty"`
	Within *float64 `json:"withinMm,omitempty"`
}

// Row is a row of half holes.
type Row struct {
	Name       string   `json:"name"`
	Edge       string   `json:"edge"`
	Diameter   float64  `json:"diameterMm"`
	LandWidth  float64  `json:"landAlongEdgeMm"`
	LandLength float64  `json:"landInwardMm"`
	Layers     []string `json:"landLayers"`
	Burrs      string   `json:"burrs,omitempty"`
	Holes      []Half   `json:"holes"`
}

// Half is one half hole: its centre, on the profile.
type Half struct {
	At  Point  `json:"at"`
	Net string `json:"net,omitempty"`
}

// File is a file of the package.
type File struct {
	Path     string `json:"path"`
	Role     string `json:"role"`
	Function string `json:"fileFunction,omitempty"` // as the file itself says
	About    string `json:"about"`
	Hash     string `json:"sha256"`
}

// Make makes the document of a board that has an outline.
func Make(b *board.Board, o Options) *Document {
	d := &Document{Format: Format, Version: Version, Program: Program{"hemline", o.Program}, Text: o.Text, Caution: wording.Caution,
		Stack: []Layer{}, Finish: finishes(b), Exact: exact(b), Platings: platings(b), Tabs: []Tab{}, Rows: []Row{}, Routs: routs(b, o.Bits), Files: []File{}, Check: o.Check}
	if !o.Date.IsZero() {
		d.Date = o.Date.UTC().Format(time.RFC3339)
	}
	if i := b.Info(); i != nil {
		d.Board = Board{Name: i.Name.Text, Title: i.Title.Text, Number: i.Number.Text, Revision: i.Revision.Text, Status: i.Status.Text,
			Class: int(i.Class.Value), Laminate: said(i.Material), Mask: said(i.Mask), Legend: said(i.Legend)}
	}
	path := b.Outline().Path
	box := path.Box()
	d.Size = Size{Width: mm(box.Max.X - box.Min.X), Height: mm(box.Max.Y - box.Min.Y), Perimeter: mm(path.Perimeter())}
	if t, ok := b.Thickness(); ok {
		d.Size.Thickness = new(mm(t.Value))
	}
	for _, l := range b.Stack().Layered() {
		kind := "dielectric"
		if l.Copper {
			kind = "copper"
		}
		d.Stack = append(d.Stack, Layer{Name: l.Name.Text, Kind: kind, Thickness: length(l.Thickness), Base: length(l.Base),
			Permittivity: number(l.Permittivity), Loss: number(l.Loss), Material: said(l.Material)})
	}
	for _, t := range b.Tabs() {
		d.Tabs = append(d.Tabs, tab(t))
	}
	for _, c := range b.Castellations() {
		d.Rows = append(d.Rows, row(b, c))
	}
	for _, f := range o.Files {
		d.Files = append(d.Files, File{f.Name, f.Role, f.Function, f.About, f.Hash()})
	}
	return d
}

// JSON writes the document, indented, with an end of line.
func (d *Document) JSON() ([]byte, error) {
	data, err := json.MarshalIndent(d, "", "  ")
	return append(source.VisibleJSON(data), '\n'), err
}

func tab(t *board.Tab) Tab {
	x := Tab{Name: t.Name.Text, Edge: t.Edge.Name, At: point(t.Edge.Point(t.Position)), Width: mm(t.Width.Value), Length: length(t.Length), Kind: "solid", Premetallised: t.Premetallised}
	if t.Perforated {
		x.Kind = "perforated"
		x.Holes = &Holes{t.HoleCount(), mm(t.Hole.Value), mm(t.Pitch.Value), mm(t.Inset.Value)}
	}
	if r := t.Removal; r.How.Given() {
		x.Removal = &Removal{r.How.Text, r.By.Text, length(r.Within)}
	}
	return x
}

func row(b *board.Board, c *board.Castellation) Row {
	x := Row{Name: c.Name.Text, Edge: c.Edge.Name, Diameter: mm(c.Hole.Value), LandWidth: mm(c.LandWidth.Value), LandLength: mm(c.LandLength.Value), Burrs: c.Burrs.Text, Layers: []string{}}
	for _, l := range b.Layers() {
		if b.LandsOn(c, l) {
			x.Layers = append(x.Layers, l)
		}
	}
	for i, at := range c.Centres {
		x.Holes = append(x.Holes, Half{point(c.Edge.Point(at)), c.NetOf(i).Text})
	}
	return x
}

func finishes(b *board.Board) []Finish {
	list := []Finish{}
	if i := b.Info(); i != nil && i.Finish.Answers() {
		list = append(list, Finish{Of: "board", Finish: i.Finish.Text})
	}
	for _, p := range b.Platings() {
		if f := b.FinishOf(p); f.Answers() {
			x := Finish{Of: "plating", Name: p.Name.Text, Finish: f.Text}
			for _, v := range p.FinishLayers {
				x.Layers = append(x.Layers, mm(v.Value))
			}
			list = append(list, x)
		}
	}
	for _, c := range b.Castellations() {
		if f := b.FinishOfHalfHoles(c); f.Answers() {
			list = append(list, Finish{Of: "half holes", Name: c.Name.Text, Finish: f.Text})
		}
	}
	return list
}

func exact(b *board.Board) Exact {
	of := func(clause string) *float64 { return length(b.ToleranceOf(clause)) }
	x := Exact{Outline: of("outline"), Gaps: of("gaps"), Cutouts: of("cutouts"), Holes: of("holes"), HalfHoles: of("half_holes"), Position: of("position"), Mask: of("mask")}
	if t := b.ToleranceOf("thickness"); t.Given() && t.Dim == quantity.Length {
		x.Thickness = length(t)
	} else if t.Given() {
		x.Share = new(t.In(quantity.Percent))
	}
	return x
}

// mm is a length in mm, to the nanometre.
func mm(nm float64) float64 { return (math.Round(nm) + 0) / quantity.NmPerMillimetre }

func point(p geom.Point) Point { return Point{mm(p.X), mm(p.Y)} }

// length is a stated length in mm, nil for one that is not stated.
func length(v board.Value) *float64 {
	if !v.Given() {
		return nil
	}
	return new(mm(v.Value))
}

func number(v board.Value) *float64 {
	if !v.Given() {
		return nil
	}
	return new(v.Value)
}

// said is a text that says something.
func said(n board.Name) string {
	if !n.Answers() {
		return ""
	}
	return n.Text
}

// edgesOf are the edges of a board's profiles that a stretch lies on, in order
// along its path, each with how much of it.
func edgesOf(s board.Stretch) (list []Edge) {
	sum := func(from, to float64) (long float64) {
		for part := range s.Parts(from, to) {
			long += part.Length()
		}
		return long
	}
	for _, e := range s.Profile.InOrder() {
		if long := sum(e.From, e.To); long > board.Tolerance {
			list = append(list, Edge{Edge: e.Name, Plated: long})
		}
	}
	for _, c := range s.Profile.Corners {
		if long := sum(c.From, c.To); long > board.Tolerance {
			list = append(list, Edge{Corner: []string{c.Before.Name, c.After.Name}, Plated: long})
		}
	}
	return list
}

// added adds what lies on an edge to a list of edges.
func added(list []Edge, x Edge) []Edge {
	i := slices.IndexFunc(list, func(e Edge) bool { return e.Edge == x.Edge && slices.Equal(e.Corner, x.Corner) })
	if i < 0 {
		return append(list, x)
	}
	list[i].Plated += x.Plated
	return list
}
