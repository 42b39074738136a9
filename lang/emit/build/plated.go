package build

import (
	"math"

	"hemline/lang/board"
	"hemline/lang/rout"
)

// Plating is a plated edge. Lengths along it are those of the finished wall:
// roots of premetallised tabs, bare once the tabs are cut, do not count.
type Plating struct {
	Name      string    `json:"name"`
	Net       string    `json:"net,omitempty"`
	Copper    *float64  `json:"copperMm,omitempty"`      // on average, as the text states
	Least     *float64  `json:"copperLeastMm,omitempty"` // at its thinnest spot
	WrapTop   *float64  `json:"wrapTopMm,omitempty"`
	WrapBelow *float64  `json:"wrapBottomMm,omitempty"`
	Extend    *float64  `json:"artworkPastProfileMm,omitempty"`
	Joins     []string  `json:"joinsLayers"`
	Plated    float64   `json:"platedMm"`
	Edges     []Edge    `json:"byEdge"`
	Stretches []Stretch `json:"stretches"`
}

// Edge is how much of an edge, or of the rounded corner between two, is plated.
type Edge struct {
	Edge   string   `json:"edge,omitempty"`
	Corner []string `json:"cornerBetween,omitempty"`
	Plated float64  `json:"platedMm"`
}

// Stretch is a run of a profile, counterclockwise from one point to the other.
type Stretch struct {
	Name     string  `json:"name,omitempty"`
	Profile  string  `json:"profile"` // outline, or the cutout's name
	From     Point   `json:"from"`
	To       Point   `json:"to"`
	Length   float64 `json:"lengthMm"`
	AllRound bool    `json:"allRound"`
}

func platings(b *board.Board) []Plating {
	names := b.StretchNames()
	list := []Plating{}
	for _, p := range b.Platings() {
		x := Plating{Name: p.Name.Text, Net: p.Net.Text, Copper: length(p.Copper), Least: length(p.Least), WrapTop: length(p.Wrap[board.Top]), WrapBelow: length(p.Wrap[board.Bottom]),
			Extend: length(p.Extend), Joins: append([]string{}, b.Joined(p)...), Plated: mm(b.PlatedLength(p)), Edges: []Edge{}, Stretches: []Stretch{}}
		for s := range b.FinishedBy(p) {
			y := stretch(s)
			y.Name = names[s]
			x.Stretches = append(x.Stretches, y)
			for _, e := range edgesOf(s) {
				x.Edges = added(x.Edges, e)
			}
		}
		for i := range x.Edges {
			x.Edges[i].Plated = mm(x.Edges[i].Plated)
		}
		list = append(list, x)
	}
	return list
}

func stretch(s board.Stretch) Stretch {
	path := s.Profile.Path
	at := func(along float64) Point { return point(path.At(math.Mod(along, path.Perimeter()))) }
	return Stretch{Profile: s.Profile.Name, From: at(s.From), To: at(s.To), Length: mm(s.Length()), AllRound: s.Round()}
}

// Rout is how a profile is cut: what before plating, what after it, and by
// which bit; tabs' roots are left standing.
type Rout struct {
	Profile string    `json:"profile"`
	Bit     *float64  `json:"bitMm,omitempty"`
	First   []Stretch `json:"beforePlating"`
	Final   []Stretch `json:"afterPlating"`
}

func routs(b *board.Board, bits *rout.Bits) []Rout {
	list := []Rout{}
	if bits == nil {
		return list
	}
	for _, p := range b.Profiles() {
		list = append(list, Rout{Profile: p.Name, Bit: new(mm(bits.Bit(p))), First: stretches(bits.Plated(p)), Final: stretches(bits.Bare(p))})
	}
	return list
}

func stretches(list []board.Stretch) []Stretch {
	out := []Stretch{}
	for _, s := range list {
		out = append(out, stretch(s))
	}
	return out
}
