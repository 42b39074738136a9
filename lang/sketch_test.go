package lang_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"pgregory.net/rapid"
)

// A sketch is a board as its author has it in mind. It is written as a text for
// hemline and, as JSON, for testdata/board_oracle.py, which makes its own of it.
// Lengths are in millimetres, to a nanometre.
type sketch struct {
	Outline  figure          `json:"outline"`
	Cutouts  []figure        `json:"cutouts"`
	Platings []sketchPlating `json:"platings"`
	Features []sketchFeature `json:"features"`
}

type figure struct {
	Name   string     `json:"name"`
	Kind   string     `json:"kind"` // rectangle, circle, slot, drawn
	W      float64    `json:"w"`
	H      float64    `json:"h"`
	R      float64    `json:"r"`
	D      float64    `json:"d"`
	L      float64    `json:"l"`
	A      float64    `json:"a"` // degrees
	X      float64    `json:"x"` // of the centre
	Y      float64    `json:"y"`
	Start  [2]float64 `json:"start"`
	Pieces []piece    `json:"pieces"`
}

type piece struct {
	Name      string      `json:"name"`
	To        [2]float64  `json:"to"`
	Around    *[2]float64 `json:"around"`
	Clockwise bool        `json:"clockwise"`
}

type sketchPlating struct {
	Name  string           `json:"-"`
	Along []map[string]any `json:"along"`
	Gaps  []map[string]any `json:"gaps"`
	Wrap  [2]float64       `json:"wrap"` // top, bottom
}

type sketchFeature struct {
	W float64 `json:"w"`
	H float64 `json:"h"`
	D float64 `json:"d"`
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

func millimetres(v any) string {
	if v, ok := v.(float64); ok {
		return strconv.FormatFloat(v, 'f', -1, 64) + " mm"
	}
	return "middle"
}

func xy(p [2]float64) string { return "(" + millimetres(p[0]) + ", " + millimetres(p[1]) + ")" }

func (f figure) text(keyword string) string {
	switch f.Kind {
	case "rectangle":
		s := keyword + " rectangle " + millimetres(f.W) + " by " + millimetres(f.H)
		if f.R > 0 {
			s += " corner " + millimetres(f.R)
		}
		return s
	case "circle":
		return keyword + " circle " + millimetres(f.D)
	case "slot":
		return keyword + " slot " + millimetres(f.L) + " by " + millimetres(f.W) + fmt.Sprintf(" turned %v deg", f.A)
	}
	s := keyword + " {\n  start " + xy(f.Start) + "\n"
	for i, p := range f.Pieces {
		switch {
		case p.Around != nil:
			s += "  arc " + p.Name + " to " + xy(p.To) + " around " + xy(*p.Around)
			if p.Clockwise {
				s += " clockwise"
			}
			s += "\n"
		case i == len(f.Pieces)-1:
			s += "  close " + p.Name + "\n"
		default:
			s += "  line " + p.Name + " to " + xy(p.To) + "\n"
		}
	}
	return s + "}"
}

func (s sketch) text() string {
	var b strings.Builder
	b.WriteString(s.Outline.text("outline") + "\n")
	for _, c := range s.Cutouts {
		b.WriteString(c.text("cutout "+c.Name) + " at " + xy([2]float64{c.X, c.Y}) + "\n")
	}
	for _, p := range s.Platings {
		fmt.Fprintf(&b, "plating %s {\n  net GND\n  wrap top %s\n  wrap bottom %s\n", p.Name, millimetres(p.Wrap[0]), millimetres(p.Wrap[1]))
		for _, a := range p.Along {
			b.WriteString("  along " + a["edge"].(string))
			if a["from"] != nil {
				b.WriteString(" from " + millimetres(a["from"]) + " to " + millimetres(a["to"]))
			}
			b.WriteString("\n")
		}
		b.WriteString("}\n")
		for i, g := range p.Gaps {
			fmt.Fprintf(&b, "gap %s%d of %s on %s ", p.Name, i, p.Name, g["edge"])
			if w, ok := g["width"]; ok {
				b.WriteString("at " + millimetres(g["at"]) + " width " + millimetres(w) + "\n")
			} else {
				b.WriteString("from " + millimetres(g["from"]) + " to " + millimetres(g["to"]) + "\n")
			}
		}
	}
	for i, f := range s.Features {
		size := "rectangle " + millimetres(f.W) + " by " + millimetres(f.H)
		if f.D > 0 {
			size = "circle " + millimetres(f.D)
		}
		fmt.Fprintf(&b, "feature f%d on top %s at %s\n", i, size, xy([2]float64{f.X, f.Y}))
	}
	return b.String()
}

// nm rounds millimetres to a nanometre.
func nm(mm float64) float64 { return math.Round(mm*1e6) / 1e6 }

func between(t *rapid.T, lo, hi float64, what string) float64 {
	return nm(rapid.Float64Range(lo, hi).Draw(t, what))
}

// sketches generates boards on which everything fits: outlines some 20 to
// 100 mm across with a middle of 10 mm radius free of them, cutouts within it.
func sketches() *rapid.Generator[sketch] {
	return rapid.Custom(func(t *rapid.T) sketch {
		s := sketch{Cutouts: []figure{}}
		x, y := s.drawOutline(t)
		for i, at := range [][2]float64{{-4.5, -3}, {4.5, -3}, {0, 5}}[:rapid.IntRange(0, 3).Draw(t, "cutouts")] {
			c := figure{Name: fmt.Sprintf("c%d", i), X: nm(x + at[0]), Y: nm(y + at[1])}
			switch c.Kind = rapid.SampledFrom([]string{"rectangle", "circle", "slot"}).Draw(t, "cutout"); c.Kind {
			case "rectangle":
				c.W, c.H = between(t, 1, 5, "w"), between(t, 1, 5, "h")
				c.R = rapid.SampledFrom([]float64{0, 0.5, min(c.W, c.H) / 2}).Draw(t, "r")
			case "circle":
				c.D = between(t, 1, 6, "d")
			default:
				c.L = between(t, 2, 6, "l")
				c.W, c.A = between(t, 0.5, c.L, "w"), float64(rapid.IntRange(-90, 360).Draw(t, "turned"))
			}
			s.Cutouts = append(s.Cutouts, c)
		}
		s.drawPlatings(t)
		for range rapid.IntRange(1, 3).Draw(t, "features") {
			f := sketchFeature{X: nm(x + between(t, -30, 30, "x")), Y: nm(y + between(t, -30, 30, "y"))}
			if rapid.Bool().Draw(t, "round") {
				f.D = between(t, 0.2, 3, "d")
			} else {
				f.W, f.H = between(t, 0.2, 3, "w"), between(t, 0.2, 3, "h")
			}
			s.Features = append(s.Features, f)
		}
		return s
	})
}

// drawOutline draws the outline and returns its middle.
func (s *sketch) drawOutline(t *rapid.T) (x, y float64) {
	f := &s.Outline
	switch f.Kind = rapid.SampledFrom([]string{"rectangle", "rectangle", "circle", "drawn", "drawn", "drawn"}).Draw(t, "outline"); f.Kind {
	case "rectangle":
		f.W, f.H = between(t, 20, 100, "w"), between(t, 20, 60, "h")
		f.R = rapid.SampledFrom([]float64{0, nm(min(f.W, f.H) / 2), nm(min(f.W, f.H) / 7), 1.5}).Draw(t, "r")
		f.R = min(f.R, min(f.W, f.H)/2)
		return f.W / 2, f.H / 2
	case "circle":
		f.D = between(t, 20, 100, "d")
	default:
		f.draw(t)
	}
	return 0, 0
}

// draw draws a path round the origin: corners at rising angles, between them
// lines and arcs that bulge out or in by up to a tenth of their chord.
func (f *figure) draw(t *rapid.T) {
	n := rapid.IntRange(4, 8).Draw(t, "corners")
	corners := make([][2]float64, n)
	for i := range corners {
		angle := 2 * math.Pi * (float64(i) + rapid.Float64Range(-0.1, 0.1).Draw(t, "angle")) / float64(n)
		radius := rapid.Float64Range(30, 45).Draw(t, "radius")
		corners[i] = [2]float64{nm(radius * math.Cos(angle)), nm(radius * math.Sin(angle))}
	}
	if rapid.Bool().Draw(t, "drawn clockwise") {
		for i, j := 0, n-1; i < j; i, j = i+1, j-1 {
			corners[i], corners[j] = corners[j], corners[i]
		}
	}
	f.Start = corners[0]
	for i := range corners {
		a, b := corners[i], corners[(i+1)%n]
		p := piece{Name: fmt.Sprintf("e%d", i), To: b}
		if k := rapid.Float64Range(-0.1, 0.1).Draw(t, "bulge"); rapid.Bool().Draw(t, "arc") && math.Abs(k) > 0.01 {
			// With sagitta k times the chord c, the centre lies (1/(8k) - k/2) c beside the chord's middle.
			dx, dy := b[0]-a[0], b[1]-a[1]
			off := 1/(8*k) - k/2
			p.Around = &[2]float64{nm((a[0]+b[0])/2 - dy*off), nm((a[1]+b[1])/2 + dx*off)}
			p.Clockwise = k < 0
		}
		f.Pieces = append(f.Pieces, p)
	}
}

// edgeLengths names every edge and how long it is; it asks the model, for the
// sketch only needs positions that fit.
func (s *sketch) edgeLengths() (names []string, lengths map[string]float64) {
	lengths = map[string]float64{}
	for _, e := range analyze(s.text()).Board().Edges() {
		names = append(names, e.Name)
		lengths[e.Name] = e.Length / 1e6
	}
	return names, lengths
}

func (s *sketch) drawPlatings(t *rapid.T) {
	names, lengths := s.edgeLengths()
	stretch := func() map[string]any {
		edge := rapid.SampledFrom(names).Draw(t, "edge")
		l := lengths[edge]
		a, b := rapid.Float64Range(0, 1).Draw(t, "from"), rapid.Float64Range(0, 1).Draw(t, "to")
		return map[string]any{"edge": edge, "from": math.Floor(min(a, b)*l*1e6) / 1e6, "to": math.Floor(max(a, b)*l*1e6) / 1e6}
	}
	for i := range rapid.IntRange(1, 3).Draw(t, "platings") {
		p := sketchPlating{Name: fmt.Sprintf("p%d", i), Gaps: []map[string]any{}}
		p.Wrap = [2]float64{between(t, 0.1, 2, "top"), between(t, 0.1, 6, "bottom")}
		for range rapid.IntRange(1, len(names)+1).Draw(t, "along") {
			a := stretch()
			if rapid.IntRange(0, 3).Draw(t, "whole") > 0 {
				a["from"], a["to"] = nil, nil
			}
			p.Along = append(p.Along, a)
		}
		for range rapid.IntRange(0, 4).Draw(t, "gaps") {
			g := stretch()
			switch rapid.IntRange(0, 2).Draw(t, "kind of gap") {
			case 0: // the middle
				g = map[string]any{"edge": g["edge"], "at": nil, "width": nm(lengths[g["edge"].(string)] / 5)}
			case 1: // of an edge without ends, from before its start
				if strings.HasSuffix(g["edge"].(string), "rim") {
					g = map[string]any{"edge": g["edge"], "at": 0.0, "width": nm(lengths[g["edge"].(string)] / 6)}
				}
			}
			p.Gaps = append(p.Gaps, g)
		}
		s.Platings = append(s.Platings, p)
	}
}
