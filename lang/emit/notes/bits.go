package notes

import (
	"fmt"
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

// bits says which bits the routs are worked out with and which way round they run.
func (m *maker) bits() {
	if m.routs == nil {
		return
	}
	type sized struct {
		bit   string
		names []string
		from  []source.Place
	}
	var kinds []*sized
	var all []source.Place
	for _, p := range m.b.Profiles() {
		bit := m.bitsOf(p)
		i := slices.IndexFunc(kinds, func(k *sized) bool { return k.bit == bit })
		if i < 0 {
			i = len(kinds)
			kinds = append(kinds, &sized{bit: bit})
		}
		kinds[i].names = append(kinds[i].names, p.Name)
		kinds[i].from, all = append(kinds[i].from, p.At), append(all, p.At)
	}
	if len(all) == 0 {
		return
	}
	var list []entry
	for _, k := range kinds {
		says := k.bit
		if len(kinds) > 1 {
			says += " on " + listed(k.names)
		}
		list = append(list, entry{says, k.from})
	}
	m.series(Sequence, "Bits:", list)
	m.say(Sequence, all, "Board to the left of travel (conventional, spindle clockwise from above); the shop may turn it.")
}

// short says where the passes of both routs end.
func (m *maker) short() {
	if m.routs != nil && m.routs.StaysShort() {
		m.say(Sequence, m.platings(), "Where plated meets bare the middles of the two routs' bits stay D·sin 15° apart (D: the bit), to cross the copper at 30° (our own judgement); a crest of at most 1.7 %% of D stands, 4 %% in a hollow.")
	}
}

// bitsOf are the diameters of the bits that cut a profile, largest first.
func (m *maker) bitsOf(p *board.Profile) string {
	list := []float64{m.routs.Bit(p)}
	for _, s := range slices.Concat(m.routs.Plated(p), m.routs.Bare(p)) {
		cuts, _ := m.routs.Cuts(s)
		for _, c := range cuts {
			if !slices.Contains(list, c.Bit) {
				list = append(list, c.Bit)
			}
		}
	}
	slices.SortFunc(list, func(a, b float64) int { return int(math.Copysign(1, b-a)) })
	var words []string
	for _, d := range list {
		words = append(words, "⌀"+wording.Millimetres(d))
	}
	if m.routs.Finished(p) {
		return listed(words) + " mm (finished width)"
	}
	return listed(words) + " mm"
}

// flanks says at which flank of a half hole the final rout leaves a burr, holes of one
// flank together. The board lies to the left of travel and the spindle turns clockwise
// from above, so that the teeth at the board run forward with the travel: at the flank
// that comes first a tooth leaves the copper into the open hole, at the other it
// presses the copper against the board. From geometry; no source.
func (m *maker) flanks(rows []*board.Castellation) {
	if m.routs == nil {
		return
	}
	var list []entry
	for _, way := range winds {
		var names []string
		var from []source.Place
		for _, c := range rows {
			var holes []string
			for i, at := range c.Centres {
				if firstFlank(c, at) == way {
					holes = append(holes, fmt.Sprint(c.Name.Text, ".", i+1))
				}
			}
			if len(holes) == len(c.Centres) {
				holes = []string{c.Name.Text}
			}
			if len(holes) > 0 {
				names, from = append(names, holes...), append(from, c.Keyword)
			}
		}
		if len(names) > 0 {
			list = append(list, entry{way + " of " + listed(names), from})
		}
	}
	m.series(HalfHoles, "That rout's burr comes into the hole at the flank it meets first:", list)
}

// winds are eight directions, counterclockwise from x.
var winds = []string{"east", "northeast", "north", "northwest", "west", "southwest", "south", "southeast"}

// firstFlank is on which side of a half hole at a position of its row the flank lies
// that a bit comes to first which has the board to its left.
func firstFlank(c *board.Castellation, at float64) string {
	back := c.Edge.Inward(at).Left() // travel is to the right of inward
	eighth := int(math.Round(math.Atan2(back.Y, back.X)/(math.Pi/4))) + 8
	return winds[eighth%8]
}
