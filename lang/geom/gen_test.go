package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// tol is the tolerance that callers use: 0.01 nm.
const tol = 0.01

const mm = 1e6

// arcOver is the arc from a to b that rises sag times the chord off it, to the
// right of travel when sag is positive.
func arcOver(a, b Point, sag float64) Segment {
	chord := b.Sub(a)
	s := math.Abs(sag) * chord.Norm()
	half := chord.Norm() / 2
	r := (half*half + s*s) / (2 * s)
	middle := a.Add(chord.Scale(0.5))
	c := middle.Add(chord.Unit().Left().Scale(math.Copysign(r-s, sag)))
	return ArcAround(a, b, c, sag < 0)
}

// star draws a closed path round the origin with corners between 0.4 and 1
// times the radius out, its sides lines and arcs that bulge out or in. It may
// cross itself.
func star(radius float64) *rapid.Generator[*Loop] {
	return rapid.Custom(func(t *rapid.T) *Loop {
		n := rapid.IntRange(3, 9).Draw(t, "corners")
		corners := make([]Point, n)
		for i := range corners {
			angle := (float64(i) + rapid.Float64Range(-0.3, 0.3).Draw(t, "turn")) / float64(n) * 2 * math.Pi
			far := radius * rapid.Float64Range(0.4, 1).Draw(t, "far")
			corners[i] = Point{math.Round(far * math.Cos(angle)), math.Round(far * math.Sin(angle))}
		}
		segs := make([]Segment, n)
		for i, a := range corners {
			b := corners[(i+1)%n]
			segs[i] = Line(a, b)
			if rapid.Bool().Draw(t, "arc") {
				sag := rapid.Float64Range(0.02, 0.7).Draw(t, "sag")
				if rapid.Bool().Draw(t, "concave") {
					sag = -sag
				}
				segs[i] = arcOver(a, b, sag)
			}
		}
		return NewLoop(segs)
	})
}

// shape draws any kind of simple loop about the origin, counterclockwise.
func shape(radius float64) *rapid.Generator[*Loop] {
	drawn := star(radius).Filter(func(l *Loop) bool { return !l.Clockwise() && len(l.Crossings(tol)) == 0 })
	return rapid.Custom(func(t *rapid.T) *Loop {
		w := math.Round(radius * rapid.Float64Range(0.5, 1.5).Draw(t, "w"))
		h := math.Round(radius * rapid.Float64Range(0.5, 1.5).Draw(t, "h"))
		switch rapid.IntRange(0, 5).Draw(t, "kind") {
		case 0:
			return RectangleAt(Point{-w / 2, -h / 2}, w, h, 0)
		case 1:
			corner := rapid.Float64Range(0.02, 0.5).Draw(t, "corner")
			return RectangleAt(Point{-w / 2, -h / 2}, w, h, math.Round(corner*math.Min(w, h)))
		case 2:
			return Circle(Point{}, w)
		case 3:
			return Slot(Point{}, w, h/2, rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle"))
		}
		return drawn.Draw(t, "drawn")
	})
}

// moved is the loop displaced by d.
func moved(l *Loop, d Point) *Loop {
	segs := make([]Segment, len(l.Segments()))
	for i, g := range l.Segments() {
		segs[i] = Segment{A: g.A.Add(d), B: g.B.Add(d), C: g.C.Add(d), Arc: g.Arc, Clockwise: g.Clockwise}
	}
	return NewLoop(segs)
}

// placed draws a shape somewhere within reach of the origin.
func placed(radius, reach float64) *rapid.Generator[*Loop] {
	return rapid.Custom(func(t *rapid.T) *Loop {
		l := shape(radius).Draw(t, "shape")
		x := math.Round(rapid.Float64Range(-reach, reach).Draw(t, "x"))
		y := math.Round(rapid.Float64Range(-reach, reach).Draw(t, "y"))
		return moved(l, Point{x, y})
	})
}

// segment draws a line or an arc, now and then a full circle or one on axis.
func segment() *rapid.Generator[Segment] {
	coordinate := rapid.Custom(func(t *rapid.T) float64 {
		if rapid.Bool().Draw(t, "grid") {
			return float64(rapid.IntRange(-5, 5).Draw(t, "step")) * mm
		}
		return math.Round(rapid.Float64Range(-10*mm, 10*mm).Draw(t, "nm"))
	})
	return rapid.Custom(func(t *rapid.T) Segment {
		p := func(label string) Point {
			return Point{coordinate.Draw(t, label+".x"), coordinate.Draw(t, label+".y")}
		}
		a, b := p("a"), p("b")
		kind := rapid.IntRange(0, 3).Draw(t, "kind")
		if a == b || kind == 0 {
			if c := p("c"); c != a && kind > 0 {
				return ArcAround(a, a, c, rapid.Bool().Draw(t, "clockwise"))
			}
			return Line(a, b)
		}
		sag := rapid.Float64Range(0.01, 3).Draw(t, "sag")
		if kind == 1 {
			sag = -sag
		}
		if kind == 2 {
			return Line(a, b)
		}
		return arcOver(a, b, sag)
	})
}

// examples draws n values, the same each time.
func examples[T any](t *testing.T, g *rapid.Generator[T], n int) []T {
	t.Helper()
	out := make([]T, n)
	for i := range out {
		out[i] = g.Example(i)
	}
	return out
}
