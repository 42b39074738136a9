package report

import (
	"fmt"

	"hemline/checks/cavity"
	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/emit/scene"
	"hemline/lang/geom"
)

// shares are of which lines of equal field are drawn.
var shares = [...]float64{0.2, 0.4, 0.6, 0.8}

// FieldOf is the field of the lowest mode in the board's band or beside it, else of
// the lowest of all, as a picture shows it; nil where there is none.
func FieldOf(b *board.Board, list []figures.Resonance) *scene.Field {
	low, high, _ := figures.Band(b)
	r, i, ok := figures.Lowest(list, low, high)
	if !ok {
		return nil
	}
	m := r.Modes[i]
	first, _ := r.InBand(low, high)
	f := &scene.Field{Title: fmt.Sprintf("mode %d, %s, %.3g GHz", i+1, r.Title(), m.F/1e9), Met: first >= 0, Strongest: inMillimetres(m.Field.Strongest())}
	for _, share := range shares {
		line := scene.FieldLine{Share: share}
		for _, value := range [...]float64{share, -share} {
			for _, points := range m.Field.Contours(value) {
				for _, part := range clipped(points, r.Shape.Rings) {
					line.Paths = append(line.Paths, pathOf(part))
				}
			}
		}
		if len(line.Paths) > 0 {
			f.Lines = append(f.Lines, line)
		}
	}
	return f
}

// clipped is what of a line lies in a cavity: the field is known on a grid, which
// goes on to the next node beyond its edge.
func clipped(points []geom.Point, rings []cavity.Ring) (parts [][]geom.Point) {
	var part []geom.Point
	end := func() {
		if len(part) > 1 {
			parts = append(parts, part)
		}
		part = nil
	}
	for i, p := range points {
		in := within(p, rings)
		if i > 0 && in != within(points[i-1], rings) {
			a, b := points[i-1], p // a in, b out
			if in {
				a, b = b, a
			}
			for range 20 {
				if half := a.Add(b).Scale(0.5); within(half, rings) {
					a = half
				} else {
					b = half
				}
			}
			part = append(part, a)
		}
		if in {
			part = append(part, p)
		} else {
			end()
		}
	}
	end()
	return parts
}

// within tells whether rings wind round a point, those of holes the other way.
func within(p geom.Point, rings []cavity.Ring) bool {
	winds := 0
	for _, r := range rings {
		for i, s := range r {
			a, b := s.At.Sub(p), r[(i+1)%len(r)].At.Sub(p)
			switch {
			case a.Y <= 0 && b.Y > 0 && a.Cross(b) > 0:
				winds++
			case a.Y > 0 && b.Y <= 0 && a.Cross(b) < 0:
				winds--
			}
		}
	}
	return winds != 0
}

// pathOf is a row of points, m, as a path, mm.
func pathOf(points []geom.Point) (p scene.Path) {
	p.Start = inMillimetres(points[0])
	for _, x := range points[1:] {
		p.Steps = append(p.Steps, scene.Step{To: inMillimetres(x)})
	}
	return p
}

func inMillimetres(p geom.Point) scene.Point { return scene.Point{X: p.X * 1e3, Y: p.Y * 1e3} }
