package ways

import (
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// kept tells whether a changed board holds to what no way may change, whatever is written
// otherwise for it: what the board is for, how parts are made, what the shop can build, what is drilled and
// soldered; and whether nothing that moved lies off it. What has another name is not held.
func kept(was, now *board.Board) bool {
	return keepsNets(was, now) && keepsInfo(was.Info(), now.Info()) && keepsLimits(was.Fabricator(), now.Fabricator()) &&
		each(was.Connectors(), now.Connectors(), nameOf, sameConnector) &&
		each(was.Parts(), now.Parts(), nameOf, func(x, y *board.Part) bool { return x.Mass.Value == y.Mass.Value && x.Centre == y.Centre }) &&
		each(was.Castellations(), now.Castellations(), nameOf, func(x, y *board.Castellation) bool { return len(x.Centres) == len(y.Centres) }) &&
		each(was.Holes(), now.Holes(), nameOf, func(x, y *board.Hole) bool {
			return x.Diameter.Value == y.Diameter.Value && x.Land.Value == y.Land.Value && x.Plated == y.Plated && stays(now, x.Centre, y.Centre)
		}) &&
		each(was.Features(), now.Features(), nameOf, func(x, y *board.Feature) bool {
			return x.Shape == nil || y.Shape == nil || sameSize(x.Shape, y.Shape) && stays(now, x.Shape.Centroid(), y.Shape.Centroid())
		}) &&
		each(was.Profiles(), now.Profiles(), func(p *board.Profile) string { return p.Name }, noNarrower) &&
		bridged(now) >= bridged(was) && perforated(now)
}

// each tells whether all things of one list are as one of the same name in another, if there is one.
func each[T any](was, now []T, name func(T) string, same func(x, y T) bool) bool {
	by := make(map[string]T, len(now))
	for _, y := range now {
		by[name(y)] = y
	}
	return !slices.ContainsFunc(was, func(x T) bool {
		y, ok := by[name(x)]
		return ok && !same(x, y)
	})
}

func nameOf[T interface{ Base() *board.Item }](x T) string { return x.Base().Name.Text }

func keepsNets(was, now *board.Board) bool {
	nets := now.Nets()
	return !slices.ContainsFunc(was.Nets(), func(n string) bool { return !slices.Contains(nets, n) })
}

// keepsInfo holds a board to what it is for; one that says nothing of itself is for nothing.
func keepsInfo(was, now *board.Info) bool {
	purpose := func(i *board.Info) (p [7]float64) {
		if i != nil {
			p = [...]float64{i.Frequency.Value, i.FrequencyLow.Value, i.Shielding.Value, i.Class.Value, i.Current.Value, i.Voltage.Value, i.Rise.Value}
		}
		return p
	}
	return purpose(was) == purpose(now)
}

func keepsLimits(was, now *board.Fabricator) bool {
	if was == nil || now == nil {
		return true
	}
	return each(was.Limits, now.Limits, func(l board.Limit) string { return l.Parameter.Text }, func(x, y board.Limit) bool {
		return x.Minimum.Value == y.Minimum.Value && x.Maximum.Value == y.Maximum.Value
	})
}

// sameConnector tells whether two are made alike, wherever they stand.
func sameConnector(x, y *board.Connector) bool {
	made := func(c *board.Connector) [5]float64 {
		return [...]float64{c.Body.Value, c.BodyReach.Value, c.Overhang.Value, c.Clearance.Value, c.Mass.Value}
	}
	legs := func(c *board.Connector) (l [3]float64) {
		if c.Legs != nil {
			l = [...]float64{c.Legs.Width.Value, c.Legs.Length.Value, c.Legs.Spacing.Value}
		}
		return l
	}
	return made(x) == made(y) && legs(x) == legs(y) && slices.EqualFunc(x.Pins, y.Pins, func(p, q board.Pin) bool {
		return p.Width.Value == q.Width.Value && p.Length.Value == q.Length.Value
	})
}

// slack is what sizes may be off by for the same size, relative.
const slack = 1e-9

func sameSize(x, y *geom.Loop) bool {
	a, b := math.Abs(x.SignedArea()), math.Abs(y.SignedArea())
	return math.Abs(a-b) <= slack*a
}

// stays tells whether what moved from one place to another is still on the board.
func stays(b *board.Board, from, to geom.Point) bool { return from == to || b.OnBoard(to) }

// noNarrower tells whether an opening is as wide and as high as it was; the outline is held by its statement.
func noNarrower(x, y *board.Profile) bool {
	if !x.Cutout {
		return true
	}
	was, now := x.Path.Box().Max.Sub(x.Path.Box().Min), y.Path.Box().Max.Sub(y.Path.Box().Min)
	return now.X >= was.X-board.Tolerance && now.Y >= was.Y-board.Tolerance
}

func bridged(b *board.Board) (n int) {
	for _, g := range b.Gaps() {
		if g.Bridged {
			n++
		}
	}
	return n
}

// perforated tells whether the holes of each tab's row leave board between them.
func perforated(b *board.Board) bool {
	return !slices.ContainsFunc(b.Tabs(), func(t *board.Tab) bool {
		return t.Perforated && t.Pitch.Given() && t.Hole.Value >= t.Pitch.Value
	})
}
