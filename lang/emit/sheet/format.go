package sheet

import (
	"fmt"
	"math"
	"strings"
)

// Format is a size of sheet, mm (ISO 5457, from memory): A4 stands upright or
// lies, the larger ones lie.
type Format struct {
	Name string
	W, H float64
}

// Formats are the sizes, the smallest first.
var Formats = []Format{
	{"A4", 210, 297}, {"A4-landscape", 297, 210}, {"A3", 420, 297}, {"A2", 594, 420}, {"A1", 841, 594}, {"A0", 1189, 841},
}

// FormatNamed finds a size.
func FormatNamed(name string) (Format, bool) {
	for _, f := range Formats {
		if strings.EqualFold(f.Name, name) {
			return f, true
		}
	}
	return Format{}, false
}

// Room is what the frame leaves: 20 mm off on the binding side, 10 mm on the others.
func (f Format) Room() Rect { return Rect{Point{20, 10}, Point{f.W - 10, f.H - 10}} }

// Scale is drawn length over true length.
type Scale struct{ On, Of float64 }

// Factor is drawn length over true length.
func (s Scale) Factor() float64 { return s.On / s.Of }

// String is the scale as drawings have it.
func (s Scale) String() string { return fmt.Sprintf("%g:%g", s.On, s.Of) }

// Scales is the series of ISO 5455 (from memory), the largest first.
var Scales = []Scale{
	{50, 1}, {20, 1}, {10, 1}, {5, 1}, {2, 1}, {1, 1}, {1, 2}, {1, 5}, {1, 10}, {1, 20}, {1, 50}, {1, 100}, {1, 200}, {1, 500}, {1, 1000}, {1, 2000}, {1, 5000}, {1, 10000},
}

// ScaleNamed finds a scale of the series.
func ScaleNamed(name string) (Scale, bool) {
	for _, s := range Scales {
		if s.String() == name {
			return s, true
		}
	}
	return Scale{}, false
}

// Letterings: the heights of capitals, mm (ISO 3098, from memory: 2.5 and more).
const (
	Small = 2.5
	Large = 3.5
	Huge  = 5.0
)

// Frame draws the border, the centring marks and the grid references (ISO
// 5457, from memory): fields of 50 mm, counted from the middle, letters
// downwards without I and O, numerals to the right. An A4 sheet has them on
// the top and the right side alone.
func (s *Sheet) Frame() {
	f, in := s.Format, s.Format.Room()
	const strip = 5
	s.Add(Shape{ID: "frame", Line: Border, Fill: Clear, Paths: []Path{Box(in)}}, Shape{Line: Thin, Fill: Clear, Paths: []Path{Box(in.Grow(strip))}})
	mx, my := f.W/2, f.H/2
	for _, m := range [...][2]Point{
		{{mx, in.Min.Y - strip}, {mx, in.Min.Y + strip}}, {{mx, in.Max.Y + strip}, {mx, in.Max.Y - strip}},
		{{in.Min.X - strip, my}, {in.Min.X + strip, my}}, {{in.Max.X + strip, my}, {in.Max.X - strip, my}},
	} {
		s.Add(Strokes(Border, m[0], m[1]))
	}
	upright := strings.HasPrefix(f.Name, "A4")
	s.grid(in.Min.X, in.Max.X, mx, false, upright)
	s.grid(in.Min.Y, in.Max.Y, my, true, upright)
}

// grid letters one direction's references on both sides.
func (s *Sheet) grid(from, to, middle float64, vertical, one bool) {
	const field, strip, tall = 50.0, 5.0, 2.5
	in := s.Format.Room()
	half := int(math.Floor((middle - from) / field))
	after := int(math.Floor((to - middle) / field))
	var marks []float64
	for i := -half; i <= after; i++ {
		marks = append(marks, middle+float64(i)*field)
	}
	bounds := append(append([]float64{from}, marks...), to)
	n := 0
	names := "ABCDEFGHJKLMNPQRSTUVWXYZ"
	for i := 0; i+1 < len(bounds); i++ {
		a, b := bounds[i], bounds[i+1]
		if vertical {
			a, b = bounds[len(bounds)-2-i], bounds[len(bounds)-1-i]
		}
		if b-a < 8 {
			continue // too narrow for a field of its own: part of its neighbour
		}
		at := (a + b) / 2
		sides := [][3]Point{{{at, in.Max.Y + (strip-tall)/2}, {b, in.Max.Y}, {b, in.Max.Y + strip}}, {{at, in.Min.Y - strip + (strip-tall)/2}, {b, in.Min.Y}, {b, in.Min.Y - strip}}}
		name := fmt.Sprint(n + 1)
		if vertical {
			name = names[n%len(names) : n%len(names)+1]
			sides = [][3]Point{{{in.Max.X + strip/2, at - tall/2}, {in.Max.X, a}, {in.Max.X + strip, a}}, {{in.Min.X - strip/2, at - tall/2}, {in.Min.X, a}, {in.Min.X - strip, a}}}
		}
		n++
		for k, side := range sides {
			if one && k == 1 {
				break
			}
			s.Write(Text{At: side[0], S: name, Height: tall, Align: Centre})
			s.Add(Strokes(Thin, side[1], side[2]))
		}
	}
}
