package figures

import (
	"math"
	"slices"

	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

// pairs are the planes that a board's cavities lie between.
type pairs struct {
	b      *board.Board
	sheets *copper.Sheets
	all    [][]copperOf // layers that have planes, from the top
}

func (p pairs) severalOn(level int) bool {
	return slices.ContainsFunc(p.all, func(on []copperOf) bool { return on[0].level == level && len(on) > 1 })
}

// past lists what planes enclose with those of their net that are no neighbours, but
// for what has no mode that nearer ones have not.
func (p pairs) past(i int, upper copperOf) (list []*Cavity) {
	if upper.net == "" {
		return nil
	}
	var between []copperOf
	var names []string
	for j := i + 1; j < len(p.all); j++ {
		for _, lower := range p.all[j] {
			if lower.net != upper.net || len(between) == 0 {
				continue
			}
			for _, c := range p.between(upper, lower, slices.Clone(names)) {
				if !slices.ContainsFunc(between, func(x copperOf) bool { return p.hides(x, c, upper, lower) }) {
					list = append(list, c)
				}
			}
		}
		for _, x := range p.all[j] {
			if x.net == upper.net && p.goesOn(j, x.net) && p.shuts(x, upper) {
				return list // whatever lies below is hidden by it
			}
		}
		between = append(between, p.all[j]...)
		names = append(names, p.b.Layers()[p.all[j][0].level])
	}
	return list
}

// goesOn tells that a net has planes below a layer's.
func (p pairs) goesOn(j int, net string) bool {
	return slices.ContainsFunc(p.all[j+1:], func(on []copperOf) bool {
		return slices.ContainsFunc(on, func(x copperOf) bool { return x.net == net })
	})
}

// hides tells that planes between those of a cavity cover it all and are joined to
// them all round as they are to each other: its modes are then those of the cavities
// above and below. Planes of another net are joined to none.
func (p pairs) hides(x copperOf, c *Cavity, upper, lower copperOf) bool {
	joins := c.Electric == 0 && !c.Fenced || x.net == upper.net && p.joinsAs(x, upper, lower)
	if !joins {
		return false
	}
	rings, ok := p.sheets.Beside(upper.set, lower.set, x.set)
	return ok && narrow(rings, math.Sqrt(c.Area)*quantity.NmPerMetre)
}

// shuts tells that planes cover all that others of their net above them cover, and are
// joined wherever these are.
func (p pairs) shuts(x, upper copperOf) bool {
	whole, ok := p.sheets.Common(upper.set, upper.set)
	if !ok || !p.joinsAs(x, upper, upper) {
		return false
	}
	rest, ok := p.sheets.Beside(upper.set, upper.set, x.set)
	return ok && narrow(rest, math.Sqrt(enclosed(whole)))
}

// joinsAs tells that each plating of their net that joins two sets of planes joins a third.
func (p pairs) joinsAs(x, upper, lower copperOf) bool {
	layers := p.b.Layers()
	return !slices.ContainsFunc(p.b.Platings(), func(w *board.Plating) bool {
		return w.Net.Text == upper.net && p.b.Joins(w, layers[upper.level]) && p.b.Joins(w, layers[lower.level]) && !p.b.Joins(w, layers[x.level])
	})
}

// narrowest is how wide, as a share of a cavity's size, a piece of it may be that a plane
// between leaves free, as by a greater pullback: common practice, no source.
const narrowest = 1. / 50

// narrow tells that what rings bound lies wholly in strips that are narrow beside a size.
func narrow(rings [][]copper.Side, size float64) bool {
	for _, part := range parts(rings) {
		around := 0.0
		for _, ring := range part {
			for _, s := range ring {
				around += s.Length()
			}
		}
		if 2*enclosed(part) > narrowest*size*around { // a strip is twice its area by its boundary wide
			return false
		}
	}
	return true
}

// enclosed is the area that rings bound, nm².
func enclosed(rings [][]copper.Side) (sum float64) {
	for _, ring := range rings {
		segs := make([]geom.Segment, len(ring))
		for i, s := range ring {
			segs[i] = s.Segment
		}
		sum += geom.NewLoop(segs).SignedArea()
	}
	return sum
}

// fringing is by what share a mode may lie lower because open edges fringe: as if
// both ends of the region's box, long by wide, m, went on by an open end's length over
// the shorter side, the one plane being the wider: k then shrinks by side/(side+2D).
// Where little of the edge is open, m, it is less: moving it out by D changes k² by up
// to four times D·open/area (Hadamard's variation with a field whose square is nowhere
// more than four times its mean, as on rectangles; from memory).
func (c *Cavity) fringing(long, wide, open float64) float64 {
	d, ok := physics.OpenEnd(c.apart, max(long, wide), c.Permittivity)
	if !ok || open <= 0 || c.Area <= 0 {
		return 0
	}
	return min(2*d/(min(long, wide)+2*d), 2*d*open/c.Area)
}
