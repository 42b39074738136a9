package sheet

import (
	"fmt"
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
// The small one is a little more, so that a sheet printed at the next smaller
// size, smaller by the root of 2, still has 1.8 mm, the least of that standard.
const (
	Small = 2.6
	Large = 3.5
	Huge  = 5.0
)

// Frame draws the border, the centring marks and the grid references (ISO
// 5457, from memory): letters downwards without I and O, numerals to the right.
// An A4 sheet has them on the top and the right side alone.
func (s *Sheet) Frame() {
	f, in := s.Format, s.Format.Room()
	s.Add(Shape{ID: "frame", Line: Border, Fill: Clear, Paths: []Path{Box(in)}}, Shape{Line: Thin, Fill: Clear, Paths: []Path{Box(in.Grow(strip))}})
	mx, my := f.W/2, f.H/2
	for _, m := range [...][2]Point{
		{{mx, in.Min.Y - strip}, {mx, in.Min.Y + strip}}, {{mx, in.Max.Y + strip}, {mx, in.Max.Y - strip}},
		{{in.Min.X - strip, my}, {in.Min.X + strip, my}}, {{in.Max.X + strip, my}, {in.Max.X - strip, my}},
	} {
		s.Add(Strokes(Border, m[0], m[1]))
	}
	both := !strings.HasPrefix(f.Name, "A4")
	bounds := fields(in.Min.X, in.Max.X, mx)
	for i := 1; i < len(bounds); i++ {
		s.reference(bounds[i-1], bounds[i], in.Max.Y, fmt.Sprint(i), false)
		if both {
			s.reference(bounds[i-1], bounds[i], in.Min.Y-strip, fmt.Sprint(i), false)
		}
	}
	bounds = fields(in.Min.Y, in.Max.Y, my)
	for i := 1; i < len(bounds); i++ {
		name := fieldLetters[len(bounds)-1-i : len(bounds)-i]
		s.reference(bounds[i-1], bounds[i], in.Max.X, name, true)
		if both {
			s.reference(bounds[i-1], bounds[i], in.Min.X-strip, name, true)
		}
	}
}

const (
	strip        = 5.0 // how wide the strip of grid references is, mm
	fieldLetters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
)

// fields are the bounds of the grid's fields along a side: 50 mm each, counted
// from its middle; what is left over at its ends is a field of its own, or, where
// it is less than half of one, part of the last.
func fields(from, to, middle float64) []float64 {
	const field = 50.0
	count := func(long float64) int { return int(long / field) }
	left := func(long float64) float64 { return long - field*float64(count(long)) }
	bounds := []float64{from}
	for i := -count(middle - from); i <= count(to-middle); i++ {
		bounds = append(bounds, middle+float64(i)*field)
	}
	bounds = append(bounds, to)
	// Less than half, and a little: of the sizes in use A0 has 24.5 mm left over.
	const least = 20
	if left(middle-from) < least {
		bounds = append(bounds[:1], bounds[2:]...)
	}
	if left(to-middle) < least {
		bounds = append(bounds[:len(bounds)-2], to)
	}
	return bounds
}

// reference letters one field in a strip, and draws where the field ends.
func (s *Sheet) reference(from, to, at float64, name string, upright bool) {
	const low = (strip - Small) / 2
	middle, line := Point{(from + to) / 2, at + low}, Strokes(Thin, Point{to, at}, Point{to, at + strip})
	if upright {
		middle, line = Point{at + strip/2, (from+to)/2 - Small/2}, Strokes(Thin, Point{at, from}, Point{at + strip, from})
	}
	s.Write(Text{At: middle, S: name, Height: Small, Align: Centre})
	s.Add(line)
}
