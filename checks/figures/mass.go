package figures

import (
	"math"

	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

// Mass is what a board weighs, grams, and where its centre is: laminate, the copper
// that the text states, and the parts and connectors that state a mass. Tracks,
// holes, solder mask and finish are left out.
type Mass struct {
	Laminate, Copper, Parts float64
	Centre                  geom.Point
	// Foils tells that the stack says how thick copper and laminate are; without one
	// the board counts as laminate all through, and walls alone as copper.
	Foils bool
}

// Bare is the mass without parts.
func (m Mass) Bare() float64 { return m.Laminate + m.Copper }

// Whole is the mass with them.
func (m Mass) Whole() float64 { return m.Bare() + m.Parts }

// BareLeast and BareMost are between which the bare mass lies, by what data sheets
// give for the density of laminate, and fact sheets for that of copper.
func (m Mass) BareLeast() float64 {
	return m.Laminate*physics.LaminateLeast/physics.LaminateDensity + m.Copper*physics.CopperLeast/physics.CopperDensity
}

// BareMost is the other end.
func (m Mass) BareMost() float64 {
	return m.Laminate*physics.LaminateMost/physics.LaminateDensity + m.Copper
}

// MassOf is a board's mass; ok is false where it has no outline or no thickness.
func MassOf(b *board.Board) (m Mass, ok bool) {
	region, closed := b.Region()
	thickness, known := b.Thickness()
	if !closed || !known {
		return m, false
	}
	w := weighing{b: b}
	solid := thickness.Value
	if stack := b.Stack(); stack != nil {
		m.Foils, solid = true, w.foils(stack, region)
	}
	for _, p := range b.Platings() {
		grams, at := wallMass(b, p, thickness.Value)
		w.copper(grams, at)
	}
	m.Copper = w.grams
	m.Laminate = math.Max(0, boardMass(region.Area(), solid)-w.displaced)
	w.add(m.Laminate, region.Centroid())
	for _, x := range b.Weights() {
		m.Parts += x.Mass * 1000
		w.add(x.Mass*1000, x.At)
	}
	if w.sum > 0 {
		m.Centre = w.moment.Scale(1 / w.sum)
	} else {
		m.Centre = region.Centroid()
	}
	return m, true
}

// weighing sums masses, grams, and their moments.
type weighing struct {
	b         *board.Board
	grams     float64 // of copper
	displaced float64 // laminate, grams, in the place of which copper lies
	sum       float64
	moment    geom.Point
}

func (w *weighing) add(grams float64, at geom.Point) {
	w.sum, w.moment = w.sum+grams, w.moment.Add(at.Scale(grams))
}

func (w *weighing) copper(grams float64, at geom.Point) {
	w.grams += grams
	w.add(grams, at)
}

// foils weighs the copper of a stack's layers and is how thick the laminate is
// where there is none: between the outer layers, an inner one's place being filled
// with resin.
func (w *weighing) foils(stack *board.Stack, region geom.Region) (solid float64) {
	for _, l := range stack.Layers {
		if !l.Copper {
			solid += l.Thickness.Value
			continue
		}
		_, outer := w.b.FaceOf(l.Name.Text)
		area := 0.0
		for _, x := range w.copperOn(l.Name.Text) {
			area += x.area
			w.copper(copperMass(x.area, l.Thickness.Value), x.centre)
		}
		if !outer {
			solid += l.Thickness.Value
			w.displaced += boardMass(math.Min(area, region.Area()), l.Thickness.Value)
		}
	}
	return solid
}

// covered is an area of copper, nm², and its centre.
type covered struct {
	area   float64
	centre geom.Point
}

// copperOn is the copper that the text states on a layer: its planes, less what they
// keep from edges, and its features where no plane lies. What planes give way to,
// other nets' copper and holes, is not taken out of them.
func (w *weighing) copperOn(layer string) (list []covered) {
	var planes []*board.Plane
	for _, p := range w.b.Planes() {
		if w.b.SameLayer(p.Layer.Text, layer) {
			planes = append(planes, p)
			list = append(list, w.plane(p))
		}
	}
	for _, f := range w.b.Features() {
		if !w.b.SameLayer(f.Layer.Text, layer) {
			continue
		}
		at := f.Shape.Centroid()
		under := false
		for _, p := range planes {
			under = under || p.Within == nil || p.Within.Contains(at)
		}
		if !under {
			list = append(list, covered{math.Abs(f.Shape.SignedArea()), at})
		}
	}
	return list
}

// plane is the area of a plane: of the board, in its rectangle if it is cut to one,
// less the strip that it keeps from every edge but the walls that it runs to.
func (w *weighing) plane(p *board.Plane) covered {
	var outline, cutouts, strips, within []*geom.Loop
	for _, x := range w.b.Profiles() {
		if x.Cutout {
			cutouts = append(cutouts, x.Path)
		} else {
			outline = append(outline, x.Path)
		}
		wall := w.b.Wall(x)
		for _, list := range [...][]board.Stretch{wall.Bare, wall.Plated} {
			for _, s := range list {
				if p.Pullback.Value > 0 && (s.Plating == nil || !w.b.RunsTo(p, s.Plating)) {
					strips = append(strips, s.Inward(p.Pullback.Value)...)
				}
			}
		}
	}
	if p.Within != nil {
		size := p.Within.Max.Sub(p.Within.Min)
		within = append(within, geom.RectangleAt(p.Within.Min, size.X, size.Y, 0))
	}
	area, centre := geom.CentreCovered([][]*geom.Loop{outline, cutouts, strips, within}, func(cover []int) bool {
		return cover[0] > 0 && cover[1] == 0 && cover[2] == 0 && (cover[3] > 0 || p.Within == nil)
	})
	return covered{area, centre}
}

// wallMass is the mass of a plating's copper, grams, on its walls and wraps, and its
// centre, which is taken to be that of the walls' lines; 0 where no copper is stated.
// Wraps count by their width along the wall, corners and all, which is what they
// have on a straight one.
func wallMass(b *board.Board, p *board.Plating, thickness float64) (grams float64, centre geom.Point) {
	if !p.Copper.Given() {
		return 0, geom.Point{}
	}
	long, high := 0.0, thickness+p.Wrap[board.Top].Value+p.Wrap[board.Bottom].Value
	for s := range b.FinishedBy(p) {
		for _, g := range s.Segments() {
			const pieces = 16 // of an arc
			l := g.Length() / pieces
			for i := range pieces {
				long, centre = long+l, centre.Add(g.At((float64(i)+0.5)*l).Scale(l))
			}
		}
	}
	if long > 0 {
		centre = centre.Scale(1 / long)
	}
	return copperMass(long*high, p.Copper.Value), centre
}

// copperMass is in grams, for nm² and nm; 0 where there is none.
func copperMass(area, thickness float64) float64 {
	m, _ := physics.CopperMass(quantity.InSquareMetres(area), quantity.InMetres(thickness))
	return m * 1000
}

// boardMass is the mass of laminate in grams, for an area in nm² and a thickness
// in nm.
func boardMass(area, thickness float64) float64 {
	m, _ := physics.BoardMass(quantity.InSquareMetres(area), quantity.InMetres(thickness))
	return m * 1000
}
