package figures

import (
	"math"

	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

// Supports is what each tab on a board's outline bears of its weight. The board is
// taken as stiff and the tabs as equal springs that also hold back its turning; see
// physics.OnSprings.
type Supports struct {
	List []Support
	// Unknown says why it cannot be told; "" where it can.
	Unknown string
}

// Support is what one tab bears.
type Support struct {
	Tab *board.Tab
	// Grams is the share of the mass that it carries, under 0 where it is pulled up:
	// it keeps the board from tipping.
	Grams float64
	// Bend is the moment at its root beside that of its share, N·mm: what it holds
	// of a board that hangs out from its tabs. Twist is what it holds by twisting.
	Bend, Twist float64
}

const (
	// stiffest and softest are how much more and less, times, a tab may hold back
	// turning than the formula says: holes and slots weaken it, a wide root does not.
	// Our own judgement, no source.
	stiffest, softest = 4.0, 0.25
	// toldTo is by how much of the weight a share may differ between the two for it
	// to be told. Our own judgement, no source.
	toldTo = 0.1
)

// NearlyOneLine is why what tabs carry may not be told.
const NearlyOneLine = "the tabs' middles lie too nearly on one line, beside which the board's centre of mass lies, for what each carries to be told"

// Carried is what each tab on the outline carries of the board and of the parts
// whose mass is stated.
func Carried(b *board.Board) Supports {
	tabs := OutlineTabs(b)
	if len(tabs) == 0 {
		return Supports{Unknown: "no tab stands on the outline"}
	}
	mass, ok := MassOf(b)
	if !ok {
		return Supports{Unknown: "the board's outline or its thickness is not stated"}
	}
	bears := func(stiff float64) []physics.Reaction {
		at := make([]physics.Spring, len(tabs))
		for i, t := range tabs {
			p, l := t.Edge.Point(t.Position), quantity.InMetres(Reach(t))
			at[i] = physics.Spring{X: quantity.InMetres(p.X), Y: quantity.InMetres(p.Y), Turn: stiff * l * l / 3}
		}
		list, _ := physics.OnSprings(at, mass.Whole(), quantity.InMetres(mass.Centre.X), quantity.InMetres(mass.Centre.Y))
		return list
	}
	usual, soft, stiff := bears(1), bears(softest), bears(stiffest)
	if usual == nil || soft == nil || stiff == nil {
		return Supports{Unknown: "the board has no weight that is known"}
	}
	s := Supports{}
	for i, t := range tabs {
		if math.Abs(soft[i].Force-stiff[i].Force) > toldTo*mass.Whole() {
			return Supports{Unknown: NearlyOneLine}
		}
		// Grams by metres are weighed as N·mm.
		out := t.Edge.Inward(t.Position).Scale(-1)
		m := geom.Point{X: usual[i].X, Y: usual[i].Y}.Scale(physics.Gravity)
		s.List = append(s.List, Support{t, usual[i].Force, math.Abs(m.Dot(out)), math.Abs(m.Cross(out))})
	}
	return s
}

// Of is what a tab carries; ok is false where it is not told.
func (s Supports) Of(t *board.Tab) (Support, bool) {
	for _, x := range s.List {
		if x.Tab == t {
			return x, true
		}
	}
	return Support{}, false
}

// Load is the moment that a tab bears at its root, N·mm: its share at its length,
// and what it holds beside.
func (s Support) Load() float64 {
	return math.Abs(s.Grams)/1000*physics.Gravity*quantity.InMillimetres(Reach(s.Tab)) + s.Bend
}

// Reach is how long a tab is, nm: what it states, else TabReach.
func Reach(t *board.Tab) float64 {
	if t.Length.Given() {
		return t.Length.Value
	}
	return TabReach
}
