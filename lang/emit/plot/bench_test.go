package plot

import (
	"fmt"
	"testing"

	"hemline/lang/emit/sheet"
)

// dense is a sheet with about as much on it as a board's drawing has: lines of
// each type, rings, tables, notes.
func dense() *sheet.Sheet {
	a3, _ := sheet.FormatNamed("A3")
	s := &sheet.Sheet{Format: a3}
	s.Frame()
	for i := range 60 {
		x, y := 30+float64(i%20)*18, 200+float64(i/20)*25
		s.Add(sheet.Strokes(sheet.Line(1+i%7), sheet.Point{X: x, Y: y}, sheet.Point{X: x + 15, Y: y}, sheet.Point{X: x, Y: y + 20}),
			sheet.Shape{Line: sheet.Thick, Fill: sheet.Light, Paths: []sheet.Path{sheet.Circle(sheet.Point{X: x + 8, Y: y + 8}, 5), sheet.Circle(sheet.Point{X: x + 8, Y: y + 8}, 2)}})
	}
	for i := range 150 {
		x, y := 30+float64(i%3)*120, 185-float64(i/3)*3.4
		s.Add(sheet.Strokes(sheet.Thin, sheet.Point{X: x, Y: y}, sheet.Point{X: x + 110, Y: y}))
		s.Write(sheet.Text{At: sheet.Point{X: x, Y: y}, S: fmt.Sprintf("%d", i), Height: sheet.Small, Bold: true},
			sheet.Text{At: sheet.Point{X: x + 10, Y: y}, S: fmt.Sprintf("Plate wall %d: south, from (18, 0) to (46, 0), 28 mm long", i), Height: sheet.Small})
	}
	return s
}

func BenchmarkSheet(b *testing.B) {
	s := dense()
	for name, write := range map[string]func() ([]byte, error){
		"PDF": func() ([]byte, error) { return PDF([]*sheet.Sheet{s}, About{}) },
		"SVG": func() ([]byte, error) { return SVG(s, About{}), nil },
		"PNG": func() ([]byte, error) { return PNG(s, 150) },
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				data, err := write()
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(len(data)), "bytes/file")
			}
		})
	}
}

// A fence of as many vias as a row may hold.
func BenchmarkManyCircles(b *testing.B) {
	s := &sheet.Sheet{Format: sheet.Formats[0]}
	shape := sheet.Shape{Line: sheet.Thin, Fill: sheet.Clear}
	for i := range 20_000 {
		shape.Paths = append(shape.Paths, sheet.Circle(sheet.Point{X: float64(i % 200), Y: float64(i / 200)}, 0.4))
	}
	s.Add(shape)
	b.Run("PDF", func(b *testing.B) {
		for b.Loop() {
			if _, err := PDF([]*sheet.Sheet{s}, About{}); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("PNG", func(b *testing.B) {
		for b.Loop() {
			if _, err := PNG(s, 150); err != nil {
				b.Fatal(err)
			}
		}
	})
}
