package figures

import (
	"cmp"
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Row is what a row of vias behind an opening leaves open of it: between two
// vias, and between the wall's ends and the vias nearest to them.
//
// A via's opening counts by its way alone, whatever the board's height (a via fence's
// opening is the pitch less the hole's diameter: common practice of via fences).
type Row struct {
	Fences []*board.Fence // in the order of the text
	Open   []Between      // in order along the path
}

// Between is what is open between two vias, or a wall's end and a via.
type Between struct {
	From, To float64 // where they stand along the profile's path, nm
	Size
}

// via is one of a fence's, by where it stands along a profile's path.
type via struct {
	of    *board.Fence
	at    geom.Point
	along float64 // nm along the path, of the profile's point nearest to it
	off   Tolerance
}

// viasAlong are the vias of the fences whose rows run along a profile, in order
// along its path, where all are of the net of a wall on it, or of one net where no wall is.
func viasAlong(b *board.Board, p *board.Profile, tolerances Tolerances) []via {
	if p.Cutout {
		return nil
	}
	nets := map[string]bool{}
	for _, s := range b.Wall(p).Plated {
		nets[s.Plating.Net.Text] = true
	}
	off := tolerances("position")
	var list []via
	walled := len(nets) > 0
	for _, f := range b.Fences() {
		if !slices.ContainsFunc(f.Along, func(a board.Along) bool { return a.Edge.Profile == p }) {
			continue
		}
		if !walled {
			nets[f.Net.Text] = true
		}
		if !nets[f.Net.Text] || f.Net.Text == "" {
			continue
		}
		for _, at := range f.Vias {
			_, along, _ := p.Path.Nearest(at)
			list = append(list, via{f, at, along, off})
		}
	}
	if len(nets) > 1 {
		return nil // fences of several nets close no ring together
	}
	slices.SortStableFunc(list, func(a, b via) int { return cmp.Compare(a.along, b.along) })
	return list
}

// rowBehind is the row of vias behind an opening, if it leaves less open than the
// opening itself; nil where it does not.
func rowBehind(o Opening, vias []via) *Row {
	if len(vias) < 2 {
		return nil
	}
	row := &Row{}
	if o.Stretch.Round() {
		for i := range vias {
			row.between(o.Stretch.Profile, vias[i], vias[(i+1)%len(vias)])
		}
	} else {
		row.behind(o, vias)
	}
	if row.sum() >= math.Max(o.Nominal, o.Worst) {
		return nil
	}
	return row
}

// behind fills a row in between the wall's two ends.
func (r *Row) behind(o Opening, vias []via) {
	s := o.Stretch
	l := s.Profile.Path.Perimeter()
	first, from := nearestVia(vias, s.Profile.Path.At(s.From))
	last, to := nearestVia(vias, s.Profile.Path.At(s.To))
	n := len(vias)
	steps := (last - first + n) % n
	if on := math.Mod(vias[last].along-vias[first].along+l, l); math.Abs(on-s.Length()) > l-on+s.Length() {
		first, last, steps = last, first, n-steps // they stand behind the wall's ends, past each other
	}
	r.add(vias[first].of, Between{s.From, s.From, edgeWay(from, vias[first])})
	for k := range steps {
		r.between(s.Profile, vias[(first+k)%n], vias[(first+k+1)%n])
	}
	r.add(vias[last].of, Between{s.To, s.To, edgeWay(to, vias[last])})
}

// nearestVia is the via nearest to a point, and how far off its centre is.
func nearestVia(vias []via, p geom.Point) (i int, d float64) {
	d = math.Inf(1)
	for k, v := range vias {
		if x := v.at.Dist(p); x < d {
			i, d = k, x
		}
	}
	return i, d
}

// edgeWay is what is open between a wall's end and a via.
func edgeWay(d float64, v via) Size {
	open := math.Max(0, d-v.of.Hole.Value/2)
	return Size{Nominal: open, Worst: open + v.off.Value, By: v.off, Each: " at one via"}
}

// between adds what is open between two neighbouring vias. At worst it is no more:
// what a via off its place opens on one side it closes on the other, and openings
// side by side count together.
func (r *Row) between(p *board.Profile, a, b via) {
	open := math.Max(0, a.at.Dist(b.at)-(a.of.Hole.Value+b.of.Hole.Value)/2)
	to := b.along
	if to < a.along {
		to += p.Path.Perimeter()
	}
	r.add(b.of, Between{a.along, to, Size{Nominal: open, Worst: open}})
}

func (r *Row) add(f *board.Fence, b Between) {
	if !slices.Contains(r.Fences, f) {
		r.Fences = append(r.Fences, f)
	}
	r.Open = append(r.Open, b)
}

// sum is how much a row leaves open altogether, nm.
func (r *Row) sum() float64 {
	sum := 0.0
	for _, x := range r.Open {
		sum += x.Worst
	}
	return sum
}

// Widest is the largest of what a row leaves open.
func (r *Row) Widest() Size {
	return slices.MaxFunc(r.Open, func(a, b Between) int { return cmp.Compare(a.Worst, b.Worst) }).Size
}
