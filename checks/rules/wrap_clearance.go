package rules

import (
	"math"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var wrapClearance = &checks.Rule{
	Name: "wrap_clearance", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "Copper of another net on an outer layer comes nearer than `wrap_clearance` to the wrap on that face: another wrap, a feature, a plane, a land, a via or a plated hole.",
	Why:    "The wrap is plated up together with the wall and grows sideways; what lies too near is shorted to it, and a housing clamped on the wrap shorts it again. Copper with no net counts as another net. Distances are to the wrap's true region, corners and arcs included.",
	Limits: []string{"wrap_clearance"},
	Source: "10 mil, the trade's usual first figure for a plated edge; line spacing plus plating growth, common practice",
	Bad:    platedWith("feature c7 on top rectangle 1 mm by 1 mm at (1.5 mm, 20 mm) net V5"),
	Good:   platedWith("feature c7 on top rectangle 1 mm by 1 mm at (1.6 mm, 20 mm) net V5"),
	Run: func(p *checks.Pass) {
		runPairs("wrap_clearance", nil)(p)
		need := p.Limits.Minimum("wrap_clearance")
		for _, plane := range p.Board.Planes() {
			planeBy(p, plane, copper.Wrap, need, func(x *copper.Piece) float64 { return x.Item.(*board.Plating).Wrap[faceOf(p, plane)].Value })
		}
	},
}

// faceOf is the face of a plane on an outer layer.
func faceOf(p *checks.Pass, plane *board.Plane) board.Face {
	f, _ := p.Board.FaceOf(plane.Layer.Text)
	return f
}

// planeBy holds a plane, which follows the profile at its pullback, to the
// pieces of a kind on its layer: of other nets, and as wide as width says.
func planeBy(p *checks.Pass, plane *board.Plane, k copper.Kind, need checks.Limit, width func(*copper.Piece) float64) {
	m, least := survey(p), leastOfNets(need)
	within := lookWithin(p, least)
	for _, near := range nearPlane(m, plane, k, within, func(x *copper.Piece) bool {
		return otherNet(plane.Net, x.Item.(*board.Plating)) && below(plane.Pullback.Value-width(x), within)
	}) {
		if !near.lacks(p, plane, need, least) {
			continue
		}
		r := near.report(p, plane, need)
		if up := upTo(quantity.Nanometres(width(near.piece)+need.Value), plane.Pullback.Unit); runsFit(p, plane, up.Value-plane.Pullback.Value, need.Value) {
			r.Fix = set(p, "pull the plane back", plane.Pullback.At, up, plane.Pullback.Unit)
		}
	}
}

// lookWithin is how near what a limit holds apart must come to be looked at.
func lookWithin(p *checks.Pass, least float64) float64 {
	if p.Weighs() {
		return least + checks.MarginBeyond
	}
	return least
}

// nearPlane lists, of each item, the piece of a kind on a plane's layer that the
// plane comes nearest to, of those that want wants and within a distance.
func nearPlane(m *copper.Map, plane *board.Plane, k copper.Kind, within float64, want func(*copper.Piece) bool) []nearBorder {
	var list []nearBorder
	at := map[*board.Item]int{}
	m.Each(func(x *copper.Piece) {
		if x.Kind != k || x.Layers&m.Layer(plane.Layer.Text) == 0 || !want(x) {
			return
		}
		d, point := m.BorderOf(plane).Distance(x, within)
		if !below(d, within) {
			return
		}
		i, had := at[x.Of()]
		if !had {
			i = len(list)
			at[x.Of()], list = i, append(list, nearBorder{d: math.Inf(1)})
		}
		if d < list[i].d {
			list[i] = nearBorder{d, board.Coordinates(point), x}
		}
	})
	return list
}

// what is measured, and what the piece is called.
func (near nearBorder) what(p *checks.Pass, plane *board.Plane) (what, b string) {
	m := survey(p)
	b = named(m, near.piece, m.Layer(plane.Layer.Text))
	return "distance from the plane on " + plane.Layer.Text + ofNet(plane.Net) + " to " + b + " at " + near.at, b
}

// lacks tells whether the plane is nearer than least, which is what need asks for at least.
func (near nearBorder) lacks(p *checks.Pass, plane *board.Plane, need checks.Limit, least float64) bool {
	return held(p, below(near.d, least), func() checks.Margin {
		what, _ := near.what(p, plane)
		return checks.Margin{At: plane.Pullback.At, What: what, Value: length(near.d, plane.Pullback), Limit: need, Against: need.Quantity}
	})
}

// report says that a plane comes too near to a piece.
func (near nearBorder) report(p *checks.Pass, plane *board.Plane, need checks.Limit) *finding.Finding {
	m := survey(p)
	what, b := near.what(p, plane)
	r := p.Report(plane.Pullback.At, []string{plane.Name.Text, near.piece.Name()}, "%s", tooSmall(what, length(near.d, plane.Pullback), need))
	related(r, placeOf(m, near.piece), "%s", b)
	relatedLimit(r, need)
	return r
}

// runsFit tells whether a plane, and those of its statement on other layers, may
// keep so much farther from the edge: where one runs to the walls of its net it
// then runs as much farther, and may come too near to other walls.
func runsFit(p *checks.Pass, plane *board.Plane, more, need float64) bool {
	m := survey(p)
	for _, x := range p.Board.Planes() {
		if x.Pullback.At == plane.Pullback.At && !runFits(m, x, more, need) {
			return false
		}
	}
	return true
}

func runFits(m *copper.Map, plane *board.Plane, more, need float64) bool {
	on := m.Layer(plane.Layer.Text)
	its := m.Pieces(func(x *copper.Piece) bool { return x.Kind == copper.Run && x.Plane() == plane })
	if len(its) > 0 && m.Pieces(func(x *copper.Piece) bool {
		return x.Kind == copper.Plane && x.Layers == on && x.Item != copper.Item(plane)
	}) != nil {
		return false // it may come near the other plane
	}
	others := m.Pieces(func(x *copper.Piece) bool {
		return (x.Kind == copper.Wrap || x.Kind == copper.Wall || x.Kind == copper.Strip) && x.Layers&on != 0 && x.Net().Text != plane.Net.Text
	})
	if len(its)*len(others) > fixEffort {
		return false
	}
	for _, a := range its {
		for _, b := range others {
			if below(copper.Apart(a, b), need+more) {
				return false
			}
		}
	}
	return true
}

// nearBorder is a piece that a plane's border comes near.
type nearBorder struct {
	d     float64
	at    string
	piece *copper.Piece
}

// ofNet says a net in brackets.
func ofNet(n board.Name) string {
	if !n.Given() {
		return " (no net)"
	}
	return " (net " + n.Text + ")"
}
