package plot

import (
	"math"

	"hemline/lang/emit/sheet"
)

// pen turns lines into the areas that they cover. freetype's rasterizer has a
// pen of its own, which leaves a notch where a closed line starts, makes rings
// of circles smaller than the line is wide, and knows no dashes.
//
// All areas run counterclockwise, so that together they are painted by the
// rule that counts turns; they touch, and overlap only inside of corners.
type pen struct {
	width float64
	round bool    // the ends of lines
	off   float64 // how far chords may stray from round corners and ends, mm
	add   func([]sheet.Point)
}

// draw draws a line through points, dashed if there are dashes.
func (p *pen) draw(points []sheet.Point, closed bool, dashes []float64) {
	if dashes == nil {
		p.stroke(points, closed)
		return
	}
	for _, piece := range dashed(points, dashes) {
		p.stroke(piece, false)
	}
}

// distinct leaves out points that are where the one before is.
func distinct(points []sheet.Point) (list []sheet.Point) {
	for i, q := range points {
		if i == 0 || q != points[i-1] {
			list = append(list, q)
		}
	}
	return list
}

// dashed cuts a line into its dashes; they run on round corners.
func dashed(points []sheet.Point, dashes []float64) (pieces [][]sheet.Point) {
	which, left := 0, dashes[0]
	piece := []sheet.Point{points[0]}
	for i, to := range points[1:] {
		from := points[i]
		long := math.Hypot(to.X-from.X, to.Y-from.Y)
		done := 0.
		for long-done > left {
			done += left
			cut := from.Add((to.X-from.X)*done/long, (to.Y-from.Y)*done/long)
			if which%2 == 0 {
				pieces = append(pieces, append(piece, cut))
			}
			which++
			left = dashes[which%len(dashes)]
			piece = []sheet.Point{cut}
		}
		left -= long - done
		piece = append(piece, to)
	}
	if which%2 == 0 {
		pieces = append(pieces, piece)
	}
	return pieces
}

// stroke covers one continuous line; one without a length covers nothing.
func (p *pen) stroke(points []sheet.Point, closed bool) {
	points = distinct(points)
	if len(points) < 2 {
		return
	}
	var first, last sheet.Point // halves of the line's width, to the left
	for i, b := range points[1:] {
		a := points[i]
		n := p.left(a, b)
		p.add([]sheet.Point{a.Add(-n.X, -n.Y), b.Add(-n.X, -n.Y), b.Add(n.X, n.Y), a.Add(n.X, n.Y)})
		if i == 0 {
			first = n
		} else {
			p.corner(a, last, n)
		}
		last = n
	}
	start, end := points[0], points[len(points)-1]
	switch {
	case closed && start == end:
		p.corner(start, last, first)
	case p.round:
		p.fan(start, first, math.Pi)
		p.fan(end, sheet.Point{X: -last.X, Y: -last.Y}, math.Pi)
	}
}

// left is half the line's width, square to the left of the way from a to b.
func (p *pen) left(a, b sheet.Point) sheet.Point {
	long := math.Hypot(b.X-a.X, b.Y-a.Y)
	return sheet.Point{X: -(b.Y - a.Y) / long * p.width / 2, Y: (b.X - a.X) / long * p.width / 2}
}

// corner rounds the outer side of a corner between two stretches.
func (p *pen) corner(at, before, after sheet.Point) {
	turn := math.Atan2(before.X*after.Y-before.Y*after.X, before.X*after.X+before.Y*after.Y)
	if turn > 0 {
		p.fan(at, sheet.Point{X: -before.X, Y: -before.Y}, turn)
	} else if turn < 0 {
		p.fan(at, after, -turn)
	}
}

// fan covers a sector about a point, counterclockwise from an edge.
func (p *pen) fan(at, edge sheet.Point, turn float64) {
	r := p.width / 2
	n := math.Ceil(turn / (2 * math.Acos(1-math.Min(p.off/r, 0.5))))
	points := []sheet.Point{at}
	for i := 0.; i <= n; i++ {
		sin, cos := math.Sincos(turn * i / n)
		points = append(points, at.Add(edge.X*cos-edge.Y*sin, edge.X*sin+edge.Y*cos))
	}
	p.add(points)
}
