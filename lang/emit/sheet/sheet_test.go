package sheet

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ISO 216 and ISO 5457, from memory: A0 has a square metre, every next size is
// the one before cut in half, and the sides are as 1 to the root of 2.
func TestFormats(t *testing.T) {
	a0, ok := FormatNamed("a0")
	require.True(t, ok)
	assert.InEpsilon(t, 1e6, a0.W*a0.H, 0.001)
	for i := len(Formats) - 1; i > 2; i-- {
		assert.InDelta(t, Formats[i].W/2, Formats[i-1].H, 0.51, Formats[i].Name)
		assert.InDelta(t, Formats[i].H, Formats[i-1].W, 0.51)
	}
	for _, f := range Formats {
		assert.InEpsilon(t, math.Sqrt2, math.Max(f.W, f.H)/math.Min(f.W, f.H), 0.003, f.Name)
		assert.Equal(t, Rect{Point{20, 10}, Point{f.W - 10, f.H - 10}}, f.Room())
	}
	_, ok = FormatNamed("B5")
	assert.False(t, ok)
}

// ISO 5457, from memory: 24 fields by 16 on A0, then 16 by 12, 12 by 8, 8 by 6,
// 6 by 4 on A4; lettered downwards without I and O, numbered to the right.
func TestFields(t *testing.T) {
	want := map[string][2]int{"A0": {24, 16}, "A1": {16, 12}, "A2": {12, 8}, "A3": {8, 6}, "A4": {4, 6}, "A4-landscape": {6, 4}}
	for _, f := range Formats {
		s := Sheet{Format: f}
		s.Frame()
		room := f.Room()
		var rows, columns []Text
		for _, x := range s.Texts {
			if x.At.X > room.Max.X {
				rows = append(rows, x)
			}
			if x.At.Y > room.Max.Y {
				columns = append(columns, x)
			}
		}
		require.Len(t, columns, want[f.Name][0], f.Name)
		require.Len(t, rows, want[f.Name][1], f.Name)
		slices.SortFunc(columns, func(a, b Text) int { return cmp.Compare(a.At.X, b.At.X) })
		slices.SortFunc(rows, func(a, b Text) int { return cmp.Compare(b.At.Y, a.At.Y) })
		for i, x := range columns {
			assert.Equal(t, strconv.Itoa(i+1), x.S)
		}
		letters := ""
		for _, x := range rows {
			letters += x.S
		}
		assert.Equal(t, "ABCDEFGHJKLMNPQR"[:len(rows)], letters, f.Name)
		// Of a field within the sheet both sides are 25 mm from its middle.
		assert.InDelta(t, f.W/2-25, columns[len(columns)/2-1].At.X, 1e-9, f.Name)
		assert.InDelta(t, f.H/2+25, rows[len(rows)/2-1].At.Y+Small/2, 1e-9, f.Name)
		if f.Name[:2] == "A4" {
			assert.Len(t, s.Texts, len(rows)+len(columns), "on two sides alone")
		}
	}
}

// A sheet printed at the next smaller size keeps the least lettering of ISO 3098.
func TestSmallLetteringStaysLegibleASizeSmaller(t *testing.T) {
	assert.GreaterOrEqual(t, Small/math.Sqrt2, 1.8)
}

// ISO 5455, from memory: 1, 2 and 5 and their tenfolds.
func TestScales(t *testing.T) {
	for i, s := range Scales {
		n := math.Max(s.On, s.Of)
		for n >= 10 {
			n /= 10
		}
		assert.Contains(t, []float64{1, 2, 5}, n, s.String())
		if i > 0 {
			assert.Less(t, s.Factor(), Scales[i-1].Factor())
		}
		named, ok := ScaleNamed(s.String())
		assert.True(t, ok)
		assert.Equal(t, s, named)
	}
	_, ok := ScaleNamed("3:1")
	assert.False(t, ok)
}

func TestRectangles(t *testing.T) {
	r := Rect{Point{0, 0}, Point{4, 2}}
	assert.True(t, r.Crossed(Point{-1, 1}, Point{5, 1}))
	assert.True(t, r.Crossed(Point{1, 1}, Point{2, 1}), "within")
	assert.False(t, r.Crossed(Point{-1, 3}, Point{5, 3}))
	assert.False(t, r.Crossed(Point{-1, 2}, Point{5, 2}), "along the border")
	assert.False(t, r.Crossed(Point{-2, 1}, Point{-1, 1}), "ends before it")
	assert.True(t, r.Meets(Rect{Point{3, 1}, Point{9, 9}}))
	assert.False(t, r.Meets(Rect{Point{4, 0}, Point{9, 9}}), "a border alone")
}

func TestSweeps(t *testing.T) {
	quarter := Step{To: Point{0, 1}, Arc: true}
	assert.InDelta(t, math.Pi/2, quarter.Sweep(Point{1, 0}), 1e-12)
	quarter.Clockwise = true
	assert.InDelta(t, -3*math.Pi/2, quarter.Sweep(Point{1, 0}), 1e-12)
	full := Step{To: Point{1, 0}, Arc: true}
	assert.InDelta(t, 2*math.Pi, full.Sweep(Point{1, 0}), 1e-12)
	flat := Circle(Point{}, 10).Flat()
	for _, p := range flat {
		assert.InDelta(t, 10, math.Hypot(p.X, p.Y), 1e-9)
	}
	for i := 1; i < len(flat); i++ {
		middle := math.Hypot((flat[i].X+flat[i-1].X)/2, (flat[i].Y+flat[i-1].Y)/2)
		assert.Less(t, 10-middle, 0.02+1e-9, "chords stay within 0.02 mm")
	}
}

// A text turned upward covers the same box, turned.
func TestTextBoxes(t *testing.T) {
	flat := Text{S: "g_antenna 12.5", Height: Small}
	up := flat
	up.Up = true
	assert.InDelta(t, flat.Box().W(), up.Box().H(), 1e-9)
	assert.InDelta(t, flat.Box().H(), up.Box().W(), 1e-9)
	middle := flat
	middle.Align = Centre
	assert.InDelta(t, 0, middle.Box().Min.X+middle.Box().Max.X, 1e-9)
	assert.Greater(t, Text{S: "wall", Height: Small, Bold: true}.Width(), Text{S: "wall", Height: Small}.Width())
	for _, r := range "µ²⌀±–…×" {
		assert.True(t, Has(r), string(r))
	}
	assert.False(t, Has('漢'))
}
