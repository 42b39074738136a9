package report

import (
	"fmt"

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
	f := &scene.Field{Title: fmt.Sprintf("mode %d, %s, %.3g GHz", i+1, r.Title(), m.F/1e9), Strongest: inMillimetres(m.Field.Strongest())}
	for _, share := range shares {
		line := scene.FieldLine{Share: share}
		for _, value := range [...]float64{share, -share} {
			for _, points := range m.Field.Contours(value) {
				if path, ok := pathOf(points); ok {
					line.Paths = append(line.Paths, path)
				}
			}
		}
		if len(line.Paths) > 0 {
			f.Lines = append(f.Lines, line)
		}
	}
	return f
}

// pathOf is a row of points, m, as a path, mm.
func pathOf(points []geom.Point) (p scene.Path, ok bool) {
	if len(points) < 2 {
		return p, false
	}
	p.Start = inMillimetres(points[0])
	for _, x := range points[1:] {
		p.Steps = append(p.Steps, scene.Step{To: inMillimetres(x)})
	}
	p.Closed = points[0] == points[len(points)-1]
	return p, true
}

func inMillimetres(p geom.Point) scene.Point { return scene.Point{X: p.X * 1e3, Y: p.Y * 1e3} }
