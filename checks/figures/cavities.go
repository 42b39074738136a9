package figures

import (
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strings"

	"hemline/checks/cavity"
	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

// What is asked of a cavity.
const (
	// ModesAsked is how many modes of each cavity are worked out.
	ModesAsked = 6
	// bandTimes is up to how many times the band's upper end.
	bandTimes = 1.5
	accuracy  = 0.005
	// arcSides is how many chords a full circle has: 1e-4 of a mode's k² (computed).
	arcSides = 240
	// smallest is the area under which a part of a pair is left out, m².
	smallest = 1e-6
	// mostParts is how many parts of a pair are looked at, the largest.
	mostParts = 8
	// mostCavities is how many of a board's are looked at, from the top.
	mostCavities = 32
)

// Cavity is what two planes enclose: where both have copper, in one piece. They are
// neighbours, or of one net with other planes between them (Past): a flat plane stands
// square to the field, so that a field that is even from the one to the other stays as
// it is, whatever lies between, joined or not; exactly so where the dielectrics are
// alike, and by their permittivity in series else.
//
// Conventions: E = 0 where both planes join one plated stretch (of their net, and its
// `layers`) and along fences of their net, the vias of which stand under a
// twentieth of the wavelength apart; all other boundary is open, ∂E/∂n = 0, each plane
// ending where it is drawn, its pullback kept. Fringing at open edges lowers what a mode
// may be at least (Fringing), not the mode. What a plane gives way to (vias, pads, features of
// another net) is not taken out of it, and a via that stands alone joins nothing. Planes
// of two nets with a third between them are no pair, not even beside where it ends.
type Cavity struct {
	Upper, Lower       string   // the two layers
	Past               []string // the layers between them that have planes
	UpperNet, LowerNet string   // "" where the text gives none
	Part               int      // from 1, the largest first; 0 for one in one piece
	// Permittivity is that of the dielectrics between them in series; Assumed tells
	// that one of them states none and 4.3 is taken.
	Permittivity float64
	Assumed      bool
	Area         float64 // m²
	Around       float64 // the length of its boundary, m
	Electric     float64 // the share of it that is joined, 0 to 1
	// Fringing is by what share, 0 to 1, a mode may lie lower because open edges fringe.
	Fringing float64
	Fenced   bool // a fence joins its planes
	// TooWide are fences of its net whose vias stand too far apart to be a wall.
	TooWide []*board.Fence
	Shape   cavity.Shape
	Want    cavity.Want
	Key     Key

	several bool    // planes of several nets lie on one of the layers
	apart   float64 // how far the planes are from each other, m
}

// Key is the same for cavities of one geometry of which the same is asked.
type Key [sha256.Size]byte

// Title names the cavity: "ground to power", "ground to bottom, past power", with the
// nets where a layer has planes of several, and which part of the pair where it has several.
func (c *Cavity) Title() string {
	s := c.Upper + " to " + c.Lower
	if len(c.Past) > 0 {
		s += ", past " + strings.Join(c.Past, ", ")
	}
	if c.several {
		s += ", " + NetOf(c.UpperNet) + " to " + NetOf(c.LowerNet)
	}
	if c.Part > 0 {
		s += fmt.Sprintf(", part %d", c.Part)
	}
	return s
}

// NetOf is a net's name in words.
func NetOf(net string) string {
	if net == "" {
		return "no net"
	}
	return net
}

// OneNet tells whether both planes are of one net, so that they may be joined.
func (c *Cavity) OneNet() bool { return c.UpperNet != "" && c.UpperNet == c.LowerNet }

// Band is the range of frequencies that a board is used in, Hz: from 0 where it
// states one frequency alone; ok is false where it states none.
func Band(b *board.Board) (low, high float64, ok bool) {
	if b.Info() == nil || !b.Info().Frequency.Given() {
		return 0, 0, false
	}
	return b.Info().FrequencyLow.Value, b.Info().Frequency.Value, true
}

// copperOf are the planes of one net on one layer.
type copperOf struct {
	level  int
	net    string
	planes []*board.Plane
	set    int // among all
}

// Cavities lists what the board's planes enclose, from the top: the largest part of
// each pair first.
func Cavities(b *board.Board) (list []*Cavity) {
	all := planesByLayer(b)
	if len(all) < 2 {
		return nil
	}
	var sets [][]*board.Plane
	for _, on := range all {
		for k := range on {
			on[k].set, sets = len(sets), append(sets, on[k].planes)
		}
	}
	p := pairs{b, copper.PlanesAlone(b).Sheets(sets), all}
	for i := range len(all) - 1 {
		for _, upper := range all[i] {
			for _, lower := range all[i+1] {
				list = append(list, p.between(upper, lower, nil)...)
			}
		}
		for _, upper := range all[i] {
			list = append(list, p.past(i, upper)...)
		}
		if len(list) >= mostCavities {
			break
		}
	}
	return list[:min(len(list), mostCavities)]
}

// planesByLayer lists the layers that have planes, top first, and of each its planes
// net by net.
func planesByLayer(b *board.Board) [][]copperOf {
	layers := b.Layers()
	on := make([][]copperOf, len(layers))
	for _, p := range b.Planes() {
		at := slices.IndexFunc(layers, func(l string) bool { return b.SameLayer(l, p.Layer.Text) })
		if at < 0 {
			continue
		}
		i := slices.IndexFunc(on[at], func(c copperOf) bool { return c.net == p.Net.Text })
		if i < 0 {
			i = len(on[at])
			on[at] = append(on[at], copperOf{level: at, net: p.Net.Text})
		}
		on[at][i].planes = append(on[at][i].planes, p)
	}
	return slices.DeleteFunc(on, func(x []copperOf) bool { return len(x) == 0 })
}

// between lists the parts of what two sets of planes enclose.
func (p pairs) between(upper, lower copperOf, past []string) (list []*Cavity) {
	b := p.b
	rings, ok := p.sheets.Common(upper.set, lower.set)
	if !ok {
		return nil
	}
	layers := b.Layers()
	pair := Cavity{Upper: layers[upper.level], Lower: layers[lower.level], UpperNet: upper.net, LowerNet: lower.net, Past: past}
	pair.several = p.severalOn(upper.level) || p.severalOn(lower.level)
	pair.Permittivity, pair.apart, pair.Assumed = seriesOf(b, pair.Upper, pair.Lower)
	pair.Want = cavity.Want{Modes: ModesAsked, Accuracy: accuracy}
	_, high, banded := Band(b)
	pair.Want.Below = bandTimes * high
	var fences []*board.Fence
	if pair.OneNet() {
		for _, f := range b.Fences() {
			switch lambda, _ := physics.Wavelength(high, pair.Permittivity); {
			case f.Net.Text != pair.UpperNet || len(f.Vias) == 0:
			case banded && quantity.InMetres(f.Widest()) > lambda/20:
				pair.TooWide = append(pair.TooWide, f)
			default:
				fences = append(fences, f)
			}
		}
	}
	joined := func(p *board.Plating) bool {
		return p != nil && pair.OneNet() && p.Net.Text == pair.UpperNet && b.Joins(p, pair.Upper) && b.Joins(p, pair.Lower)
	}
	for _, part := range parts(rings) {
		c := pair
		c.shape(part, fences, joined)
		if c.Area >= smallest {
			list = append(list, &c)
		}
	}
	slices.SortStableFunc(list, func(a, b *Cavity) int { return cmp.Compare(b.Area, a.Area) })
	list = list[:min(len(list), mostParts)]
	for i, c := range list {
		if len(list) > 1 {
			c.Part = i + 1
		}
	}
	return list
}

// seriesOf is the relative permittivity of what lies between two layers, its
// dielectrics in series: Σd/Σ(d/εr), and how thick they are, m. Source: series
// capacitors, textbook.
func seriesOf(b *board.Board, upper, lower string) (er, thick float64, assumed bool) {
	sum, over, inside := 0.0, 0.0, false
	for _, l := range b.Stack().Layered() {
		switch {
		case l.Copper && l.Name.Text == upper:
			inside = true
		case l.Copper && l.Name.Text == lower:
			inside = false
		case inside && !l.Copper && l.Thickness.Value > 0:
			of := l.Permittivity.Value
			if of < 1 {
				of, assumed = assumedPermittivity, true
			}
			sum, over = sum+l.Thickness.Value, over+l.Thickness.Value/of
		}
	}
	if over == 0 {
		return assumedPermittivity, 0, true
	}
	return sum / over, quantity.InMetres(sum), assumed
}

// shape fills in the geometry, and what is known of it at once.
func (c *Cavity) shape(rings [][]copper.Side, fences []*board.Fence, joined func(*board.Plating) bool) {
	c.Shape = cavity.Shape{Permittivity: c.Permittivity}
	around, electric := 0.0, 0.0
	box := geom.EmptyBox()
	for _, ring := range rings {
		var r cavity.Ring
		for _, s := range ring {
			shut := joined(s.On)
			if around += s.Length(); shut {
				electric += s.Length()
			}
			box = box.Union(s.Box())
			n := max(1, int(math.Ceil(math.Abs(s.Sweep())/(2*math.Pi)*arcSides)))
			for k := range n {
				r = append(r, cavity.Side{At: inMetres(s.At(s.Length() * float64(k) / float64(n))), Electric: shut})
			}
		}
		c.Area += area(r)
		c.Shape.Rings = append(c.Shape.Rings, r)
	}
	if around > 0 {
		c.Electric = electric / around
	}
	c.Around = quantity.InMetres(around)
	c.Fringing = c.fringing(quantity.InMetres(box.Max.X-box.Min.X), quantity.InMetres(box.Max.Y-box.Min.Y), quantity.InMetres(around-electric))
	for _, f := range fences {
		for _, path := range rows(f) {
			if len(path) > 1 && geom.BoxOf(path...).Overlaps(box) {
				c.Fenced = true
				for i, p := range path {
					path[i] = inMetres(p)
				}
				c.Shape.Fences = append(c.Shape.Fences, cavity.Fence{Path: path, Pitch: quantity.InMetres(f.Pitch.Value), Hole: quantity.InMetres(f.Hole.Value)})
			}
		}
	}
	c.Key = keyOf(c.Shape, c.Want)
}

func inMetres(p geom.Point) geom.Point {
	return geom.Point{X: quantity.InMetres(p.X), Y: quantity.InMetres(p.Y)}
}

// area is what a ring encloses, m², under 0 for one that runs clockwise.
func area(r cavity.Ring) (sum float64) {
	for i, s := range r {
		next := r[(i+1)%len(r)].At
		sum += s.At.Sub(r[0].At).Cross(next.Sub(r[0].At)) / 2
	}
	return sum
}

// parts puts each outer ring together with the holes in it.
func parts(rings [][]copper.Side) (list [][][]copper.Side) {
	var loops []*geom.Loop
	for _, ring := range rings {
		segs := make([]geom.Segment, len(ring))
		for i, s := range ring {
			segs[i] = s.Segment
		}
		loops = append(loops, geom.NewLoop(segs))
	}
	at := map[int]int{} // by the outer ring
	for i, l := range loops {
		if !l.Clockwise() {
			at[i] = len(list)
			list = append(list, [][]copper.Side{rings[i]})
		}
	}
	for i, l := range loops {
		if !l.Clockwise() {
			continue
		}
		around := -1
		for k := range at {
			if loops[k].Contains(l.At(0)) && (around < 0 || loops[k].SignedArea() < loops[around].SignedArea()) {
				around = k
			}
		}
		if around >= 0 {
			list[at[around]] = append(list[at[around]], rings[i])
		}
	}
	return list
}

// rows are a fence's vias as paths: each goes from via to via no farther than the
// fence's longest way, and at its ends on to a via of another path that is as near.
func rows(f *board.Fence) (paths [][]geom.Point) {
	reach := f.Widest() + board.Tolerance
	var path []geom.Point
	for _, v := range f.Vias {
		if n := len(path); n > 0 && path[n-1].Dist(v) > reach {
			paths, path = append(paths, path), nil
		}
		path = append(path, v)
	}
	paths = append(paths, path)
	linked := map[[2]geom.Point]bool{} // so that two ends go to each other once
	for i, path := range paths {
		first, last := path[0], path[len(path)-1]
		if len(path) > 2 && first.Dist(last) <= reach {
			paths[i] = append(path, first)
			continue
		}
		if v, ok := nearest(f.Vias, path, last, reach); ok && !linked[[2]geom.Point{v, last}] {
			linked[[2]geom.Point{last, v}] = true
			path = append(path, v)
		}
		if v, ok := nearest(f.Vias, path, first, reach); ok && len(path) > 1 && !linked[[2]geom.Point{v, first}] {
			linked[[2]geom.Point{first, v}] = true
			path = append([]geom.Point{v}, path...)
		}
		paths[i] = straightened(path)
	}
	return paths
}

// nearest is the via next to a path's end that is none of the path's own.
func nearest(vias, path []geom.Point, end geom.Point, reach float64) (best geom.Point, ok bool) {
	for _, v := range vias {
		if d := v.Dist(end); d <= reach && (!ok || d < best.Dist(end)) && !slices.Contains(path, v) {
			best, ok = v, true
		}
	}
	return best, ok
}

// straightened leaves out the points of a path that lie on the line between their
// neighbours, within a micrometre.
func straightened(path []geom.Point) []geom.Point {
	if len(path) < 2 {
		return path
	}
	out := path[:1:1]
	for i := 1; i < len(path)-1; i++ {
		a, b := out[len(out)-1], path[i+1]
		if _, _, d := geom.Line(a, b).Nearest(path[i]); d > 1e3 {
			out = append(out, path[i])
		}
	}
	return append(out, path[len(path)-1])
}

// keyOf is the key of a shape and what is asked of it.
func keyOf(s cavity.Shape, w cavity.Want) Key {
	h := sha256.New()
	put := func(values ...float64) {
		for _, v := range values {
			var b [8]byte
			binary.LittleEndian.PutUint64(b[:], math.Float64bits(v))
			h.Write(b[:])
		}
	}
	put(s.Permittivity, float64(w.Modes), w.Below, w.Accuracy, float64(len(s.Rings)), float64(len(s.Fences)))
	for _, r := range s.Rings {
		put(float64(len(r)))
		for _, x := range r {
			shut := 0.0
			if x.Electric {
				shut = 1
			}
			put(x.At.X, x.At.Y, shut)
		}
	}
	for _, f := range s.Fences {
		put(f.Pitch, f.Hole, float64(len(f.Path)))
		for _, p := range f.Path {
			put(p.X, p.Y)
		}
	}
	return Key(h.Sum(nil))
}
