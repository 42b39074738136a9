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
	inset float64 // how far it is from there, nm
	off   Tolerance
}

// viasAlong are the vias of the fences whose rows run along a profile, in order
// along its path, where all are of the net of a wall on it, or of one net where no wall
// is, and join planes of that net.
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
		if !nets[f.Net.Text] || !joinsPlanes(b, f.Net.Text) {
			continue
		}
		for _, at := range f.Vias {
			_, along, d := p.Path.Nearest(at)
			list = append(list, via{f, at, along, d, off})
		}
	}
	if len(nets) > 1 {
		return nil // fences of several nets close no ring together
	}
	slices.SortStableFunc(list, func(a, b via) int { return cmp.Compare(a.along, b.along) })
	return list
}

// joinsPlanes tells whether planes of a net lie on two layers, which its vias join.
func joinsPlanes(b *board.Board, net string) bool {
	first := ""
	for _, p := range b.Planes() {
		if net == "" || p.Net.Text != net {
			continue
		}
		if first != "" && !b.SameLayer(first, p.Layer.Text) {
			return true
		}
		first = p.Layer.Text
	}
	return false
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
	if row.Widest().Worst >= math.Max(o.Nominal, o.Worst) {
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

// between adds what is open between two neighbouring vias: the way from one to the
// other, and no less than how far apart they stand along the edge, but for what two
// rows save at a corner. Vias on one part of an edge close nothing elsewhere.
func (r *Row) between(p *board.Profile, a, b via) {
	to := b.along
	if to <= a.along {
		to += p.Path.Perimeter()
	}
	way := math.Max(a.at.Dist(b.at), to-a.along-a.inset-b.inset)
	open := math.Max(0, way-(a.of.Hole.Value+b.of.Hole.Value)/2)
	r.add(b.of, Between{a.along, to, Size{Nominal: open, Worst: open + 2*a.off.Value, By: a.off, Each: " at each via"}})
}

func (r *Row) add(f *board.Fence, b Between) {
	if !slices.Contains(r.Fences, f) {
		r.Fences = append(r.Fences, f)
	}
	r.Open = append(r.Open, b)
}

// Widest is the largest of what a row leaves open.
func (r *Row) Widest() Size {
	return slices.MaxFunc(r.Open, func(a, b Between) int { return cmp.Compare(a.Worst, b.Worst) }).Size
}
