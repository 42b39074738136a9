package cavity

import (
	"context"
	"sync"
	"testing"

	"gonum.org/v1/gonum/mat"

	"hemline/checks/sheet"
)

// small is a board of 64 by 42 mm with a notch, two cutouts, walls and a fence.
func small() Shape {
	return Shape{
		Rings: []Ring{
			plated(ring(0, 0, 20, 0, 64, 0, 64, 42, 40, 42, 40, 36, 28, 36, 28, 42, 0, 42), 1, 7),
			hole(rectangle(12, 12, 20, 15)), plated(hole(circle(45, 20, 2, 48))),
		},
		Fences:       []Fence{{Path: points(30, 6, 30, 24), Pitch: 1.5 * mm, Hole: 0.3 * mm}},
		Permittivity: 4.3,
	}
}

// large is a board of 300 by 200 mm with 40 cutouts.
func large() Shape {
	s := Shape{Rings: []Ring{plated(rectangle(0, 0, 300, 200), 0, 2)}, Permittivity: 4.3}
	for i := range 40 {
		x, y := 20+float64(i%8)*35, 20+float64(i/8)*38
		if i%2 == 0 {
			s.Rings = append(s.Rings, hole(rectangle(x, y, x+12, y+3)))
		} else {
			s.Rings = append(s.Rings, plated(hole(circle(x, y, 3, 36))))
		}
	}
	return s
}

// The three plane pairs of a board of four layers, side by side.
func BenchmarkThreePairs(b *testing.B) {
	for b.Loop() {
		var all sync.WaitGroup
		for range 3 {
			all.Go(func() { solve(b, small(), Want{Modes: 6, Accuracy: 0.005}) })
		}
		all.Wait()
	}
}

func BenchmarkOnePair(b *testing.B) {
	for b.Loop() {
		solve(b, small(), Want{Modes: 6, Accuracy: 0.005})
	}
}

func BenchmarkLarge(b *testing.B) {
	for b.Loop() {
		solve(b, large(), Want{Modes: 6, Accuracy: 0.02})
	}
}

// The factoring beside gonum's, of the same matrix.
func BenchmarkFactor(b *testing.B) {
	s, err := sheet.Mesh(Shape{Rings: []Ring{rectangle(0, 0, 64, 42)}}.region(), 0.64*mm)
	if err != nil {
		b.Fatal(err)
	}
	k, m := s.Stiffness().RawSymBand(), s.Mass().RawSymBand()
	area := s.Area()
	last := make([]int, s.Nodes)
	for i := range last {
		last[i] = min(i+s.Band, s.Nodes-1)
	}
	b.Run("ours", func(b *testing.B) {
		for b.Loop() {
			own := newBanded(last)
			for i := range last {
				for j := range own.row(i) {
					own.add(i, i+j, k.Data[i*k.Stride+j]+m.Data[i*m.Stride+j]/area)
				}
			}
			if err := own.factor(context.Background()); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("gonum", func(b *testing.B) {
		for b.Loop() {
			sum := mat.NewSymBandDense(s.Nodes, s.Band, nil)
			raw := sum.RawSymBand()
			for i := range raw.Data {
				raw.Data[i] = k.Data[i] + m.Data[i]/area
			}
			var c mat.BandCholesky
			if !c.Factorize(sum) {
				b.Fatal("not positive")
			}
		}
	})
}
