package ways

import (
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// held is what no way may change, whatever is written otherwise for it: what the board is for, how
// parts are made, what the shop can build, what is drilled and soldered.
type held struct {
	nets     []string
	info     board.Info
	limits   map[string][2]float64
	parts    map[string]part
	holes    map[string]hole
	features map[string]*geom.Loop
	rows     map[string]int        // half holes, by castellation
	cutouts  map[string]geom.Point // how wide and high, nm: an opening may be wider, never narrower
	bridged  int
}

type part struct{ body, reach, overhang, clearance, mass, pins, legs float64 }

type hole struct {
	diameter, land float64
	plated         bool
	at             geom.Point
}

func heldOf(b *board.Board) held {
	h := held{nets: b.Nets(), limits: map[string][2]float64{}, parts: map[string]part{}, holes: map[string]hole{}, features: map[string]*geom.Loop{}, rows: map[string]int{}, cutouts: map[string]geom.Point{}}
	if i := b.Info(); i != nil {
		h.info = *i
	}
	if shop := b.Fabricator(); shop != nil {
		for _, l := range shop.Limits {
			h.limits[l.Parameter.Text] = [2]float64{l.Minimum.Value, l.Maximum.Value}
		}
	}
	for _, c := range b.Connectors() {
		p := part{body: c.Body.Value, reach: c.BodyReach.Value, overhang: c.Overhang.Value, clearance: c.Clearance.Value, mass: c.Mass.Value}
		for _, pin := range c.Pins {
			p.pins += pin.Width.Value + math.Pi*pin.Length.Value
		}
		if c.Legs != nil {
			p.legs = c.Legs.Width.Value + math.Pi*c.Legs.Length.Value + math.E*c.Legs.Spacing.Value
		}
		h.parts[c.Name.Text] = p
	}
	for _, p := range b.Parts() {
		h.parts["part "+p.Name.Text] = part{mass: p.Mass.Value, body: p.Centre.X, reach: p.Centre.Y}
	}
	for _, x := range b.Holes() {
		h.holes[x.Name.Text] = hole{x.Diameter.Value, x.Land.Value, x.Plated, x.Centre}
	}
	for _, x := range b.Features() {
		h.features[x.Name.Text] = x.Shape
	}
	for _, c := range b.Castellations() {
		h.rows[c.Name.Text] = len(c.Centres)
	}
	for _, c := range b.Profiles() {
		if c.Cutout {
			h.cutouts[c.Name] = c.Path.Box().Max.Sub(c.Path.Box().Min)
		}
	}
	for _, g := range b.Gaps() {
		if g.Bridged {
			h.bridged++
		}
	}
	return h
}

// keeps tells whether a changed board holds to all of it, and nothing that moved lies off it.
func (h *held) keeps(b *board.Board) bool {
	now := heldOf(b)
	for _, n := range h.nets {
		if !slices.Contains(now.nets, n) {
			return false
		}
	}
	return now.bridged >= h.bridged && h.keepsInfo(&now.info) && h.keepsSizes(&now) && h.keepsPlaces(b, &now) && perforated(b)
}

func (h *held) keepsInfo(now *board.Info) bool {
	a, b := &h.info, now
	return a.Frequency.Value == b.Frequency.Value && a.FrequencyLow.Value == b.FrequencyLow.Value && a.Shielding.Value == b.Shielding.Value &&
		a.Class.Value == b.Class.Value && a.Current.Value == b.Current.Value && a.Voltage.Value == b.Voltage.Value && a.Rise.Value == b.Rise.Value
}

// slack is what sizes may be off by for the same size, relative.
const slack = 1e-9

func (h *held) keepsSizes(now *held) bool {
	for name, l := range h.limits {
		if m, ok := now.limits[name]; ok && m != l {
			return false
		}
	}
	for name, p := range h.parts {
		if q, ok := now.parts[name]; ok && q != p {
			return false
		}
	}
	for name, n := range h.rows {
		if m, ok := now.rows[name]; ok && m != n {
			return false
		}
	}
	for name, size := range h.cutouts {
		if now, ok := now.cutouts[name]; ok && (now.X < size.X-board.Tolerance || now.Y < size.Y-board.Tolerance) {
			return false
		}
	}
	return true
}

// keepsPlaces holds holes and features to their sizes; those that moved stay on the board.
func (h *held) keepsPlaces(b *board.Board, now *held) bool {
	for name, x := range h.holes {
		y, ok := now.holes[name]
		if !ok {
			continue // renamed
		}
		if x.diameter != y.diameter || x.land != y.land || x.plated != y.plated || x.at != y.at && !b.OnBoard(y.at) {
			return false
		}
	}
	for name, x := range h.features {
		y := now.features[name]
		if y == nil || x == nil {
			continue
		}
		if math.Abs(math.Abs(x.SignedArea())-math.Abs(y.SignedArea())) > slack*math.Abs(x.SignedArea()) ||
			x.Centroid() != y.Centroid() && !b.OnBoard(y.Centroid()) {
			return false
		}
	}
	return true
}

// perforated tells whether the holes of each tab's row leave board between them.
func perforated(b *board.Board) bool {
	return !slices.ContainsFunc(b.Tabs(), func(t *board.Tab) bool {
		return t.Perforated && t.Pitch.Given() && t.Hole.Value >= t.Pitch.Value
	})
}
